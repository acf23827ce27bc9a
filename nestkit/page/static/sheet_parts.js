/** The parts of a sheet as a list below its picture, for the keyboard and for who reads rather than points. */

import { button, el, fill } from "./dom.js";
import { change, now } from "./draft.js";
import { lengthText } from "./lengths.js";
import { drop, insert } from "./tree.js";

/** Return what is said of a placed part: name, copy, hand, turn, size. */
export function partWords(part) {
  const size = part.size ?? `${lengthText(part.width_mm)} x ${lengthText(part.height_mm)} as it lies`;
  const turn = part.turn_deg ? `turned ${Number(part.turn_deg.toFixed(2))}°` : "not turned";
  const hand = part.opposite_hand ? "opposite hand" : "as drawn";
  return [`${part.part}, copy ${part.copy}`, size, hand, turn, part.held ? "held here" : null]
    .filter(Boolean)
    .join(", ");
}

function shortWords(part) {
  const turn = part.turn_deg ? `turned ${Number(part.turn_deg.toFixed(2))}°` : null;
  const words = [
    `${part.part}, copy ${part.copy}`,
    part.opposite_hand ? "opposite hand" : null,
    turn,
    part.held ? "held" : null,
  ];
  return words.filter(Boolean).join(", ");
}

/**
 * Return the list; `onChoose(index)` is called when one is chosen, `onPoint(index)` when the focus comes to one. The node
 * has `choose(index)`, and `hold`: what can be done with the chosen part, to stand right under the picture.
 */
export function sheetParts(sheet, onChoose, onPoint) {
  const items = sheet.parts.map((part, i) =>
    button(shortWords(part), () => onChoose(i), { small: true, test: "sheet-part", "aria-pressed": "false" }),
  );
  items.forEach((item, i) => item.addEventListener("focus", () => onPoint(i)));
  const held = el("div", { class: "hold" });
  const list = el(
    "ol",
    { class: "plain sheet-parts", data: { test: "sheet-parts" } },
    items.map((item) => el("li", {}, item)),
  );
  list.addEventListener("keydown", (event) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    const at = items.indexOf(document.activeElement);
    if (!step || at < 0) return;
    event.preventDefault();
    items[Math.min(Math.max(at + step, 0), items.length - 1)].focus();
  });
  const node = el("div", {}, el("h3", {}, "Parts on this sheet"), list);
  node.hold = held;
  node.choose = (index) => {
    items.forEach((item, i) => item.setAttribute("aria-pressed", String(i === index)));
    const had = held.contains(document.activeElement);
    fill(
      held,
      index === null
        ? el("p", { class: "help" }, "Choose a part, in the picture or in the list below it, to hold it where it lies.")
        : holdBlock(sheet, sheet.parts[index]),
    );
    if (had) held.querySelector("button")?.focus();
  };
  node.choose(null);
  return node;
}

function holdBlock(sheet, part) {
  const at = holdOf(part);
  const act =
    at < 0
      ? button(
          "Hold this part here",
          () => change(insert(now(), ["hold"], (now(["hold"]) ?? []).length, holdFor(sheet, part))),
          { test: "hold" },
        )
      : button("Let it go", () => change(drop(now(), ["hold", at], 0)), { test: "let-go" });
  return el("p", { class: "doing" }, act);
}

/** Return which hold of the job holds a placed part, or -1. */
export function holdOf(part) {
  return (now(["hold"]) ?? []).findIndex(
    (hold) =>
      hold.part === part.part &&
      Number(hold.copy ?? 1) === part.copy &&
      Boolean(hold.opposite_hand) === part.opposite_hand,
  );
}

// Millimetres by name, since the layout is exact in them whatever the job's unit.
function holdFor(sheet, part) {
  return {
    part: part.part,
    copy: part.copy,
    ...(part.opposite_hand && { opposite_hand: true }),
    sheet: sheet.stock,
    on: sheet.number,
    at: [`${part.x_mm} mm`, `${part.y_mm} mm`],
    ...(part.turn_deg && { turn_deg: part.turn_deg }),
  };
}
