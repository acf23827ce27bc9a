/** The layout: one sheet large, the others below it, what is said while it works. */

import { button, counted, el, fill } from "./dom.js";
import { now } from "./draft.js";
import { hint } from "./hints.js";
import { largeSheet, looking } from "./large_sheet.js";
import { layOut, onRun, outdated, run, stopRun } from "./layout_run.js";
import { sentence } from "./mistakes.js";
import { picture } from "./svg.js";

const EFFORTS = [
  ["quick", "a quick look"],
  ["normal", "as usual"],
  ["thorough", "as long as it helps"],
];
let effort = "normal";

export function layoutView() {
  const say = el("p", { class: "say", role: "status", "aria-live": "polite", data: { test: "say" } });
  const changedSay = el("p", { class: "changed", data: { test: "outdated" } });
  const wrong = el("div", { class: "wrong", role: "alert" });
  const start = button("Lay out", () => layOut(effort), { test: "lay-out" });
  const stop = button("Stop and keep the best", stopRun, { test: "stop" });
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
    el(
      "div",
      { class: "doing" },
      start,
      stop,
      el("span", { class: "field inline" }, el("label", { for: "effort" }, "Try"), select),
    ),
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
    const rest = sheets.filter((one) => one !== sheet);
    others.hidden = rest.length === 0;
    fill(
      others,
      el("h2", {}, "Other sheets"),
      el(
        "ul",
        { class: "plain sheets" },
        rest.map((one) =>
          el(
            "li",
            {},
            otherSheet(one, () => look(one)),
          ),
        ),
      ),
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
    const old = run.result !== null && outdated();
    changedSay.textContent = old && !busy ? "Changed since this layout." : "";
    start.textContent = !run.result ? "Lay out" : old && held() ? "Lay out the rest again" : "Lay out again";
    if (run.fault !== shownFault) fill(wrong, faultLines());
    shownFault = run.fault;
    if (run.result !== shownResult) drawResult();
    largeParts?.refresh();
  };
  node.told = () => {};
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
  const lines = (fault.mistakes ?? []).map((one) =>
    el("li", {}, one.place ? el("strong", {}, one.place, ": ") : null, sentence(one)),
  );
  return el(
    "div",
    { class: "must" },
    el("p", {}, sentence({ text: fault.error, remedy: fault.remedy })),
    lines.length
      ? [el("ul", {}, lines), el("p", {}, el("a", { href: "#parts" }, "Put them right in “Parts to make”"))]
      : null,
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

function otherSheet(sheet, act) {
  const node = el(
    "button",
    { type: "button", class: "sheet-small", data: { test: "other-sheet" }, on: { click: act } },
    el("span", {}, `${sheet.title}: ${counted(sheet.parts.length, "part")}`),
  );
  const drawn = picture(sheet.svg);
  if (drawn) {
    drawn.setAttribute("aria-hidden", "true");
    node.append(drawn);
  }
  return node;
}
