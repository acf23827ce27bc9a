/** What is wrong and what is worth knowing, as `check` says it, brought to the field that it is about. */

import { onChange } from "./draft.js";

let all = [];
let findings = [];
// By item, so that a field of a thousand looks through a few only.
let byItem = { mistakes: new Map(), findings: new Map() };
const listeners = new Set();
// Fields of an item just added that nobody has typed in yet: that they are empty is no news while it is filled in.
let untouched = [];

export function onMistakes(act) {
  listeners.add(act);
  return () => listeners.delete(act);
}

/** Take what the whole job was found to have. */
export function takeAll(answer) {
  all = answer.mistakes ?? [];
  findings = answer.findings ?? [];
  sort();
  for (const act of [...listeners]) act();
}

/** Say nothing of some fields of a new item until they are typed in or the item is left. */
export function waitFor(path, keys) {
  untouched = keys.map((key) => [...path, key]);
}

/** Somebody typed in a field: from now on it says what is wrong with it. */
export function touched(path) {
  untouched = untouched.filter((place) => !under(place, path));
}

/** The new item was left, or came to another place: all of it says what is wrong. */
export function waitNoMore() {
  if (!untouched.length) return;
  untouched = [];
  for (const act of [...listeners]) act();
}

onChange((how) => how !== "typed" && waitNoMore());

const told = (list) => list.filter(({ path }) => !untouched.some((place) => under(path, place)));

/** Take what one item was found to have; the rest stands. */
export function takeFor(path, mistakes) {
  all = [...all.filter((mistake) => !under(mistake.path, path)), ...mistakes];
  sort();
  for (const act of [...listeners]) act();
}

export function allMistakes() {
  return told(all);
}

export function allFindings() {
  return findings;
}

/** Return the mistakes of an item or a field and of all inside it. */
export function mistakesAt(path) {
  return told(itemsOf("mistakes", all, path).filter((mistake) => under(mistake.path, path)));
}

/** Return the findings of an item. */
export function findingsAt(path) {
  return itemsOf("findings", findings, path).filter((finding) => under(finding.path, path));
}

function sort() {
  const sorted = (list) => {
    const found = new Map();
    for (const one of list.filter(({ path }) => Array.isArray(path))) {
      const key = itemKey(one.path);
      found.set(key, [...(found.get(key) ?? []), one]);
    }
    return found;
  };
  byItem = { mistakes: sorted(all), findings: sorted(findings) };
}

function itemKey(path) {
  return `${path[0]}/${path[1]}`;
}

// A path of one step holds all items of its list.
function itemsOf(kind, list, path) {
  return path.length < 2 ? list : (byItem[kind].get(itemKey(path)) ?? []);
}

/** Say whether one path is the other or lies inside it. */
export function under(path, holder) {
  return Array.isArray(path) && path.length >= holder.length && holder.every((step, i) => path[i] === step);
}

// What only the file knows: tables and lists in its own writing.
const OF_THE_FILE = /\[[^\]]*[,"\]]|\w+ = /;

/** Return a mistake at its field, which says how it is typed there (`hint`), not how the file writes it. */
export function sentenceAtField(mistake, hint) {
  const remedy = (mistake.remedy ?? "").replace(/leave the line out/i, "leave the field empty");
  return sentence({ ...mistake, remedy: hint && OF_THE_FILE.test(remedy) ? `Type ${hint}` : remedy });
}

/** Return a mistake or a finding as one sentence or two. */
export function sentence({ text, remedy }) {
  const stop = (words) => (/[.!?]$/.test(words) ? words : `${words}${words.startsWith("Did you mean") ? "?" : "."}`);
  const large = (words) => words.charAt(0).toUpperCase() + words.slice(1);
  return [text, remedy]
    .filter(Boolean)
    .map((words) => stop(large(words)))
    .join(" ");
}
