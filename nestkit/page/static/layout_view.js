/** The layout: one sheet large, the others below it, what is said while it works. */

import { button, counted, el, fill } from "./dom.js";
import { now } from "./draft.js";
import { cannotBlock, toldLines } from "./findings.js";
import { hint } from "./hints.js";
import { largeSheet, looking } from "./large_sheet.js";
import { layOut, onRun, outdated, outrun, run, stopRun } from "./layout_run.js";
import { sentence } from "./mistakes.js";
import { otherSheets } from "./other_sheets.js";
import { picture } from "./svg.js";

const EFFORTS = [
  ["quick", "a quick look"],
  ["normal", "as usual"],
  ["thorough", "as long as it helps"],
];
const CHANGED_MEANWHILE =
  "The job was changed after this layout was begun, and it does not know of that: lay out again to take it in.";
let effort = "normal";

export function layoutView() {
  const say = el("p", { class: "say", role: "status", "aria-live": "polite", data: { test: "say" } });
  const changedSay = el("p", { class: "changed", data: { test: "outdated" } });
  const wrong = el("div", { class: "wrong", role: "alert" });
  const cannot = cannotBlock();
  const start = button("Lay out", () => layOut(effort), { test: "lay-out" });
  const stop = button("Stop and keep the best", stopRun, { test: "stop" });
  const still = el("p", { class: "help" }, "Still looking for a better one; what is shown stays if there is none.");
  const select = el(
    "select",
    { id: "effort", data: { test: "effort" }, on: { change: (event) => (effort = event.target.value) } },
    EFFORTS.map(([value, words]) => el("option", { value, selected: value === effort }, words)),
  );
  const lead = el("ul", { class: "plain lead", data: { test: "lead" } });
  const reasons = el("section", { hidden: true }, el("h2", {}, "How good this is"), lead);
  const large = el("section", { class: "sheet-large", "aria-label": "The sheet at work" });
  const others = el("section", { class: "others", "aria-label": "Other sheets" });
  const sticks = el("section", { class: "sticks", "aria-label": "Bars" });
  const left = el("div", { class: "left" });
  const node = el(
    "div",
    { class: "view view-layout" },
    el("h1", { tabindex: "-1" }, "Layout"),
    hint("layout", "Each better layout takes the place of the one before; stop whenever it will do."),
    say,
    changedSay,
    wrong,
    cannot,
    el(
      "div",
      { class: "doing" },
      start,
      stop,
      el("span", { class: "field inline" }, el("label", { for: "effort" }, "Try"), select),
    ),
    still,
    left,
    large,
    others,
    sticks,
    reasons,
  );
  let shownResult = null;
  let shownFault = null;
  let largeParts = null;

  const look = (sheet) => {
    if (sheet.id !== looking.sheet) looking.step = 0;
    Object.assign(looking, { sheet: sheet.id, stock: sheet.stock, number: sheet.number });
    drawSheets();
    large.querySelector("h2").focus();
  };
  const drawSheets = () => {
    const sheets = run.result.sheets;
    const sheet = sheetLookedAt(sheets);
    if (sheet) Object.assign(looking, { sheet: sheet.id, stock: sheet.stock, number: sheet.number });
    largeParts = sheet ? largeSheet(large, sheet) : fill(large) && null;
    otherSheets(
      others,
      run.result,
      sheets.filter((one) => one !== sheet),
      look,
    );
  };
  const drawResult = () => {
    shownResult = run.result;
    if (!shownResult) return;
    reasons.hidden = false;
    fill(
      lead,
      shownResult.groups.map(({ name, least }) => el("li", {}, el("strong", {}, name), ": ", least)),
    );
    drawSheets();
    fill(left, leftOver(shownResult.unplaced ?? []));
    const bars = shownResult.sticks ?? [];
    fill(
      sticks,
      bars.length ? el("h2", {}, "Bars") : null,
      bars.map((stick) => el("figure", {}, el("figcaption", {}, stick.title), picture(stick.svg, stick.title))),
    );
  };
  node.refresh = () => {
    const busy = run.state === "working";
    if (say.textContent !== run.say) say.textContent = run.say;
    stop.hidden = !busy;
    still.hidden = !busy || run.result === null;
    const old = run.result !== null && outdated();
    changedSay.textContent = busy ? (outrun() ? CHANGED_MEANWHILE : "") : old ? "Changed since this layout." : "";
    start.textContent = !run.result ? "Lay out" : (old || outrun()) && held() ? "Lay out the rest again" : "Lay out again";
    if (run.fault !== shownFault) fill(wrong, faultLines());
    shownFault = run.fault;
    if (run.result !== shownResult) drawResult();
    largeParts?.refresh();
  };
  node.told = () => cannot.refresh();
  node.leave = onRun(() => node.refresh());
  node.refresh();
  if (run.state === "none") layOut(effort);
  return node;
}

function held() {
  return (
    (now(["hold"]) ?? []).length > 0 || (now(["sheet"]) ?? []).some((sheet) => (sheet.keep_clear ?? []).length > 0)
  );
}

function faultLines() {
  const fault = run.fault;
  if (!fault) return null;
  return el(
    "div",
    { class: "must" },
    el("p", {}, sentence({ text: fault.error, remedy: fault.remedy })),
    toldLines("", fault.mistakes ?? []),
  );
}

function leftOver(unplaced) {
  if (!unplaced.length) return null;
  return el(
    "div",
    { class: "must" },
    el("p", {}, el("strong", {}, `No place for ${counted(unplaced.length, "part")}:`)),
    el(
      "ul",
      {},
      unplaced.map((one) =>
        el("li", {}, `${one.part}, copy ${one.copy}${one.opposite_hand ? ", opposite hand" : ""}: ${one.why}`),
      ),
    ),
  );
}

function sheetLookedAt(sheets) {
  const same = sheets.find(({ id, stock }) => id === looking.sheet && stock === looking.stock);
  return same ?? sheets.find(({ stock, number }) => stock === looking.stock && number === looking.number) ?? sheets[0];
}
