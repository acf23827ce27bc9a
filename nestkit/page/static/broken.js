/** The page where the job file cannot be read: what is wrong, and where. */

import { button, el, fill } from "./dom.js";
import { sentence } from "./mistakes.js";

/** Fill the page with a job file that cannot be read: what is wrong with it, and its lines. */
export function showBroken(main, { mistakes, text }) {
  const wrong = new Set(mistakes.map(({ line }) => line));
  const numbers = text
    .split("\n")
    .map((line, i) => [el(wrong.has(i + 1) ? "mark" : "span", {}, `${String(i + 1).padStart(4)}  ${line}`), "\n"]);
  fill(
    main,
    el("h1", { tabindex: "-1" }, "The job file cannot be read yet"),
    el(
      "ul",
      { class: "plain must" },
      mistakes.map((one) =>
        el(
          "li",
          {},
          el("strong", {}, [one.place, one.line ? `line ${one.line}` : null].filter(Boolean).join(", "), ": "),
          sentence(one),
        ),
      ),
    ),
    el("p", {}, "Put it right in a text editor, save it there, and read it again."),
    el(
      "p",
      { class: "doing" },
      button("Read it again", () => location.reload(), { test: "read-again" }),
    ),
    el("pre", { tabindex: "0", "aria-label": "The job file with line numbers" }, numbers),
  );
}
