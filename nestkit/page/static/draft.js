/** The draft: the job as this tab holds it, what was changed, and the copy that outlives a reload. */

import { History } from "./history.js";
import { matched, placesOf, rebased } from "./rebase.js";
import { at, same } from "./tree.js";

const STEM = "nestkit-draft";
const listeners = new Set();

// A tab that was duplicated takes over the store of the first: only a reload goes on under the old name.
function tabName() {
  const kept = sessionStorage.getItem("nestkit-tab");
  const [entry] = performance.getEntriesByType("navigation");
  if (kept && ["reload", "back_forward"].includes(entry?.type)) return kept;
  const fresh = crypto.randomUUID();
  sessionStorage.setItem("nestkit-tab", fresh);
  return fresh;
}

/** A name of this tab, for the server to tell two tabs apart. */
export const tab = tabName();

// Held as long as this tab lives, so that another one can tell a draft left behind from one at work.
navigator.locks.request(STEM + tab, () => new Promise(() => {}));

/** What is open: `name`, `folder`, `version` of the file, the tree `saved` there, and the history of the draft. */
export const job = { name: null, folder: "", version: "", starter: false, saved: {}, history: new History({}) };

/** Return the tree as it is now, or what stands at a path of it. */
export function now(path = []) {
  return at(job.history.now, path);
}

/** Call `act(how)` after each change; `how` is "typed", "built" (items came or went, or Undo) or "saved". */
export function onChange(act) {
  listeners.add(act);
  return () => listeners.delete(act);
}

function tell(how) {
  for (const act of [...listeners]) act(how);
}

/** Open a job as the server gave it. */
export function open(answer, tree = answer.tree) {
  Object.assign(job, { name: answer.name, folder: answer.folder, version: answer.version, starter: answer.starter });
  job.saved = answer.tree;
  job.history = new History(tree);
  tell("built");
}

/** Take a changed tree; `key` names the field while somebody types in it. */
export function change(tree, key = null) {
  if (tree === job.history.now) return;
  job.history.take(tree, key);
  keep();
  tell(key === null ? "built" : "typed");
}

/** Go back, or forward again, one step. */
export function step(back) {
  if (!(back ? job.history.undo() : job.history.redo())) return false;
  keep();
  tell("built");
  return true;
}

/** Say whether anything differs from the file. */
export function changed() {
  return !same(job.history.now, job.saved);
}

/** Take what the server saved: its version, and the tree as it now stands in the file. */
export function saved(answer, sent, name) {
  forget();
  const found = placesOf(sent, answer.tree);
  const typedSince = job.history.now !== sent;
  job.history.rebase(typedSince ? rebased(job.history.now, found) : answer.tree, (tree) => rebased(tree, found));
  Object.assign(job, { version: answer.version, saved: answer.tree, name: name ?? job.name, starter: false });
  if (typedSince) keep();
  tell("saved");
}

/** Let the draft, and all that Undo goes back to, be changes of the file as somebody else saved it. */
export function baseOn({ tree, version }) {
  job.history.rebase(matched(job.history.now, tree), (one) => matched(one, tree));
  Object.assign(job, { version, saved: tree });
}

/** Take the job as somebody else saved it, as a step that Undo takes back to the draft. */
export function takeTheirs(theirs) {
  baseOn(theirs);
  change(theirs.tree);
}

// ---- the copy in the browser -----------------------------------------------------------------

function stem() {
  return `${STEM}/${job.folder}/${job.name ?? ""}/`;
}

let fault = null;
/** Return why the draft could not be kept in the browser, or null. */
export function keepingFault() {
  return fault;
}

let waiting = 0;
function keep() {
  clearTimeout(waiting);
  waiting = setTimeout(keepNow, 250);
}

/** Write the draft into the browser's store at once. */
export function keepNow() {
  clearTimeout(waiting);
  try {
    if (!changed()) {
      forget();
      return;
    }
    const held = { version: job.version, tree: job.history.now, when: Date.now() };
    localStorage.setItem(stem() + tab, JSON.stringify(held));
    fault = null;
  } catch (why) {
    fault = `This browser cannot keep what you typed (${why.name}). Save often.`;
  }
}

/** Remove this tab's kept draft, or one found. */
export function forget(key = stem() + tab) {
  clearTimeout(waiting);
  localStorage.removeItem(key);
}

/**
 * Return the drafts kept for this job that differ from the file, this tab's own first, then the newest: `key`,
 * `version`, `tree`, `when`, `own`. Those of tabs that are open are left out.
 */
export async function keptDrafts() {
  const alive = new Set((await navigator.locks.query()).held.map(({ name }) => name));
  const found = [];
  for (let i = 0; i < localStorage.length; i += 1) {
    const key = localStorage.key(i);
    if (!key.startsWith(stem())) continue;
    const held = parsed(localStorage.getItem(key));
    const whose = key.slice(stem().length);
    if (whose !== tab && alive.has(STEM + whose)) continue;
    if (held && !same(held.tree, job.saved)) found.push({ ...held, key, own: key === stem() + tab });
  }
  return found.sort((one, other) => Number(other.own) - Number(one.own) || other.when - one.when);
}

function parsed(text) {
  try {
    const held = JSON.parse(text);
    return held && typeof held.tree === "object" && held.tree !== null ? held : null;
  } catch {
    return null;
  }
}

/** Take up a kept draft. If the file changed since, saving will say so, since the draft names its version. */
export function takeUp(found) {
  job.version = found.version;
  change(found.tree);
  if (!found.own) forget(found.key);
}
