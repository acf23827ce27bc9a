/** Fields of a table of the job file: several keys under one heading, a margin a side, tables that may be several. */

import { button, el, fill } from "./dom.js";
import { change, now } from "./draft.js";
import { field } from "./field.js";
import { set } from "./tree.js";

/** Return fields in a group with a heading: those of a table inside the table at `path()`. */
export function tableField(spec, path, keep) {
  const inside = () => [...path(), spec.key];
  const fields = fieldsOf(spec.fields, inside, keep);
  const node = el("fieldset", { class: "inner" }, el("legend", {}, spec.words), el("div", { class: "fields" }, fields));
  node.refresh = () => fields.forEach((one) => one.refresh());
  node.told = () => fields.forEach((one) => one.told());
  node.inner = () => fields;
  return node;
}

/** Return the fields of several keys of one table. */
export function fieldsOf(specs, path, keep = 2) {
  return specs.map((spec) => {
    if (spec.as === "table") return spec.many ? manyTables(spec, path, keep) : tableField(spec, path, keep);
    if (spec.as === "margin") return marginField(spec, path, keep);
    return field(spec, path, { keep });
  });
}

const SIDES = ["left", "right", "bottom", "top"].map((key) => ({ key, words: key, as: "value" }));

/** A margin is one length, or a table with one a side. */
function marginField(spec, path, keep) {
  const node = el("div", { class: "whole-row" });
  let sided = null;
  let inner = null;
  const turn = () => {
    const value = now([...path(), spec.key]);
    const sides = sided ? value : Object.fromEntries(SIDES.map(({ key }) => [key, value ?? 0]));
    change(set(now(), [...path(), spec.key], sided ? (value.left ?? 0) : sides));
  };
  node.refresh = () => {
    const value = now([...path(), spec.key]);
    const isSided = value !== null && typeof value === "object";
    if (isSided !== sided) {
      sided = isSided;
      inner = sided
        ? tableField({ ...spec, fields: SIDES }, path, keep)
        : field({ ...spec, as: "value" }, path, { keep });
      const words = sided ? "One margin all around" : "Another margin on each side";
      fill(node, inner, button(words, turn, { small: true }));
    }
    inner.refresh();
  };
  node.told = () => inner.told();
  node.inner = () => [inner];
  node.refresh();
  return node;
}

/** A key that holds one table, or a list of such tables. */
function manyTables(spec, path, keep) {
  const where = () => [...path(), spec.key];
  const node = el("div", { class: "many" });
  let count = null;
  let inner = [];
  const add = () => {
    const value = now(where());
    change(set(now(), where(), Array.isArray(value) ? [...value, {}] : [value ?? {}, {}]));
    inner.at(-1).querySelector("input, select").focus();
  };
  node.refresh = () => {
    const value = now(where());
    const wanted = Array.isArray(value) ? value.length : null;
    if (wanted !== count || inner.length === 0) {
      count = wanted;
      inner =
        count === null
          ? [tableField(spec, path, keep)]
          : value.map((_, i) => tableField({ ...spec, key: i, words: `${spec.words} ${i + 1}` }, where, keep));
      fill(node, inner, button(`Add: ${spec.words.toLowerCase()}`, add, { small: true }));
    }
    inner.forEach((one) => one.refresh());
  };
  node.told = () => inner.forEach((one) => one.told());
  node.inner = () => inner;
  node.refresh();
  return node;
}
