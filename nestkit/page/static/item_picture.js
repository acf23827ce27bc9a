/** The item at work, drawn large and to scale as it is typed; its holes with number, drill and place. */

import { button, counted, el, fill } from "./dom.js";
import { now } from "./draft.js";
import { takeHoles } from "./drills.js";
import { mistakesAt, takeFor } from "./mistakes.js";
import { table } from "./rows.js";
import { Newest, post, refusalText } from "./server.js";
import { picture } from "./svg.js";

const WAIT_MS = 25;
const COLUMNS = [
  ["number", "Hole"],
  ["group", "Group"],
  ["drill", "Drill"],
  ["x", "x"],
  ["y", "y"],
];
const WITH_HOLES = ["panel", "tube", "bought"];

/**
 * Return the picture's section; `show(path)` draws an item, `redraw()` draws it again after a change. `addHoles(path)`
 * adds a group of holes to the item drawn.
 */
export function itemPicture(words, addHoles) {
  const title = el("p", { class: "large", data: { test: "part-title" } });
  const frame = el("div", { class: "drawing", data: { test: "part-picture" } });
  const understood = el("p", { class: "understood", data: { test: "understood" } });
  const state = el("p", { class: "state", role: "status" });
  const hands = el("div", { class: "hands" });
  const holes = el("div", { class: "holes", hidden: true, data: { test: "holes" } });
  const edge = el("div", { class: "edge" });
  const sticky = el("div", { class: "sticky" }, el("div", { class: "board" }, title, frame, state));
  // Once it stays on top of what scrolls by, it is drawn lower; its place keeps its height, so that nothing jumps.
  new IntersectionObserver(([seen]) => {
    sticky.toggleAttribute("data-stuck", !seen.isIntersecting && seen.boundingClientRect.top < 0);
  }).observe(edge);
  const node = el(
    "section",
    { class: "at-work", "aria-label": words },
    edge,
    sticky,
    understood,
    holes,
    hands,
  );
  const newest = new Newest();
  let path = null;
  let drawn = null;
  let other = false;
  let opposite = false;
  let waiting = 0;

  const otherHand = el("input", {
    type: "checkbox",
    id: "other-hand",
    data: { test: "other-hand" },
    on: {
      change: (event) => {
        opposite = event.target.checked;
        draw();
      },
    },
  });
  const add = button("Add holes", () => path && addHoles(path), { small: true, test: "add-holes-here" });
  const hand = el("span", {}, otherHand, " ", el("label", { for: "other-hand" }, "Show the opposite hand"));
  hands.append(add, hand);

  async function draw() {
    if (!path || now(path) === undefined) {
      clear();
      return;
    }
    const asked = path;
    drawn = now(path);
    hands.hidden = !WITH_HOLES.includes(path[0]);
    hand.hidden = !(Number(now([...path, "opposite_hand"])) > 0);
    try {
      const answer = await newest.run((signal) =>
        post("part", { tree: now(), path: asked, opposite_hand: opposite && !hand.hidden }, signal),
      );
      if (answer) show(answer, asked);
    } catch (fault) {
      state.textContent = refusalText(fault);
    }
  }

  function show(answer, asked) {
    title.textContent = [now([...asked, "name"]), answer.title].filter(Boolean).join(": ");
    understood.textContent = answer.understood ?? "";
    takeFor(asked, answer.mistakes);
    const drawing = picture(answer.svg, answer.title);
    if (drawing) fill(frame, drawing);
    else if (other) fill(frame);
    other = false;
    frame.toggleAttribute("data-old", !drawing);
    const count = mistakesAt(asked).length;
    state.textContent = drawing ? "" : notDrawn(asked, count, frame.children.length > 0);
    fillHoles(holes, answer.holes ?? []);
    takeHoles(answer.holes ?? []);
    // A drawing of another height moves the list below it: what is typed in stays in sight.
    const focused = document.activeElement;
    if (focused?.closest(".row")) focused.scrollIntoView({ block: "nearest" });
  }

  function clear() {
    fill(frame);
    title.textContent = "Nothing here yet";
    understood.textContent = "";
    hands.hidden = true;
    holes.hidden = true;
  }

  node.show = (wanted) => {
    if (JSON.stringify(wanted) !== JSON.stringify(path)) {
      // The drawing before stays for the moment until the next is there: without it all below would jump.
      other = true;
      opposite = otherHand.checked = false;
    }
    path = wanted;
    if (other || drawn !== now(path ?? [])) draw();
  };
  node.redraw = () => {
    clearTimeout(waiting);
    waiting = setTimeout(draw, WAIT_MS);
  };
  node.path = () => path;
  return node;
}

// Why there is no drawing of the item as it is.
function notDrawn(path, count, before) {
  if (before) return count ? `Drawn as it was before: ${counted(count, "mistake")} below.` : "";
  const key = ["panel", "sheet"].includes(path[0]) ? "size" : "length";
  if (now([...path, key]) === "") return `Type a ${key} to see it drawn.`;
  return count ? `Not drawn: ${counted(count, "mistake")} below.` : "";
}

/** Holes by group in a sentence each, as the picture numbers them; where each one is, folded below. */
function fillHoles(node, holes) {
  const open = node.querySelector("details")?.open ?? false;
  node.hidden = holes.length === 0;
  if (node.hidden) {
    fill(node);
    return;
  }
  const rows = holes.map(({ number, group, drill, x, y }) => ({ number, group, drill, x, y }));
  fill(
    node,
    el("ul", { class: "plain" }, groupsOf(holes).map(groupLine)),
    el("details", { open }, el("summary", {}, `Where they are: ${counted(holes.length, "hole")}`), table(rows, COLUMNS)),
  );
}

function groupsOf(holes) {
  const found = new Map();
  for (const hole of holes) {
    const key = JSON.stringify([hole.group, hole.drill]);
    found.set(key, [...(found.get(key) ?? []), hole]);
  }
  return [...found.values()];
}

function groupLine(holes) {
  const [{ group, drill }] = holes;
  const words = [group, drill ? `drill ${drill}` : ""].filter(Boolean).join(", ");
  return el("li", {}, el("strong", {}, numbersSaid(holes.map(({ number }) => number))), `: ${words}`);
}

// Numbers of holes that follow one another: `1 to 4, 7`.
function numbersSaid(numbers) {
  const runs = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run && number === run.last + 1) run.last = number;
    else runs.push({ first: number, last: number });
  }
  return runs.map(({ first, last }) => (first === last ? `${first}` : `${first} to ${last}`)).join(", ");
}
