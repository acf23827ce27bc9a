/** What to show when the server refused: its sentence, what to do, and the job's mistakes. */

import { el } from "./dom.js";
import { toldLines } from "./findings.js";
import { sentence } from "./mistakes.js";
import { refusal, refusalText } from "./server.js";

/** Return a block for a refusal. */
export function faultBlock(fault) {
  const mistakes = refusal(fault).body.mistakes ?? [];
  return el(
    "div",
    { class: "must", role: "alert" },
    el("p", {}, refusalText(fault)),
    toldLines("", mistakes),
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
