/** The item at work, drawn large and to scale as it is typed; its holes with number, drill and place. */

import { counted, el, fill } from "./dom.js";
import { now } from "./draft.js";
import { mistakesAt, takeFor } from "./mistakes.js";
import { Newest, post, refusalText } from "./server.js";
import { picture } from "./svg.js";

const WAIT_MS = 25;

/** Return the picture's section; `show(path)` draws an item, `redraw()` draws it again after a change. */
export function itemPicture(words) {
  const title = el("p", { class: "large", data: { test: "part-title" } });
  const frame = el("div", { class: "drawing", data: { test: "part-picture" } });
  const understood = el("p", { class: "understood", data: { test: "understood" } });
  const state = el("p", { class: "state", role: "status" });
  const hands = el("div", { class: "hands" });
  const holes = el("details", { class: "holes", hidden: true, data: { test: "holes" } });
  const node = el(
    "section",
    { class: "at-work", "aria-label": words },
    el("div", { class: "sticky" }, title, frame, state),
    understood,
    hands,
    holes,
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
  hands.append(otherHand, el("label", { for: "other-hand" }, "Show the opposite hand"));

  async function draw() {
    if (!path || now(path) === undefined) {
      clear();
      return;
    }
    const asked = path;
    drawn = now(path);
    hands.hidden = path[0] === "sheet" || path[0] === "bar";
    otherHand.disabled = hands.hidden || !(Number(now([...path, "opposite_hand"])) > 0);
    try {
      const answer = await newest.run((signal) =>
        post("part", { tree: now(), path: asked, opposite_hand: opposite && !otherHand.disabled }, signal),
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
    state.textContent = drawing || !count ? "" : `Drawn as it was before: ${counted(count, "mistake")} below.`;
    fillHoles(holes, answer.holes ?? []);
    answerGroups(answer.holes ?? []);
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

function fillHoles(node, holes) {
  // It keeps its place also without holes, so that nothing below moves from part to part.
  node.hidden = false;
  const open = node.open;
  const rows = holes.map((hole) =>
    el(
      "tr",
      {},
      [
        ["Hole", hole.number],
        ["Group", hole.group],
        ["Drill", hole.drill],
        ["x", hole.x],
        ["y", hole.y],
      ].map(([head, text]) => el("td", { data: { head } }, text ?? "")),
    ),
  );
  const head = el(
    "thead",
    {},
    el(
      "tr",
      {},
      ["Hole", "Group", "Drill", "x", "y"].map((word) => el("th", { scope: "col" }, word)),
    ),
  );
  fill(
    node,
    el("summary", {}, holes.length ? counted(holes.length, "hole") : "No holes"),
    el("table", { class: "stacking" }, head, el("tbody", {}, rows)),
  );
  node.open = open;
}

/** Put the table's answer - which drill - beside each group's typed line. */
function answerGroups(holes) {
  for (const answer of document.querySelectorAll("output.answer")) {
    const drills = [
      ...new Set(holes.filter((hole) => JSON.stringify(hole.path) === answer.dataset.group).map(({ drill }) => drill)),
    ];
    answer.textContent = drills.length ? `drill ${drills.join(", ")}` : "";
  }
}
