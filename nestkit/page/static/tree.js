/** Reads and changes the job as a tree of what the file holds. No change touches the old tree. */

/** Return what stands at a path, or undefined. */
export function at(tree, path) {
  let here = tree;
  for (const step of path) {
    if (here === null || typeof here !== "object") return undefined;
    here = here[step];
  }
  return here;
}

/** Return the tree with a value at a path; tables on the way are made as needed. */
export function set(tree, path, value) {
  if (path.length === 0) return value;
  const [step, ...rest] = path;
  const whole = shallow(tree, step);
  whole[step] = set(whole[step], rest, value);
  return whole;
}

/**
 * Return the tree without what stands at a path. A table on the way that is empty after it goes too, but
 * none of the first `keep` steps.
 */
export function drop(tree, path, keep = path.length) {
  const parent = path.slice(0, -1);
  const last = path.at(-1);
  const holder = at(tree, parent);
  if (holder === null || typeof holder !== "object" || !(last in holder)) return tree;
  const rest = shallow(holder, last);
  if (Array.isArray(rest)) rest.splice(last, 1);
  else delete rest[last];
  const empty = Array.isArray(rest) ? rest.length === 0 : Object.keys(rest).every((key) => key === "_was");
  if (empty && parent.length > keep) return drop(tree, parent, keep);
  return set(tree, parent, rest);
}

/** Return the tree with an item put into a list at an index; the list is made if there is none. */
export function insert(tree, path, index, item) {
  const list = [...(at(tree, path) || [])];
  list.splice(index, 0, item);
  return set(tree, path, list);
}

/** Return a deep copy that no longer says which item of the file it was. */
export function asNew(value) {
  if (Array.isArray(value)) return value.map(asNew);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([key]) => key !== "_was")
      .map(([key, held]) => [key, asNew(held)]),
  );
}

/** Say whether two values hold the same, whatever the order of keys. */
export function same(one, other) {
  if (one === other) return true;
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) return false;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const keys = Object.keys(one);
  return keys.length === Object.keys(other).length && keys.every((key) => key in other && same(one[key], other[key]));
}

/** Return a name like `stem` that is not among the names taken: `lid copy`, `lid copy 2`. */
export function freeName(stem, taken) {
  if (!taken.has(stem)) return stem;
  for (let number = 2; ; number += 1) if (!taken.has(`${stem} ${number}`)) return `${stem} ${number}`;
}

function shallow(tree, step) {
  if (Array.isArray(tree)) return [...tree];
  if (tree !== null && typeof tree === "object") return { ...tree };
  return typeof step === "number" ? [] : {};
}
