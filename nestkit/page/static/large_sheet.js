/** The sheet that is looked at: saw steps, picture, its parts, regions kept clear; and which it is, whatever comes. */

import { el, fill } from "./dom.js";
import { keepClearBlock } from "./keep_clear.js";
import { sawSteps } from "./saw_steps.js";
import { partWords, sheetParts } from "./sheet_parts.js";
import { sheetView } from "./sheet_view.js";

// What somebody looks at stays when a better layout comes or another view was seen.
export const looking = { sheet: null, stock: null, number: null, step: 0, part: null };
let region = null;

/** Fill the section of the sheet that is shown large; return what must follow changes of the job. */
export function largeSheet(section, sheet) {
  const pointed = el("p", { class: "pointed", data: { test: "pointed" } });
  const words = (index) => (index === null ? "" : partWords(sheet.parts[index]));
  const same = (one) =>
    looking.part !== null && ["part", "copy", "opposite_hand"].every((key) => one[key] === looking.part[key]);
  const chosen = () => {
    const index = sheet.parts.findIndex(same);
    return index < 0 ? null : index;
  };
  const show = () => {
    view.choose(chosen());
    list.choose(chosen());
    pointed.textContent = words(chosen());
  };
  const choose = (index) => {
    looking.part = sheet.parts[index];
    show();
  };
  const view = sheetView(sheet, {
    onPart: choose,
    onHover: (index) => (pointed.textContent = words(index ?? chosen())),
  });
  const list = sheetParts(sheet, choose, (index) => (pointed.textContent = words(index)));
  const steps = sawSteps(sheet, view.showCuts, { from: looking.step, onStep: (step) => (looking.step = step) });
  const clear = regionBlock(sheet, view);
  const order = (sheet.order ?? []).length
    ? el(
        "section",
        {},
        el("h3", {}, "For the shop that cuts"),
        el(
          "ol",
          {},
          sheet.order.map((line) => el("li", {}, line)),
        ),
      )
    : null;
  const focus = focusIn(section);
  fill(
    section,
    el("h2", { tabindex: "-1" }, sheet.title),
    steps?.head,
    view,
    pointed,
    list.hold,
    list,
    steps?.foot,
    order,
    clear,
  );
  focus?.();
  show();
  return {
    refresh: () => {
      clear?.refresh();
      list.choose(chosen());
    },
  };
}

// A better layout may come while somebody is at a control: return what brings the focus back to its like.
function focusIn(section) {
  const active = document.activeElement;
  if (!section.contains(active) || !active.dataset.test) return null;
  const like = () => [...section.querySelectorAll(`[data-test="${active.dataset.test}"]`)];
  const index = like().indexOf(active);
  return () => (like()[index] ?? section.querySelector("h2")).focus({ preventScroll: true });
}

// A region half typed stays when a better layout of the same sheet comes.
function regionBlock(sheet, view) {
  if (region === null || region.stock !== sheet.stock || region.number !== sheet.number) {
    region = { stock: sheet.stock, number: sheet.number, view };
    const mine = region;
    region.node = keepClearBlock(sheet, (act) => mine.view.drawRegion(act));
  }
  region.view = view;
  region.node?.refresh();
  return region.node;
}
