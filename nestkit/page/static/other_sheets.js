/** The sheets beside the one looked at: a sentence each, with a small picture to know it by. */

import { button, counted, el, fill } from "./dom.js";
import { picture } from "./svg.js";

/** Fill the section; `look(sheet)` is called for the one that somebody wants to see. */
export function otherSheets(section, result, rest, look) {
  section.hidden = rest.length === 0;
  fill(
    section,
    el("h2", {}, "Other sheets"),
    el(
      "ol",
      { class: "plain sheets" },
      rest.map((sheet) => el("li", {}, small(sheet), el("div", {}, sentence(sheet, result), " ", lead(sheet, look)))),
    ),
  );
}

function lead(sheet, look) {
  return button("Look at it", () => look(sheet), {
    small: true,
    test: "other-sheet",
    "aria-label": `Look at ${sheet.title}`,
  });
}

function sentence(sheet, result) {
  const told = result.layout.groups[sheet.group]?.sheets.find(({ files }) => files === `sheets/${sheet.file}`);
  const price = told?.price ?? null;
  const cost = sheet.on_hand ? "here already" : price === null ? "to buy, no price given" : `to buy for ${price.toFixed(2)}`;
  return el("p", {}, el("strong", {}, sheet.title), `: ${counted(sheet.parts.length, "part")}; ${sheet.about}; ${cost}.`);
}

function small(sheet) {
  const drawn = picture(sheet.svg);
  drawn?.setAttribute("aria-hidden", "true");
  return el("div", { class: "sheet-small" }, drawn);
}
