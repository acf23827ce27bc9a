/** Tables that become stacked items on a narrow screen. */

import { el } from "./dom.js";

/**
 * Return a table of objects, whose values are texts, numbers, lists or elements. `columns` are [key, heading]; columns
 * that no row fills are left out. `look` gives classes by key.
 */
export function table(rows, columns, look = {}) {
  const used = columns.filter(([key]) =>
    rows.some((row) => row[key] !== null && row[key] !== undefined && row[key] !== ""),
  );
  const head = el(
    "thead",
    {},
    el(
      "tr",
      {},
      used.map(([, words]) => el("th", { scope: "col" }, words)),
    ),
  );
  const line = (row) =>
    el(
      "tr",
      {},
      used.map(([key, words]) => el("td", { data: { head: words }, class: look[key] ?? null }, cell(row[key]))),
    );
  return el("table", { class: "stacking" }, head, el("tbody", {}, rows.map(line)));
}

function cell(value) {
  if (value === null || value === undefined) return "";
  if (value instanceof Node) return value;
  return Array.isArray(value) ? value.join(", ") : String(value);
}

/** Return columns for rows whose keys are not known beforehand, in the order that they come. */
export function columnsOf(rows, known = {}) {
  const keys = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return keys.filter((key) => !["path", "svg"].includes(key)).map((key) => [key, known[key] ?? words(key)]);
}

function words(key) {
  const text = key.replaceAll("_", " ");
  return text.charAt(0).toUpperCase() + text.slice(1);
}
