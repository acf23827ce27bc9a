/** A run of the layout: started, heard of, stopped. It goes on while another view is looked at. */

import { now, tab } from "./draft.js";
import { get, post, refusal, Refused } from "./server.js";
import { asNew, same } from "./tree.js";

/**
 * What is known: `state` is "none", "working", "done", "stopped" or "failed"; `result` the best layout so far, with the
 * `tree` and the run (`resultOf`) that it is of; `begun` is the tree of the run that was started last.
 */
export const run = { id: null, state: "none", say: "", result: null, resultOf: null, tree: null, begun: null, fault: null };
const listeners = new Set();
let turn = 0;

export function onRun(act) {
  listeners.add(act);
  return () => listeners.delete(act);
}

function tell(changes) {
  Object.assign(run, changes);
  for (const act of [...listeners]) act();
}

/** Say whether the job was changed since the layout that is shown. */
export function outdated() {
  return run.tree !== null && otherThan(run.tree);
}

/** Say whether the job was changed since the layout at work was begun. */
export function outrun() {
  return run.state === "working" && run.begun !== null && otherThan(run.begun);
}

function otherThan(tree) {
  return tree !== now() && !same(asNew(tree), asNew(now()));
}

/** Start a run of the job as it is; the layout shown stays until a new one is there. */
export async function layOut(effort) {
  turn += 1;
  const mine = turn;
  const tree = now();
  tell({ state: "working", say: "Starting ...", begun: tree, fault: null });
  try {
    const { run: id } = await post("layout", { tree, seed: 1, effort, tab });
    if (mine !== turn) return;
    run.id = id;
    await follow(mine, id, tree);
  } catch (fault) {
    if (!(fault instanceof Refused)) Object.assign(run, { state: "failed", say: "" });
    if (mine === turn) tell({ state: "failed", say: "", fault: told(fault) });
  }
}

async function follow(mine, id, tree) {
  let after = 0;
  while (mine === turn) {
    const answer = await get(`layout/${encodeURIComponent(id)}?after=${after}`);
    if (mine !== turn) return;
    after = answer.n;
    const changes = { state: answer.state, say: answer.say ?? run.say };
    if (answer.result) Object.assign(changes, { result: answer.result, resultOf: id, tree });
    if (answer.error) changes.fault = answer.error;
    tell(changes);
    if (answer.state !== "working") return;
  }
}

function told(fault) {
  refusal(fault);
  return { error: fault.message, remedy: fault.remedy ?? "", mistakes: fault.body.mistakes ?? [] };
}

/** Ask the run to end with the best that it has. */
export async function stopRun() {
  if (run.state !== "working" || !run.id) return;
  try {
    await post(`layout/${encodeURIComponent(run.id)}/stop`, {});
  } catch (fault) {
    tell({ fault: told(fault) });
  }
}
