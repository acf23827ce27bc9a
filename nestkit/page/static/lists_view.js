/** A view with one item drawn large and lists below it: parts to make, or what they can be cut from. */

import { el, put } from "./dom.js";
import { job, now } from "./draft.js";
import { dropZone } from "./drop.js";
import { adviceLink, findingsBlock } from "./findings.js";
import { focusInLists } from "./goto.js";
import { hint } from "./hints.js";
import { itemList } from "./item_list.js";
import { itemPicture } from "./item_picture.js";
import { KINDS } from "./keys.js";

const kept = new Map();

/** Return a view of kinds of items. `fresh(kind)` makes a new item of a kind, or returns null. */
function listsView({ name, heading, words, kinds, fresh, advice, drop }) {
  const drawing = itemPicture(words, (path) => {
    const list = lists.find((one) => one.dataset.list === path[0]);
    list.openRow(path[1]);
    list.querySelector(`ol > li:nth-child(${path[1] + 1}) [data-test=add-holes]`).click();
  });
  const first = () => {
    const kind = kinds.find((one) => KINDS[one].drawn && (now([KINDS[one].list]) ?? []).length);
    return kind ? [KINDS[kind].list, 0] : null;
  };
  let chosen = kept.get(name) ?? first();
  const choose = (path) => {
    if (KINDS[path[0]]?.drawn === undefined) return;
    chosen = path;
    kept.set(name, path);
    drawing.show(path);
    lists.forEach((list) => list.mark());
  };
  const lists = kinds.map((key) => itemList(KINDS[key], { choose, chosen: () => chosen, fresh: fresh[key] ?? null }));
  const found = findingsBlock();
  const advised = adviceLink(found);
  const node = el(
    "div",
    { class: `view view-${name}` },
    el("h1", { tabindex: "-1" }, heading),
    hint(
      name,
      name === "parts" && job.starter
        ? `This is a small job to begin with: change it into your own. ${advice}`
        : advice,
    ),
    advised,
    drawing,
    lists,
  );
  node.go = (path) => {
    choose(path.slice(0, 2));
    return focusInLists(lists, path);
  };
  put(node, drop ? dropZone(choose, node) : null, found);
  node.refresh = (how) => {
    if (!chosen || now(chosen) === undefined) chosen = stillThere(chosen) ?? first();
    lists.forEach((list) => list.refresh());
    if (how === "typed") drawing.redraw();
    drawing.show(chosen);
  };
  node.told = () => {
    lists.forEach((list) => list.told());
    found.refresh();
    advised.refresh();
  };
  drawing.show(chosen);
  return node;
}

function stillThere(path) {
  const count = path ? (now([path[0]]) ?? []).length : 0;
  return count ? [path[0], Math.min(path[1], count - 1)] : null;
}

function likeLast(list, keys) {
  const last = (now([list]) ?? []).at(-1) ?? {};
  return Object.fromEntries(keys.filter((key) => key in last).map((key) => [key, last[key]]));
}

function firstSheet() {
  const { material, thickness, sold_as } = (now(["sheet"]) ?? [])[0] ?? {};
  const thick = sold_as ?? thickness;
  return { ...(material && { material }), ...(thick && { thickness: thick }) };
}

// A new item says what cannot be guessed as empty, so that its mistake stands at the very field.
const emptied = (keys, item) => ({ ...Object.fromEntries(keys.map((key) => [key, ""])), ...item });

export function partsView() {
  return listsView({
    name: "parts",
    heading: "Parts to make",
    words: "The part at work",
    kinds: ["panel", "tube", "bought", "import"],
    advice:
      "Click in a part's row and change a number: it is drawn above as you type. Lengths are typed as they are said, such as 18 3/4.",
    drop: true,
    fresh: {
      panel: () =>
        emptied(["name", "material", "thickness", "size"], {
          ...firstSheet(),
          ...likeLast("panel", ["material", "thickness"]),
        }),
      tube: () => emptied(["name", "material", "section", "length"], likeLast("tube", ["material", "section"])),
      bought: () => emptied(["name"], { quantity: 1 }),
    },
  });
}

export function stockView() {
  return listsView({
    name: "stock",
    heading: "What we can cut from",
    words: "The stock at work",
    kinds: ["sheet", "bar", "hold"],
    advice:
      "Measure the thickness with a caliper: a sheet sold as 1/8 in is often .118 in. “More” holds regions that must stay clear, such as a scratch.",
    fresh: {
      sheet: () =>
        emptied(["name", "material", "thickness", "size"], likeLast("sheet", ["material", "thickness", "sold_as"])),
      bar: () => emptied(["name", "material", "section", "length"], likeLast("bar", ["material", "section"])),
    },
  });
}
