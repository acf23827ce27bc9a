/** Prints: a template as it will come out of the printer, the printer's own scale, and every file to take away. */

import { button, counted, el, fill } from "./dom.js";
import { calibrationBlock } from "./calibration.js";
import { now } from "./draft.js";
import { faultBlock } from "./fault.js";
import { hint } from "./hints.js";
import { filesBlock } from "./files_block.js";
import { download, Newest, post, refusalText } from "./server.js";
import { pairShown, pairTyped } from "./values.js";
import { picture } from "./svg.js";

const newest = new Newest();
const asked = { part: null, opposite_hand: false, back: false, paper: null, scale_x: null, scale_y: null };

export function printsView() {
  follow();
  const form = el("div");
  const files = filesBlock();
  const pages = el("div", { class: "pages", "aria-live": "polite", data: { test: "pages" } });
  const node = el(
    "div",
    { class: "view view-prints" },
    el("h1", { tabindex: "-1" }, "Prints"),
    hint(
      "prints",
      "Print at 100 %, and do not let the printer fit the page; each page has rulers to hold against a real one.",
    ),
    el(
      "section",
      { "aria-labelledby": "template-title" },
      el("h2", { id: "template-title" }, "Template, 1:1"),
      form,
      takeBlock(),
      el("p", { class: "paper-only large" }, "These pages come out true to size only from the PDF: take that, and print it at 100 %."),
      pages,
    ),
    calibrationBlock(),
    files,
  );
  fill(form, templateForm(pages));
  node.refresh = () => {
    files.refresh();
    if (!follow()) return;
    fill(form, templateForm(pages));
    preview(pages);
  };
  node.told = files.told;
  if (partNames().length) preview(pages);
  return node;
}

function partNames() {
  return ["panel", "tube"].flatMap((list) => (now([list]) ?? []).map(({ name }) => name)).filter(Boolean);
}

// What is chosen here is for a look; when the job's own printing changes, that counts again.
let followed = null;
function follow() {
  const { paper = now(["unit"]) === "in" ? "letter" : "A4", scale_x = 1, scale_y = 1 } = now(["printing"]) ?? {};
  const key = JSON.stringify([paper, scale_x, scale_y]);
  if (key === followed) return false;
  followed = key;
  Object.assign(asked, { paper, scale_x, scale_y });
  return true;
}

function templateForm(pages) {
  const names = partNames();
  if (!names.includes(asked.part)) asked.part = names[0] ?? null;
  const again = () => preview(pages);
  const part = el(
    "select",
    {
      id: "print-part",
      data: { test: "print-part" },
      on: { change: (event) => again((asked.part = event.target.value)) },
    },
    names.map((name) => el("option", { value: name, selected: name === asked.part }, name)),
  );
  const paper = el("input", {
    id: "print-paper",
    list: "list-papers",
    value: pairShown(asked.paper, " x "),
    data: { test: "print-paper" },
    on: { change: (event) => again((asked.paper = pairTyped(event.target.value, asked.paper))) },
  });
  return el(
    "div",
    { class: "fields" },
    labelled("Part", part),
    tick("print-hand", "Opposite hand", "opposite_hand", again),
    tick("print-back", "Seen from the back", "back", again),
    labelled("Paper", paper),
    scaleField("scale_x", "Printer scale, short side", again),
    scaleField("scale_y", "Printer scale, long side", again),
  );
}

/** The template that is shown, as a file that prints true to size. */
function takeBlock() {
  const said = el("p", { class: "mistake", role: "alert", hidden: true });
  const take = async () => {
    said.hidden = true;
    try {
      const name = [asked.part, asked.opposite_hand && "opposite", asked.back && "back"].filter(Boolean).join(" ");
      await download("template", `${name.replace(/[^\w -]+/g, "-")}.pdf`, { tree: now(), ...asked, pdf: true });
    } catch (fault) {
      said.textContent = refusalText(fault);
      said.hidden = false;
    }
  };
  return el(
    "div",
    {},
    el(
      "p",
      { class: "doing" },
      button("Take this template (PDF)", take, { test: "take-template" }),
      el("span", { class: "help" }, "Print that one, not this page: it is true to size."),
    ),
    said,
  );
}

function scaleField(key, words, again) {
  return labelled(
    words,
    el("input", {
      id: `print-${key}`,
      inputmode: "decimal",
      value: String(asked[key]),
      data: { test: `print-${key}` },
      on: { change: (event) => again((asked[key] = Number(event.target.value))) },
    }),
  );
}

function labelled(words, input) {
  return el("div", { class: "field" }, el("label", { for: input.id }, words), input);
}

function tick(id, words, key, again) {
  const input = el("input", {
    type: "checkbox",
    id,
    checked: asked[key],
    data: { test: id },
    on: { change: (event) => again((asked[key] = event.target.checked)) },
  });
  return el("div", { class: "field as-yes" }, input, el("label", { for: id }, words));
}

async function preview(pages) {
  if (!asked.part) return;
  pages.setAttribute("aria-busy", "true");
  try {
    const answer = await newest.run((signal) => post("template", { tree: now(), ...asked }, signal));
    if (!answer) return;
    const drawn = answer.pages.map((page, i) =>
      el(
        "figure",
        { class: "page" },
        el("figcaption", {}, page.title || `Page ${i + 1} of ${answer.pages.length}`),
        picture(page.svg, `${asked.part}, page ${i + 1} of ${answer.pages.length}`),
      ),
    );
    fill(pages, el("p", {}, `${counted(answer.pages.length, "page")}, as they will print; smaller on this screen.`), drawn);
  } catch (fault) {
    fill(pages, faultBlock(fault));
  } finally {
    pages.removeAttribute("aria-busy");
  }
}
