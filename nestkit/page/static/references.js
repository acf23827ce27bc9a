/** What in the job goes by the name of a part or a sheet: joints and holds, which follow a new name. */

import { at, set } from "./tree.js";

const PARTS = ["panel", "tube", "bought"];

/** Return the lists whose items are meant by the names that this list's items bear. */
export function isReferredTo(list) {
  return PARTS.includes(list) || list === "sheet";
}

/** Return how many joints and holds name a part or a sheet. */
export function namedBy(tree, list, name) {
  if (list === "sheet") return { joints: 0, holds: holdsOf(tree).filter((hold) => hold.sheet === name).length };
  return {
    joints: jointsOf(tree).filter((joint) => renamedJoint(joint, name, `${name}+`) !== joint).length,
    holds: holdsOf(tree).filter((hold) => hold.part === name).length,
  };
}

/** Return the tree with a part's or a sheet's former name replaced wherever a joint or a hold says it. */
export function renamed(tree, list, former, name) {
  const key = list === "sheet" ? "sheet" : "part";
  const holds = holdsOf(tree).map((hold) => (hold[key] === former ? { ...hold, [key]: name } : hold));
  const joints = list === "sheet" ? jointsOf(tree) : jointsOf(tree).map((joint) => renamedJoint(joint, former, name));
  const put = (whole, path, items) =>
    items.some((item, i) => item !== at(whole, path)[i]) ? set(whole, path, items) : whole;
  return put(put(tree, ["hold"], holds), ["joint"], joints);
}

/** Say whether another part (or sheet) has a name. */
export function isTaken(tree, list, name, path) {
  const lists = list === "sheet" ? ["sheet"] : PARTS;
  return lists.some((one) =>
    itemsOf(tree, one).some((item, i) => item.name === name && !(one === path[0] && i === path[1])),
  );
}

function itemsOf(tree, list) {
  const held = at(tree, [list]);
  return Array.isArray(held) ? held : [];
}

const jointsOf = (tree) => itemsOf(tree, "joint");
const holdsOf = (tree) => itemsOf(tree, "hold");

function renamedJoint(joint, former, name) {
  const one = (said) => (said === former ? name : said);
  const changes = {};
  const take = (key, value) => {
    if (JSON.stringify(value) !== JSON.stringify(joint[key])) changes[key] = value;
  };
  if (Array.isArray(joint.through)) take("through", joint.through.map((said) => throughRenamed(said, former, name)));
  if ("head_on" in joint) take("head_on", one(joint.head_on));
  for (const key of ["turned_over", "opposite_hand"])
    if (Array.isArray(joint[key])) take(key, joint[key].map(one));
  const place = (held) => (held?.part === former ? { ...held, part: name } : held);
  if (Array.isArray(joint.position)) take("position", joint.position.map(place));
  else if (joint.position) take("position", place(joint.position));
  return Object.keys(changes).length ? { ...joint, ...changes } : joint;
}

// `console lid / hinge : 1,2`: the part stands before the first slash, or alone.
function throughRenamed(said, former, name) {
  if (typeof said !== "string") return said;
  const slash = said.indexOf("/");
  const part = (slash < 0 ? said : said.slice(0, slash)).trim();
  if (part !== former) return said;
  return slash < 0 ? name : `${name} ${said.slice(slash)}`;
}
