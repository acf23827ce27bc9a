/** A list of parts or of stock, edited in place: a row each, one row opened for all that it says. */

import { button, counted, el, fill } from "./dom.js";
import { change, now } from "./draft.js";
import { fieldsOf } from "./table_fields.js";
import { itemForm } from "./item_form.js";
import { OUTLINES } from "./keys.js";
import { mistakesAt, waitFor, waitNoMore } from "./mistakes.js";
import { isReferredTo, namedBy } from "./references.js";
import { asNew, drop, freeName, insert } from "./tree.js";

const AT_ONCE = 40;
const PAUSE_MS = 30;

/**
 * Return the section of one kind. `choose(path)` is called when somebody is at work in a row, `chosen()` says which
 * row is drawn above. `fresh` makes a new item; null: none can be added here.
 */
export function itemList(kind, { choose = () => {}, chosen = () => null, fresh = null, open = false } = {}) {
  const list = [kind.list];
  const rows = el("ol", { class: `rows rows-${kind.list}`, data: { test: `rows-${kind.list}` } });
  const title = el("h2", { id: `title-${kind.list}` });
  const ways = { list, kind, choose };
  const add =
    fresh && button(`Add a ${kind.one}`, () => addItem(ways, node, rows, fresh()), { test: `add-${kind.list}` });
  const heads = el(
    "div",
    { class: "heads", "aria-hidden": "true" },
    el("span", {}),
    kind.row.map((key) => el("span", {}, wordsOf(kind, key))),
  );
  const node = el(
    "section",
    { class: "item-list", "aria-labelledby": title.id, data: { list: kind.list } },
    title,
    heads,
    rows,
    add && el("p", {}, add),
  );
  let waiting = 0;
  node.refresh = () => {
    const items = now(list) ?? [];
    title.textContent = items.length ? `${kind.title}: ${items.length}` : kind.title;
    heads.hidden = items.length === 0;
    node.hidden = items.length === 0 && !fresh;
    while (rows.children.length > items.length) rows.lastElementChild.remove();
    for (const [i, row] of [...rows.children].entries()) if (row.item !== items[i]) row.refresh();
    build(rows.children.length + AT_ONCE);
    markChosen(rows, list, chosen());
  };
  // A long list stands there a screenful at a time, so that the page answers while the rest is made.
  const build = (wanted) => {
    clearTimeout(waiting);
    const count = (now(list) ?? []).length;
    while (rows.children.length < Math.min(wanted, count)) rows.append(rowOf(ways, rows.children.length));
    if (rows.children.length < count)
      waiting = setTimeout(() => rows.isConnected && build(rows.children.length + AT_ONCE), PAUSE_MS);
  };
  node.told = () => {
    for (const row of rows.children) row.told();
  };
  node.mark = () => markChosen(rows, list, chosen());
  node.openRow = (index) => {
    build(index + 1);
    rows.children[index]?.toggle(true);
  };
  node.refresh();
  if (open) node.openRow(0);
  return node;
}

function wordsOf(kind, key) {
  const all = kind.sections.flatMap((section) => section.fields);
  return (all.find((spec) => spec.key === key) ?? OUTLINES.find((spec) => spec.key === key)).words;
}

function markChosen(rows, list, path) {
  const index = path && path[0] === list[0] ? path[1] : -1;
  for (let i = 0; i < rows.children.length; i += 1) rows.children[i].toggleAttribute("data-chosen", i === index);
}

function addItem(ways, node, rows, item) {
  const count = (now(ways.list) ?? []).length;
  change(insert(now(), ways.list, count, item));
  ways.choose([...ways.list, count]);
  waitFor([...ways.list, count], Object.keys(item).filter((key) => item[key] === "" || item[key].length === 0));
  node.openRow(count);
  const row = rows.children[count];
  row.told();
  row.querySelector("input")?.focus({ preventScroll: true });
}

function specsOf(kind, item) {
  const all = kind.sections.flatMap((section) => section.fields);
  const outline = OUTLINES.find(({ key }) => key in (item ?? {})) ?? OUTLINES[0];
  return kind.row.map((key) => {
    const spec = key === "size" && kind.outline ? outline : all.find((one) => one.key === key);
    return { ...spec, hint: undefined, line: true };
  });
}

function rowOf(ways, index) {
  const { kind, list, choose } = ways;
  // Rows keep their place in the list: an item that moves is drawn anew in the row where it then stands.
  const here = () => [...list, index];
  const node = el("li", { class: "row" });
  let form = null;
  let fields = [];
  let shape = null;
  const state = el("span", { class: "row-state" });
  const more = button("More", () => node.toggle(!form), { small: true, test: "more", "aria-expanded": "false" });
  const line = el("div", { class: "row-line" });
  const doing = el("div", { class: "doing" }, more, copyButton(ways, here), deleteButton(ways, here), state);
  node.append(line, doing);
  // Another drawing above may move the row: not while the button of the mouse is down, or the click would miss.
  node.addEventListener("focusin", () => afterPress(() => node.isConnected && choose(here())));
  // A row off the screen is laid out only now, so that the browser could not bring it into sight itself.
  node.addEventListener("focusin", ({ target }) => {
    if (!pressed) requestAnimationFrame(() => target.scrollIntoView({ block: "nearest" }));
  });
  node.addEventListener("focusout", ({ relatedTarget }) => {
    if (!node.contains(relatedTarget)) waitNoMore();
  });
  node.toggle = (wanted) => {
    if (wanted && !form) {
      form = itemForm(kind, here);
      node.append(form);
      form.told();
      // What opens must be seen to open: the row comes up to below the drawing, which may be drawn anew at first.
      requestAnimationFrame(() => node.scrollIntoView({ block: "start" }));
    } else if (!wanted && form) {
      form.remove();
      form = null;
    }
    node.toggleAttribute("data-open", Boolean(form));
    more.textContent = form ? "Less" : "More";
    more.setAttribute("aria-expanded", String(Boolean(form)));
    nameButtons();
  };
  const nameButtons = () => {
    const name = now(here())?.name ?? now(here())?.part ?? now(here())?.file ?? `${kind.one} ${index + 1}`;
    for (const one of doing.querySelectorAll("button")) one.setAttribute("aria-label", `${one.textContent} ${name}`);
  };
  node.refresh = () => {
    const item = now(here());
    node.item = item;
    const specs = specsOf(kind, item);
    const wanted = specs.map(({ key }) => key).join();
    if (wanted !== shape) {
      fields = fieldsOf(specs, here);
      fill(line, el("span", { class: "number", "aria-hidden": "true" }, index + 1), fields);
      shape = wanted;
    }
    fields.forEach((one) => one.refresh());
    form?.refresh();
    nameButtons();
  };
  node.told = () => {
    fields.forEach((one) => one.told());
    form?.told();
    const count = mistakesAt(here()).length;
    const text = count ? counted(count, "mistake") : "";
    if (state.textContent !== text) state.textContent = text;
    node.toggleAttribute("data-wrong", count > 0);
  };
  node.refresh();
  node.told();
  return node;
}

let pressed = false;
document.addEventListener("pointerdown", () => (pressed = true), true);
for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => (pressed = false), true);

function afterPress(act) {
  if (!pressed) act();
  else document.addEventListener("pointerup", () => setTimeout(act), { once: true });
}

function copyButton({ list, kind, choose }, here) {
  return button(
    "Copy",
    () => {
      const item = asNew(now(here()));
      const taken = new Set(
        ["panel", "tube", "bought", "sheet", "bar"].flatMap((key) => (now([key]) ?? []).map(({ name }) => name)),
      );
      const named = item.name === undefined ? item : { ...item, name: freeName(`${item.name} copy`, taken) };
      const index = here().at(-1) + 1;
      change(insert(now(), list, index, named));
      choose([...list, index]);
    },
    { small: true, test: `copy-${kind.list}` },
  );
}

// What still names a part that goes is said at once; Undo brings it back.
function sayWhoNames(list, name) {
  const said = document.getElementById("saved");
  said.textContent = "";
  if (!name || !isReferredTo(list)) return;
  const { joints, holds } = namedBy(now(), list, name);
  const who = [joints ? counted(joints, "joint") : "", holds ? counted(holds, "held part") : ""].filter(Boolean);
  if (!who.length) return;
  said.textContent = `${who.join(" and ")} still ${joints + holds === 1 ? "names" : "name"} “${name}”. Undo brings it back.`;
}

function deleteButton({ list, kind }, here) {
  return button(
    "Delete",
    (event) => {
      const rows = event.target.closest("ol");
      const index = here().at(-1);
      event.target.closest("li").toggle(false);
      sayWhoNames(list[0], now(here())?.name);
      change(drop(now(), here(), 0));
      (rows.children[Math.min(index, rows.children.length - 1)] ?? rows.parentElement)
        .querySelector("input, button")
        ?.focus();
    },
    { small: true, test: `delete-${kind.list}` },
  );
}
