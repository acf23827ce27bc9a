/** What to show when the server refused: its sentence, what to do, and the job's mistakes. */

import { el } from "./dom.js";
import { sentence } from "./mistakes.js";
import { refusal, refusalText } from "./server.js";

/** Return a block for a refusal. */
export function faultBlock(fault) {
  const mistakes = refusal(fault).body.mistakes ?? [];
  const lines = mistakes.map((one) =>
    el("li", {}, one.place ? el("strong", {}, one.place, ": ") : null, sentence(one)),
  );
  const to = mistakes.length ? el("p", {}, el("a", { href: "#parts" }, "Put them right in “Parts to make”")) : null;
  return el(
    "div",
    { class: "must", role: "alert" },
    el("p", {}, refusalText(fault)),
    lines.length ? el("ul", {}, lines) : null,
    to,
  );
}

/** Return text, or the lines of a list, as paragraphs; objects by their `say` or `text`. */
export function said(value, look = "") {
  const lines = Array.isArray(value) ? value : [value];
  const text = (line) => (line !== null && typeof line === "object" ? (line.say ?? sentence(line)) : line);
  return lines
    .filter((line) => line !== null && line !== undefined && line !== "")
    .map((line) => el("p", { class: look }, text(line)));
}
