/** How a group of holes is made, as one typed line: `10-32 normal`, `tap 10-32`, `drill #7`, `dia 3/8`. */

import { shown, typed } from "./values.js";

/** Keys of the file that say how holes are made; a group has one of them, screw with or without fit. */
export const BORES = ["screw", "tap", "drill", "dia"];
const FITS = ["close", "normal", "loose", "fine", "medium", "coarse"];

/** Return the line of a group. */
export function boreShown(group) {
  const words = [];
  for (const key of BORES) {
    if (!(key in group)) continue;
    words.push(key === "screw" ? shown(group.screw) : `${key} ${shown(group[key])}`.trim());
  }
  if ("fit" in group) words.push(shown(group.fit));
  return words.join(" ");
}

/** Return the keys that a line means; `drills` are names known as drills and not as screws. */
export function boreTyped(line, { drills = [], screws = [] } = {}) {
  const bare = line.trim().replace(/\s+/g, " ");
  const led = /^(tap|drill|dia|screw)\b ?(.*)$/i.exec(bare);
  const key = led ? led[1].toLowerCase() : null;
  if (key && key !== "screw") return { [key]: key === "dia" ? typed(led[2]) : led[2] };
  const rest = led ? led[2] : bare;
  const word = rest.split(" ").at(-1).toLowerCase();
  const fit = rest.includes(" ") && FITS.includes(word) ? word : null;
  const name = fit ? rest.slice(0, -fit.length).trim() : rest;
  if (!led && !fit && drills.includes(name) && !screws.includes(name)) return { drill: name };
  return fit ? { screw: name, fit } : { screw: name };
}

/** Return the group with the line's keys in place of those that it had. */
export function withBore(group, line, known) {
  const rest = Object.fromEntries(Object.entries(group).filter(([key]) => ![...BORES, "fit"].includes(key)));
  if (line.trim() === "") return rest;
  const { name, _was, ...others } = rest;
  const first = name === undefined ? {} : { name };
  const was = _was === undefined ? {} : { _was };
  return { ...was, ...first, ...boreTyped(line, known), ...others };
}
