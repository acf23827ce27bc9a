/** Everything wrong and worth knowing in the whole job, below the lists. */

import { button, counted, el, fill } from "./dom.js";
import { allFindings, allMistakes, sentence } from "./mistakes.js";

/** Return the section; `go(path)` opens what a line is about, if it stands in one of the `lists` of this view. */
export function findingsBlock(lists = [], go = null) {
  const node = el("section", { class: "findings", "aria-labelledby": "findings-title", data: { test: "findings" } });
  node.refresh = () => {
    const mistakes = allMistakes();
    const found = allFindings();
    node.hidden = mistakes.length + found.length === 0;
    const errors = found.filter(({ level }) => level === "error");
    const advice = found.filter(({ level }) => level !== "error");
    fill(
      node,
      el("h2", { id: "findings-title" }, mistakes.length ? `To put right: ${mistakes.length}` : "Worth knowing"),
      lines("must", mistakes, lists, go),
      errors.length ? el("h3", {}, `Cannot be made like this: ${errors.length}`) : null,
      lines("must", errors, lists, go),
      advice.length
        ? el(
            "details",
            {},
            el("summary", {}, counted(advice.length, "piece of advice", "pieces of advice")),
            lines("", advice, lists, go),
          )
        : null,
    );
  };
  node.refresh();
  return node;
}

function lines(look, list, lists, go) {
  if (list.length === 0) return null;
  return el(
    "ul",
    { class: `plain ${look}` },
    list.map((one) => {
      const at =
        Array.isArray(one.path) && one.path.length >= 2 && lists.includes(one.path[0])
          ? button("Show", () => go(one.path), { small: true, "aria-label": `Show ${one.place}` })
          : null;
      return el(
        "li",
        {},
        el("strong", {}, one.place),
        one.place ? ": " : "",
        sentence(one),
        one.source ? el("span", { class: "source" }, ` Source: ${one.source}`) : null,
        " ",
        at,
      );
    }),
  );
}
