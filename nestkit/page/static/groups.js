/** What stands inside an item - holes, slots, cut-outs, notches, marks, regions - each group with its few fields. */

import { BORES, boreShown, withBore } from "./bore.js";
import { button, el, fill, freshId } from "./dom.js";
import { change, job, now } from "./draft.js";
import { showDrill } from "./drills.js";
import { field, tellUnder } from "./field.js";
import { fieldsOf } from "./table_fields.js";
import { GROUPS } from "./group_keys.js";
import { alsoInFile } from "./item_form.js";
import { asNew, drop, freeName, insert, same, set } from "./tree.js";
import { choices } from "./words.js";

/** Return the section of a kind of groups of the item at `path()`. */
export function groupSection(kind, path) {
  const spec = GROUPS[kind];
  const list = () => [...path(), spec.list];
  const blocks = el("div", { class: "groups" });
  const add = button(
    spec.add,
    () => {
      const count = (now(list()) ?? []).length;
      const name = spec.first.length ? { name: freshName(list()) } : {};
      change(insert(now(), list(), count, { ...name, ...spec.fresh }));
      blocks.lastElementChild?.querySelector("input, select, textarea")?.focus();
    },
    { test: `add-${spec.list}`, small: true },
  );
  const title = el("summary", {}, spec.title);
  const node = el("details", { class: "section", data: { section: spec.list } }, title, blocks, add);
  let shownFor = [];
  node.refresh = () => {
    const items = now(list()) ?? [];
    title.textContent = items.length ? `${spec.title}: ${items.length}` : spec.title;
    if (items.length !== shownFor.length || items.some((item, i) => shapeOf(spec, item) !== shownFor[i])) {
      const focus = placeOfFocus(blocks);
      fill(
        blocks,
        items.map((_, i) => block(spec, () => [...list(), i])),
      );
      if (focus) (blocks.children[focus.index]?.querySelector(`[data-key="${focus.key}"]`) ?? title).focus();
      shownFor = items.map((item) => shapeOf(spec, item));
      if (items.length) node.open = true;
    } else {
      for (const one of blocks.children) one.refresh();
    }
  };
  node.parts = () => [...blocks.children].flatMap((one) => one.parts);
  node.refresh();
  return node;
}

// Where the focus is, so that it can be there again when the blocks are made anew.
function placeOfFocus(blocks) {
  const active = document.activeElement;
  const index = [...blocks.children].findIndex((one) => one.contains(active));
  return index < 0 ? null : { index, key: active.dataset.key ?? "none" };
}

// Which fields a block has depends on the pattern of its holes only.
function shapeOf(spec, item) {
  return spec.bore ? String(patternOf(spec, item)?.key) : "same";
}

function freshName(list) {
  return freeName("holes", new Set((now(list) ?? []).map((item) => item.name)));
}

function block(spec, path) {
  const parts = [];
  if (spec.first.length) parts.push(...fieldsOf(spec.first, path, 4));
  if (spec.bore) parts.push(boreField(path));
  const place = spec.bore ? patternFields(spec, path) : [];
  parts.push(...place, ...fieldsOf(spec.fields, path, 4));
  const rest = alsoInFile(path, knownKeys(spec));
  const node = el(
    "div",
    { class: "group", role: "group", "aria-label": `${spec.one} ${path().at(-1) + 1}` },
    el("div", { class: "fields" }, parts),
    rest,
    buttons(spec, path),
  );
  node.parts = parts;
  node.refresh = () => {
    parts.forEach((one) => one.refresh());
    rest.refresh();
  };
  return node;
}

function knownKeys(spec) {
  const bores = spec.bore ? [...BORES, "fit"] : [];
  return [...spec.first, ...spec.fields, ...(spec.patterns ?? [])].map(({ key }) => key).concat(bores);
}

function buttons(spec, path) {
  const list = () => path().slice(0, -1);
  const copy = () => {
    const item = asNew(now(path()));
    const named = "name" in item ? { ...item, name: freshName(list()) } : item;
    change(insert(now(), list(), path().at(-1) + 1, named));
  };
  return el(
    "p",
    { class: "doing" },
    button(`Copy this ${spec.one}`, copy, { small: true }),
    button(`Delete this ${spec.one}`, () => change(drop(now(), path(), path().length - 2)), {
      small: true,
      test: `delete-${spec.list}`,
    }),
  );
}

/** The typed line of how holes are made, with the table's answer under it once the server has it. */
function boreField(path) {
  const id = freshId("bore");
  const input = el("input", {
    id,
    type: "text",
    autocomplete: "off",
    spellcheck: "false",
    data: { test: "bore", key: "bore" },
  });
  const answer = el("output", { for: id, class: "answer" });
  const hint = "10-32 normal, tap 10-32, drill #7 or dia 3/8";
  const node = el(
    "div",
    { class: "field as-text" },
    el("label", { for: id }, "Screw and fit, or drill"),
    input,
    answer,
  );
  const key = () => [...BORES, "fit"].find((one) => one in (now(path()) ?? {})) ?? "screw";
  const told = tellUnder(node, input, { hint }, () => [...path(), key()]);
  const known = () => ({ drills: choices("drills"), screws: choices("screws") });
  input.addEventListener("input", () => {
    change(set(now(), path(), withBore(now(path()), input.value, known())), JSON.stringify([...path(), "bore"]));
  });
  input.addEventListener("blur", () => job.history.rest());
  node.where = () => [...path(), key()];
  node.told = told;
  node.refresh = () => {
    const group = now(path());
    if (group === undefined) return;
    const typing = document.activeElement === input && same(withBore(group, input.value, known()), group);
    if (!typing) input.value = boreShown(group);
    answer.dataset.group = JSON.stringify(path());
    showDrill(answer);
    told();
  };
  node.refresh();
  return node;
}

function patternOf(spec, item) {
  return spec.patterns.find(({ key }) => key in (item ?? {}));
}

/** Where the holes are: which pattern, and the fields of it. Another pattern takes the former one's place. */
function patternFields(spec, path) {
  const id = freshId("pattern");
  const select = el(
    "select",
    { id, data: { test: "pattern", key: "pattern" } },
    spec.patterns.map(({ key, words }) => el("option", { value: key }, words)),
  );
  const holder = el("div", { class: "field" }, el("label", { for: id }, "Where"), select);
  const told = tellUnder(holder, select, {}, () => [...path(), "-"]);
  select.addEventListener("change", () => {
    const chosen = spec.patterns.find(({ key }) => key === select.value);
    const rest = Object.fromEntries(
      Object.entries(now(path())).filter(([key]) => !spec.patterns.some((one) => one.key === key)),
    );
    change(set(now(), path(), { ...rest, [chosen.key]: chosen.start }));
  });
  holder.where = () => [...path(), "-"];
  holder.told = told;
  holder.refresh = () => {
    select.value = patternOf(spec, now(path()))?.key ?? "";
  };
  holder.refresh();
  const pattern = patternOf(spec, now(path()));
  if (!pattern) return [holder];
  if (!pattern.inside) return [holder, field({ ...pattern, words: pattern.label }, path, { keep: 4 })];
  return [holder, ...fieldsOf(pattern.inside, () => [...path(), pattern.key], 5)];
}
