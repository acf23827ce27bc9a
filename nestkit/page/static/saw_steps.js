/** The saw plan step by step: one setting at a time, large, with its cuts shown in the picture of the sheet. */

import { button, el, fill } from "./dom.js";
import { picture } from "./svg.js";

/** Return the settings of a sheet: those of the printed saw plan, each with its cuts, or the cuts one by one. */
export function settingsOf(sheet) {
  const cuts = sheet.cuts ?? [];
  if (!sheet.saw?.length) return cuts.map((cut) => ({ say: cut.say, pictures: [], cuts: [cut] }));
  return sheet.saw.map((row) => ({
    say: row.say,
    pictures: [
      [row.map, "The piece on its sheet"],
      [row.saw, "The piece at the saw"],
    ].filter(([svg]) => svg),
    cuts: cuts.filter(({ step }) => row.numbers.includes(step)),
  }));
}

/** Return `head` (above the sheet's picture) and `foot` (below it); `show(cuts)` draws cuts in the picture. `from`: the step to begin with, `onStep(step)` is told of each. */
export function sawSteps(sheet, show, { from = 0, onStep = () => {} } = {}) {
  const settings = settingsOf(sheet);
  if (!settings.length) return null;
  let step = 0;
  const said = el("p", { class: "large", "aria-live": "polite", data: { test: "cut-say" } });
  const count = el("span", { class: "help" });
  const drawn = el("div", { class: "at-saw" });
  const back = button("Setting before", () => go(step - 1), { test: "cut-back" });
  const next = button("Next setting", () => go(step + 1), { test: "cut-next" });
  const items = settings.map((one, i) =>
    el(
      "li",
      {},
      button(one.say, () => go(i + 1), { small: true }),
    ),
  );
  const all = el(
    "details",
    { class: "on-paper" },
    el("summary", {}, `All ${settings.length} settings in their order`),
    el("ol", { class: "plain cuts" }, items),
  );
  const head = el(
    "section",
    { class: "saw-steps", "aria-labelledby": "saw-title" },
    el("h3", { id: "saw-title" }, "Sawing, setting by setting"),
    said,
    el("p", { class: "doing" }, back, next, count),
    drawn,
  );
  function go(wanted) {
    step = Math.max(0, Math.min(wanted, settings.length));
    const one = step ? settings[step - 1] : null;
    said.textContent = one ? one.say : `${settings.length} settings of the saw. Begin with the first.`;
    count.textContent = one ? `Setting ${step} of ${settings.length}; in the picture of the sheet the piece is hatched, the cut framed` : "";
    next.textContent = step ? "Next setting" : "First setting";
    // aria-disabled keeps the focus where it is at either end.
    back.setAttribute("aria-disabled", String(step === 0));
    next.setAttribute("aria-disabled", String(step === settings.length));
    items.forEach((item, i) => item.toggleAttribute("data-now", i === step - 1));
    fill(
      drawn,
      (one?.pictures ?? []).map(([svg, words]) => el("figure", {}, el("figcaption", {}, words), picture(svg, words))),
    );
    show(one ? one.cuts : []);
    onStep(step);
  }
  go(Math.min(from, settings.length));
  return { head, foot: all };
}
