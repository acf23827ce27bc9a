/** What a tree changed against another, in words: for whoever saves, or must choose between two files. */

import { same } from "./tree.js";
import { shown, written } from "./values.js";

const MOST = 200;

/** Return lines such as `panel “console lid”: size was ["14 1/2", 9], now [15, 9]`, at most 200 and one that counts the rest. */
export function changes(before, after) {
  const lines = [];
  compare(before, after, "", lines);
  return lines.length > MOST ? [...lines.slice(0, MOST), `and ${lines.length - MOST} more`] : lines;
}

function compare(before, after, place, lines) {
  for (const key of new Set([...Object.keys(before ?? {}), ...Object.keys(after ?? {})])) {
    if (key === "_was") continue;
    const one = before?.[key];
    const other = after?.[key];
    if (same(one, other)) continue;
    if (ofTables(one) || ofTables(other)) compareLists(key, one ?? [], other ?? [], place, lines);
    else if (isTable(one) && isTable(other)) compare(one, other, `${place}${key}: `, lines);
    else if (one === undefined) lines.push(`${place}${key} is now ${value(other)}`);
    else if (other === undefined) lines.push(`${place}${key} taken out; it was ${value(one)}`);
    else lines.push(`${place}${key} was ${value(one)}, is now ${value(other)}`);
  }
}

// Items are the same if they were the same in the file; trees of two files go by name.
function compareLists(key, before, after, place, lines) {
  const byPlace = after.some((item) => item._was !== undefined);
  const name = (item, i) => (byPlace ? item._was : (item.name ?? item.file ?? i));
  const kept = new Set();
  const found = new Map(before.map((item, i) => [byPlace ? (item._was ?? i) : name(item, i), item]));
  after.forEach((item, i) => {
    const id = name(item, i);
    const was = id === undefined ? undefined : found.get(id);
    if (was) {
      kept.add(id);
      compare(was, item, `${place}${named(key, item, i)}: `, lines);
    } else lines.push(`${place}${named(key, item, i)} is new`);
  });
  [...found].forEach(([id, item], i) => {
    if (!kept.has(id)) lines.push(`${place}${named(key, item, i)} taken out`);
  });
}

function named(key, item, i) {
  const name = item.name ?? item.part ?? item.file;
  return name ? `${key} “${name}”` : `${key} ${i + 1}`;
}

function value(held) {
  return typeof held === "object" ? written(held) : shown(held);
}

function isTable(held) {
  return held !== null && typeof held === "object" && !Array.isArray(held);
}

function ofTables(held) {
  return Array.isArray(held) && held.length > 0 && held.every(isTable);
}
