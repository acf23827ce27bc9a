/** Leads to the field that a mistake or a finding is about, in whichever view that stands. */

const VIEWS = {
  panel: "parts",
  tube: "parts",
  bought: "parts",
  import: "parts",
  sheet: "stock",
  bar: "stock",
  hold: "stock",
  joint: "joints",
};

let leader = null;
/** Let `act(view, path)` do the leading: the page itself, which knows what is shown. */
export function leadWith(act) {
  leader = act;
}

/** Say whether there is a place to lead to. */
export function leadsTo(path) {
  return Array.isArray(path) && path.length > 0 && (!(path[0] in VIEWS) || path.length > 1);
}

/** Go to the view of a path, and there to its field. */
export function showPath(path) {
  leader?.(VIEWS[path[0]] ?? "job", path);
}

const BORE_KEYS = ["screw", "tap", "drill", "dia", "fit"];

// Of a path inside an item, the part that names a field: its key, or the typed line that several keys share.
function fieldIn(place, keys) {
  for (const key of keys.filter((step) => typeof step === "string")) {
    const wanted = BORE_KEYS.includes(key) && place.querySelector("[data-key=bore]") ? "bore" : key;
    const found = place.querySelector(`[data-key="${CSS.escape(wanted)}"]`);
    if (found) return found;
  }
  return null;
}

/** Put the focus into the field of a path inside a place of the page; what is folded around it is opened. */
export function focusField(place, keys) {
  const [list, index] = keys;
  const group = place.querySelector(`[data-section="${CSS.escape(String(list))}"]`);
  const block = typeof index === "number" ? group?.querySelectorAll(".group")[index] : null;
  const inside = block ?? group ?? place;
  const field =
    fieldIn(inside, group ? keys.slice(2) : keys) ??
    inside.querySelector("[aria-invalid]") ??
    inside.querySelector("input, select, textarea, summary");
  for (let fold = field?.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  field?.focus({ preventScroll: true });
  // After whatever was opened for it has come into sight.
  requestAnimationFrame(() => field?.scrollIntoView({ block: "nearest" }));
}

/** Open the item of a path in one of some lists, and put the focus into its field. */
export function focusInLists(lists, path) {
  const list = lists.find((one) => one.dataset.list === path[0]);
  if (!list) return false;
  list.openRow(path[1]);
  const row = list.querySelector(`ol > li:nth-child(${path[1] + 1})`);
  if (!row) return false;
  focusField(row.querySelector(".item-form") ?? row, path.slice(2));
  return true;
}
