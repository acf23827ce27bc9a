/** All that one item of the job says, in sections; what no field holds is shown as it stands in the file. */

import { el, fill, freshId } from "./dom.js";
import { change, now } from "./draft.js";
import { field } from "./field.js";
import { fieldsOf } from "./table_fields.js";
import { groupSection } from "./groups.js";
import { OUTLINES } from "./keys.js";
import { findingsAt, mistakesAt, sentence, under } from "./mistakes.js";
import { GROUPS } from "./group_keys.js";
import { set } from "./tree.js";
import { written } from "./values.js";

/** Return the form of an item of a kind at `path()`. It has `refresh()` and `told()`. */
export function itemForm(kind, path) {
  const outline = kind.outline ? outlineBlock(path) : null;
  const sections = kind.sections.map((section) =>
    sectionOf(section, path, section === kind.sections[0] ? outline : null),
  );
  const groups = kind.groups.map((name) => groupSection(name, path));
  const rest = alsoInFile(path, keysOf(kind));
  const told = toldBlock(path, () => [
    ...sections.flatMap((one) => one.parts()),
    ...groups.flatMap((one) => one.parts()),
  ]);
  const [first, ...others] = sections;
  const node = el("div", { class: "item-form", data: { test: "item-form" } }, told, first, groups, others, rest);
  node.refresh = () => {
    for (const one of [...sections, ...groups, rest]) one.refresh();
    told.refresh();
  };
  node.told = () => {
    for (const one of told.fields()) one.told();
    told.refresh();
  };
  return node;
}

function sectionOf(section, path, outline) {
  const fields = fieldsOf(section.fields, path);
  const node = el(
    "details",
    { class: "section", open: !section.closed },
    el("summary", {}, section.title),
    outline,
    el("div", { class: "fields" }, fields),
  );
  node.refresh = () => {
    outline?.refresh();
    fields.forEach((one) => one.refresh());
    if (section.when) node.hidden = !(section.when in (now(path()) ?? {}));
  };
  node.parts = () => [...(outline ? outline.parts() : []), ...fields];
  node.refresh();
  return node;
}

/** Where the outline comes from: one choice, one field. */
function outlineBlock(path) {
  const id = freshId("outline");
  const select = el(
    "select",
    { id, data: { test: "outline-kind", key: "outline-kind" } },
    OUTLINES.map(({ key, choice }) => el("option", { value: key }, choice)),
  );
  const place = el("div", { class: "fields" });
  const node = el(
    "div",
    { class: "fields" },
    el("div", { class: "field" }, el("label", { for: id }, "Outline by"), select),
    place,
  );
  const kindNow = () => OUTLINES.find(({ key }) => key in (now(path()) ?? {})) ?? OUTLINES[0];
  let inner = null;
  let shownKind = null;
  select.addEventListener("change", () => {
    const rest = Object.fromEntries(
      Object.entries(now(path())).filter(([key]) => !OUTLINES.some((one) => one.key === key)),
    );
    change(set(now(), path(), { ...rest, [select.value]: select.value === "points" ? [] : "" }));
    place.querySelector("input, textarea")?.focus();
  });
  node.refresh = () => {
    const kind = kindNow();
    select.value = kind.key;
    if (kind !== shownKind) {
      inner = field(kind, path);
      fill(place, inner);
      shownKind = kind;
    }
    inner.refresh();
  };
  node.parts = () => (inner ? [inner] : []);
  node.refresh();
  return node;
}

function keysOf(kind) {
  const fields = kind.sections.flatMap((section) => section.fields.map(({ key }) => key));
  return [
    ...fields,
    ...kind.groups.map((name) => GROUPS[name].list),
    ...(kind.outline ? OUTLINES.map(({ key }) => key) : []),
  ];
}

/** Return a list of keys of a table that no field holds, with their values as they stand in the file. */
export function alsoInFile(path, known) {
  const node = el("div", { class: "also" });
  node.refresh = () => {
    const item = now(path());
    const others = Object.entries(item && typeof item === "object" ? item : {}).filter(
      ([key]) => key !== "_was" && !known.includes(key),
    );
    node.hidden = others.length === 0;
    fill(
      node,
      el("p", {}, "Also in the file, and kept:"),
      el(
        "ul",
        {},
        others.map(([key, held]) => el("li", {}, el("code", {}, `${key} = ${written(held)}`))),
      ),
    );
  };
  node.refresh();
  return node;
}

// The fields themselves, out of the tables that they stand in.
function flat(parts) {
  return parts.flatMap((one) => (one.inner ? flat(one.inner()) : [one]));
}

/** What is wrong with the item beside its fields, and what is worth knowing of it. */
function toldBlock(path, parts) {
  const node = el("div", { class: "told" });
  node.fields = parts;
  node.refresh = () => {
    const places = flat(node.fields())
      .map((one) => one.where?.())
      .filter(Boolean);
    const loose = mistakesAt(path()).filter((mistake) => !places.some((place) => under(mistake.path, place)));
    const found = findingsAt(path());
    node.hidden = loose.length + found.length === 0;
    fill(
      node,
      loose.map((mistake) => el("p", { class: "mistake" }, sentence(mistake))),
      found.map((finding) =>
        el(
          "p",
          { class: finding.level === "error" ? "mistake" : "advice" },
          sentence(finding),
          finding.source ? el("span", { class: "source" }, ` Source: ${finding.source}`) : null,
        ),
      ),
    );
  };
  return node;
}
