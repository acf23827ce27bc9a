/** The job itself: name, unit, ways of cutting, printing, and what was changed since it was saved. */

import { button, el, fill, freshId } from "./dom.js";
import { change, changed, job, now } from "./draft.js";
import { changes } from "./changes.js";
import { fieldsOf } from "./table_fields.js";
import { adviceLink, findingsBlock } from "./findings.js";
import { focusField, focusInLists } from "./goto.js";
import { hint } from "./hints.js";
import { alsoInFile } from "./item_form.js";
import { itemList } from "./item_list.js";
import { ELSEWHERE, PRACTICE, SECTIONS, WAY } from "./job_keys.js";
import { save } from "./saving.js";
import { drop, set } from "./tree.js";
import { namedWays } from "./words.js";

export function jobView() {
  const [first, ...others] = SECTIONS.map(sectionOf);
  const ways = waysBlock();
  const practice = itemList(PRACTICE, { fresh: () => ({ method: "rule and pencil", wanted: [], measured: [] }) });
  const found = findingsBlock();
  const advised = adviceLink(found);
  const rest = alsoInFile(() => [], ELSEWHERE);
  const since = sinceBlock();
  const node = el(
    "div",
    { class: "view view-job" },
    el("h1", { tabindex: "-1" }, "The job"),
    hint("job", "Everything stands in one job file; saving writes only what you changed and keeps the notes in it."),
    advised,
    since,
    first,
    ways,
    others,
    practice,
    rest,
    found,
  );
  const all = [first, ways, ...others];
  node.go = (path) => {
    if (focusInLists([practice], path)) return true;
    const own = all.find((one) => one.dataset.path !== "" && one.dataset.path === path[0]);
    focusField(own ?? node, own ? path.slice(1) : path);
    return true;
  };
  node.refresh = () => {
    for (const one of [since, ...all, practice, rest]) one.refresh();
  };
  node.told = () => {
    for (const one of all) one.told();
    practice.told();
    found.refresh();
    advised.refresh();
  };
  return node;
}

function sectionOf({ title, path, fields, open }) {
  const parts = fieldsOf(fields, () => path, 1);
  const rest = path.length
    ? alsoInFile(
        () => path,
        fields.map(({ key }) => key),
      )
    : null;
  const node = el(
    "details",
    { class: "section", open, data: { path: path.join("/") } },
    el("summary", {}, title),
    el("div", { class: "fields" }, parts),
    rest,
  );
  node.refresh = () => {
    parts.forEach((one) => one.refresh());
    rest?.refresh();
  };
  node.told = () => parts.forEach((one) => one.told());
  return node;
}

/** The usual way of cutting, and named ones that a sheet or bar may ask for. */
function waysBlock() {
  const usual = wayFields(() => ["cutting"], "The usual way of cutting", 1);
  const named = el("div");
  const id = freshId("way");
  const name = el("input", { id, type: "text", autocomplete: "off", data: { test: "way-name" } });
  const add = () => {
    const word = name.value.trim();
    if (!word || now(["cutting", word]) !== undefined) {
      name.focus();
      return;
    }
    change(set(now(), ["cutting", word], { how: "router", kerf: "" }));
    name.value = "";
  };
  const node = el(
    "details",
    { class: "section", open: true, data: { test: "ways", path: "cutting" } },
    el("summary", {}, "Ways of cutting"),
    usual,
    named,
    el(
      "div",
      { class: "fields" },
      el(
        "div",
        { class: "field" },
        el("label", { for: id }, "Name of another way"),
        name,
        el("p", { class: "help" }, "Such as sponsor; a sheet or bar then names it."),
      ),
    ),
    el("p", { class: "doing" }, button("Add this way", add, { small: true, test: "add-way" })),
  );
  let shown = "";
  let blocks = [];
  node.refresh = () => {
    const names = namedWays();
    if (JSON.stringify(names) !== shown) {
      shown = JSON.stringify(names);
      blocks = names.map((word) => wayFields(() => ["cutting", word], `“${word}”`, 2));
      fill(
        named,
        names.map((word, i) => [
          blocks[i],
          el(
            "p",
            { class: "doing" },
            button(`Delete way “${word}”`, () => change(drop(now(), ["cutting", word], 1)), { small: true }),
          ),
        ]),
      );
    }
    for (const one of [usual, ...blocks]) one.refresh();
  };
  node.told = () => [usual, ...blocks].forEach((one) => one.told());
  node.refresh();
  return node;
}

function wayFields(path, title, keep) {
  const parts = fieldsOf(WAY, path, keep);
  const node = el("fieldset", { class: "inner" }, el("legend", {}, title), el("div", { class: "fields" }, parts));
  node.refresh = () => {
    const way = now(path()) ?? {};
    parts.forEach((one, i) => {
      const { key, only } = WAY[i];
      one.hidden = only !== undefined && !only.includes(way.how ?? now(["cutting", "how"])) && !(key in way);
      one.refresh();
    });
  };
  node.told = () => parts.forEach((one) => one.told());
  return node;
}

function sinceBlock() {
  const list = el("ul");
  const file = el("p");
  const title = el("summary", {}, "Nothing changed since saving");
  const node = el("details", { class: "section", data: { test: "since-saving" } }, title, list);
  const whole = el(
    "div",
    {},
    file,
    el("p", { class: "doing" }, button("Save (Ctrl+S)", save, { test: "save-here" })),
    node,
  );
  whole.refresh = () => {
    file.textContent = job.name
      ? `File ${job.name} in the folder ${job.folder}.`
      : "This job has no file yet: it is a starter to change into your own.";
    const lines = changed() ? changes(job.saved, now()) : [];
    title.textContent = lines.length ? `Changed since saving: ${lines.length}` : "Nothing changed since saving";
    fill(
      list,
      lines.map((line) => el("li", {}, line)),
    );
  };
  whole.refresh();
  return whole;
}
