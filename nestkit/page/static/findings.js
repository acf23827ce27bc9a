/** Everything wrong and worth knowing in the whole job: in full below the lists, in short above what is made of it. */

import { button, counted, el, fill } from "./dom.js";
import { leadsTo, showPath } from "./goto.js";
import { allFindings, allMistakes, sentence } from "./mistakes.js";

const FEW = 3;

/** Return the section with everything. */
export function findingsBlock() {
  const node = el("section", {
    class: "findings",
    id: "findings",
    "aria-labelledby": "findings-title",
    data: { test: "findings" },
  });
  node.refresh = () => {
    const mistakes = allMistakes();
    const found = allFindings();
    node.hidden = mistakes.length + found.length === 0;
    const errors = found.filter(isError);
    const advice = found.filter((one) => !isError(one));
    const wasOpen = node.querySelector("details")?.open ?? false;
    fill(
      node,
      el(
        "h2",
        { id: "findings-title", tabindex: "-1" },
        mistakes.length ? `To put right: ${mistakes.length}` : "Worth knowing",
      ),
      toldLines("must", mistakes),
      errors.length ? el("h3", {}, `Cannot be made like this: ${errors.length}`) : null,
      toldLines("must", errors),
      advice.length
        ? el("details", { open: wasOpen }, el("summary", {}, adviceCount(advice)), toldLines("", advice))
        : null,
    );
  };
  node.refresh();
  return node;
}

function isError({ level }) {
  return level === "error";
}

function adviceCount(advice) {
  return counted(advice.length, "piece of advice", "pieces of advice");
}

/** Return a line with the count of advice that leads down to it; it is hidden where there is none. */
export function adviceLink(block) {
  const node = el("p", { class: "advice-link", data: { test: "advice-link" } });
  node.refresh = () => {
    const advice = allFindings().filter((one) => !isError(one));
    node.hidden = advice.length === 0;
    const act = () => {
      block.querySelector("details").open = true;
      block.scrollIntoView();
      block.querySelector("summary").focus({ preventScroll: true });
    };
    fill(node, advice.length ? button(`${adviceCount(advice)}, below`, act, { small: true }) : null);
  };
  node.refresh();
  return node;
}

/** Return what of the job cannot be made as it is, in a few words; empty where all can. */
export function cannotWords() {
  const errors = allFindings().filter(isError);
  if (!errors.length) return "";
  const things = new Set(errors.map(({ path, place }) => (path ? `${path[0]}/${path[1]}` : place)));
  const parts = errors.every(({ path }) => ["panel", "tube", "bought"].includes(path?.[0]));
  return `${counted(things.size, parts ? "part" : "thing in the job", parts ? "parts" : "things in the job")} cannot be made`;
}

/** Return a block that says it above what is drawn or cut of the job. */
export function cannotBlock() {
  const node = el("div", { class: "must", role: "status", data: { test: "cannot" } });
  node.refresh = () => {
    const errors = allFindings().filter(isError);
    node.hidden = errors.length === 0;
    const more = errors.length - FEW;
    fill(
      node,
      el("p", {}, el("strong", {}, `${cannotWords()} as it stands here.`)),
      toldLines("", errors.slice(0, FEW)),
      more > 0 ? el("p", {}, `And ${more} more, below “Parts to make”.`) : null,
    );
  };
  node.refresh();
  return node;
}

/** Return mistakes or findings as a list, each with a button that leads to its field. */
export function toldLines(look, list) {
  if (list.length === 0) return null;
  const line = (one) =>
    el(
      "li",
      {},
      one.place ? el("strong", {}, `${one.place}: `) : null,
      sentence(one),
      one.source ? el("span", { class: "source" }, ` Source: ${one.source}`) : null,
      " ",
      leadsTo(one.path)
        ? button("Show", () => showPath(one.path), { small: true, test: "show", "aria-label": `Show ${one.place}` })
        : null,
    );
  return el("ul", { class: `plain ${look}` }, list.map(line));
}
