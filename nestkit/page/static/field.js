/** One field of the job: its words, what is typed in it, what is wrong with it. */

import { el, fill, freshId } from "./dom.js";
import { change, job, now } from "./draft.js";
import { mistakesAt, sentenceAtField, touched } from "./mistakes.js";
import { isReferredTo, isTaken, renamed } from "./references.js";
import { at, drop, same, set } from "./tree.js";
import {
  listShown,
  listTyped,
  namesTyped,
  pairShown,
  pairTyped,
  placesShown,
  placesTyped,
  shown,
  typed,
} from "./values.js";
import { choices } from "./words.js";

const KINDS = {
  text: { show: shown, take: (text) => text.trim() },
  value: { show: shown, take: typed },
  count: { show: shown, take: typed, mode: "numeric" },
  pair: { show: (value) => pairShown(value, " x "), take: pairTyped },
  place: { show: (value) => pairShown(value, ", "), take: pairTyped },
  places: { show: placesShown, take: placesTyped },
  list: { show: listShown, take: listTyped },
  names: { show: listShown, take: namesTyped },
  choice: { show: shown, take: (text) => text.trim() },
};

/**
 * Return a labelled field for a key of the job file. `path()` says where its table stands now; `keep` are the steps
 * of the path whose tables stay when they become empty. The node has `refresh()`.
 */
export function field(spec, path, { keep = 2, test } = {}) {
  if (spec.as === "yes") return yesField(spec, path, keep, test);
  const kind = KINDS[spec.as];
  const id = freshId(spec.key);
  const where = () => [...path(), spec.key];
  const input = inputOf(spec, id, test);
  const node = el(
    "div",
    { class: `field as-${spec.as}${spec.wide ? " wide" : ""}` },
    el("label", { for: id }, spec.words),
    input,
  );
  const told = tellUnder(node, input, spec, where);
  input.addEventListener(input.tagName === "SELECT" ? "change" : "input", () => {
    take(where(), input.value, (text, former) => kind.take(text, former), keep);
  });
  if (spec.key === "name") followName(input, path, where);
  input.addEventListener("blur", () => job.history.rest());
  node.refresh = () => {
    const text = kind.show(now(where()));
    if (input.tagName === "SELECT") offer(input, spec, text);
    // What somebody is typing stays as typed while it means the same; after Undo it does not.
    const typing = document.activeElement === input && same(meant(input.value, kind, now(where())), now(where()));
    if (!typing && input.value !== text) input.value = text;
    if (input.tagName === "SELECT") input.value = text;
    told();
  };
  node.told = told;
  node.where = where;
  node.refresh();
  return node;
}

/** Once a part's name is typed to its end, joints and holds that say the former one say the new one: one step of Undo. */
function followName(input, path, where) {
  let former = null;
  input.addEventListener("focus", () => (former = now(where())));
  input.addEventListener("change", () => {
    const [list, ...inside] = path();
    const name = now(where());
    const from = former;
    former = name;
    if (inside.length !== 1 || !isReferredTo(list) || !from || !name || from === name) return;
    if (isTaken(now(), list, name, path()) || isTaken(now(), list, from, path())) return;
    change(renamed(now(), list, from, name), JSON.stringify(where()));
  });
}

function meant(text, kind, former) {
  return text.trim() === "" ? (former === "" ? "" : undefined) : kind.take(text, former);
}

function take(where, text, reading, keep) {
  touched(where);
  const tree = now();
  const next = text.trim() === "" ? drop(tree, where, keep) : set(tree, where, reading(text, at(tree, where)));
  change(next, JSON.stringify(where));
}

function inputOf(spec, id, test) {
  const data = { test: test ?? `field-${spec.key}`, key: spec.key };
  if (spec.as === "choice" && !spec.free) return el("select", { id, data });
  if (spec.as === "places" && !spec.line) return el("textarea", { id, data, rows: 2, spellcheck: "false" });
  const props = { id, data, type: "text", autocomplete: "off", spellcheck: "false", placeholder: spec.usual ?? null };
  if (KINDS[spec.as].mode) props.inputmode = KINDS[spec.as].mode;
  if (spec.free) props.list = `list-${spec.from}`;
  return el("input", props);
}

function offer(select, spec, value) {
  const options = choices(spec.from);
  const usual = el("option", { value: "" }, spec.usual ? `${spec.usual} (usual)` : "as usual");
  const unknown = value !== "" && !options.includes(value) ? [value] : [];
  fill(
    select,
    usual,
    [...options, ...unknown].map((word) => el("option", { value: word }, word)),
  );
}

function yesField(spec, path, keep, test) {
  const id = freshId(spec.key);
  const where = () => [...path(), spec.key];
  const input = el("input", { id, type: "checkbox", data: { test: test ?? `field-${spec.key}`, key: spec.key } });
  const node = el("div", { class: "field as-yes" }, input, el("label", { for: id }, spec.words));
  const told = tellUnder(node, input, spec, where);
  input.addEventListener("change", () => {
    const usual = input.checked === (spec.usual ?? false);
    change(usual ? drop(now(), where(), keep) : set(now(), where(), input.checked), JSON.stringify(where()));
    job.history.rest();
  });
  node.refresh = () => {
    const value = now(where());
    input.checked = typeof value === "boolean" ? value : (spec.usual ?? false);
    told();
  };
  node.told = told;
  node.where = where;
  node.refresh();
  return node;
}

// How a field is typed, for a mistake whose remedy speaks of the file.
const TYPED = {
  pair: "two lengths, such as 14 1/2 x 9 3/4",
  place: "a place, across and up, such as 1/2, 3/4",
  places: "places, across and up, such as 1/2, 3/4; 2, 3/4",
  list: "values with semicolons between them, such as 1/2; 4; 8",
  names: "names with semicolons between them",
};

/** Add room for help and mistakes under a field; return what brings the mistakes up to date. */
export function tellUnder(node, input, spec, where) {
  const help = spec.hint ? el("p", { class: "help", id: freshId("help") }, spec.hint) : null;
  const wrong = el("p", { class: "mistake", id: freshId("mistake"), hidden: true });
  node.append(...[help, wrong].filter(Boolean));
  return () => {
    const found = mistakesAt(where());
    wrong.hidden = found.length === 0;
    const text = found.map((one) => sentenceAtField(one, TYPED[spec.as])).join(" ");
    if (wrong.textContent !== text) wrong.textContent = text;
    if (found.length) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
    const ids = [help?.id, found.length ? wrong.id : null].filter(Boolean).join(" ");
    if (ids) input.setAttribute("aria-describedby", ids);
    else input.removeAttribute("aria-describedby");
  };
}
