/** The lists that fields offer: the trade tables of the server, and names of the job itself. */

import { el, fill } from "./dom.js";
import { now } from "./draft.js";
import { get } from "./server.js";

let lists = {};

/** Ask the server for its lists once, and make those that are offered while typing. */
export async function loadWords() {
  lists = await get("words");
  const home = document.getElementById("lists");
  fill(
    home,
    ["materials", "screws", "papers"].map((name) =>
      el(
        "datalist",
        { id: `list-${name}` },
        choices(name).map((word) => el("option", { value: word })),
      ),
    ),
  );
}

/** Return the words of a list: given as they are, or by the list's name. */
export function choices(from) {
  if (Array.isArray(from)) return from;
  if (from === "named_ways") return namedWays();
  return (lists[from] ?? []).map((word) => (typeof word === "string" ? word : String(word.name ?? word)));
}

const NOT_WAYS = new Set(["margin", "tabs"]);

/** Return the names of the ways of cutting that the job has beside its usual one. */
export function namedWays() {
  return Object.entries(now(["cutting"]) ?? {})
    .filter(([key, held]) => held !== null && typeof held === "object" && !Array.isArray(held) && !NOT_WAYS.has(key))
    .map(([key]) => key);
}
