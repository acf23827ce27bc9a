/** After saving, the items of the file have new places: older trees (Undo) learn them, so that comments stay with their items. */

/** Return old places and the new ones, from the tree that was sent and the one that came back. */
export function placesOf(sent, back, prefix = "", found = new Map()) {
  for (const [key, list] of tablesIn(sent)) {
    list.forEach((item, i) => {
      const mine = back?.[key]?.[i];
      if (item._was === undefined || mine === undefined) return;
      const name = `${prefix}/${key}:${item._was}`;
      found.set(name, mine._was);
      placesOf(item, mine, name, found);
    });
  }
  return found;
}

/** Return a tree whose items say the new places; items that were not saved say none. */
export function rebased(tree, found, prefix = "") {
  const copy = { ...tree };
  for (const [key, list] of tablesIn(tree)) {
    copy[key] = list.map((item) => {
      const name = `${prefix}/${key}:${item._was}`;
      const { _was, ...rest } = item;
      const place = _was === undefined ? undefined : found.get(name);
      return rebased(place === undefined ? rest : { ...rest, _was: place }, found, name);
    });
  }
  return copy;
}

/**
 * Return a tree whose items say the places that items of the same name have in another tree of the file: so a draft
 * can be saved over a file that was changed meanwhile, and the notes beside its items stay.
 */
export function matched(tree, other) {
  const copy = { ...tree };
  for (const [key, list] of tablesIn(tree)) {
    const theirs = Array.isArray(other?.[key]) ? other[key] : [];
    const free = new Set(theirs);
    copy[key] = list.map((item) => {
      const { _was, ...rest } = item;
      const name = nameOf(item);
      const twin = [...free].find((one) => nameOf(one) === name);
      free.delete(twin);
      return matched(twin?._was === undefined ? rest : { ...rest, _was: twin._was }, twin);
    });
  }
  return copy;
}

// Items without a name (slots, marks) are the same if they hold the same.
function nameOf(item) {
  const { _was, ...rest } = item;
  return item.name ?? item.file ?? JSON.stringify(rest);
}

function tablesIn(tree) {
  return Object.entries(tree ?? {}).filter(
    ([, held]) =>
      Array.isArray(held) &&
      held.length > 0 &&
      held.every((item) => item !== null && typeof item === "object" && !Array.isArray(item)),
  );
}
