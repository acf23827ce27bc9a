/** Whether the holes that one set of screws goes through will meet: each joint's picture, chance and advice. */

import { button, el, fill } from "./dom.js";
import { now } from "./draft.js";
import { faultBlock, said } from "./fault.js";
import { focusInLists } from "./goto.js";
import { hint } from "./hints.js";
import { itemList } from "./item_list.js";
import { KINDS } from "./keys.js";
import { sentence } from "./mistakes.js";
import { columnsOf, table } from "./rows.js";
import { Newest, post } from "./server.js";
import { picture } from "./svg.js";

const newest = new Newest();
// The last answer and the job that it is about, so that coming back costs nothing.
let kept = { tree: null, answer: null };

export function jointsView() {
  const state = el("p", { class: "say", role: "status" });
  const result = el("div", { data: { test: "joints" } });
  const again = button("Reckon again", reckon, { test: "fit" });
  const list = itemList(KINDS.joint, { fresh: () => ({ name: "", screw: "", through: [] }) });
  const node = el(
    "div",
    { class: "view view-joints" },
    el("h1", { tabindex: "-1" }, "Do the joints fit"),
    hint(
      "joints",
      "A joint names the groups of holes that one set of screws goes through, such as console lid / hinge; grab handle / feet.",
    ),
    state,
    el("p", { class: "doing" }, again),
    result,
    list,
  );

  async function reckon() {
    state.textContent = "Reckoning ...";
    const tree = now();
    try {
      const answer = await newest.run((signal) => post("fit", { tree }, signal));
      if (!answer) return;
      kept = { tree, answer };
      state.textContent = "";
      show();
    } catch (fault) {
      state.textContent = "";
      fill(result, faultBlock(fault));
    }
    node.refresh();
  }
  const show = () => {
    const { lead, hardware, drills } = kept.answer;
    const joints = weakestFirst(kept.answer.joints);
    fill(
      result,
      joints.length ? el("p", { class: "large" }, lead) : null,
      joints.length ? allJoints(joints) : null,
      joints.length
        ? joints.map((joint) => jointBlock(joint, changeOf(joint, list)))
        : el("p", {}, "No joints yet. Add one below to learn whether its holes will meet."),
      listBlock("Hardware", hardware),
      listBlock("Drills", drills),
    );
  };
  node.refresh = () => {
    list.refresh();
    const old = kept.answer !== null && kept.tree !== now();
    again.hidden = !old;
    if (old) state.textContent = "Changed since this was reckoned.";
  };
  node.told = () => list.told();
  node.go = (path) => focusInLists([list], path);
  if (kept.answer) show();
  if (kept.tree !== now()) reckon();
  node.refresh();
  return node;
}

// Those that do not go together come first, then those of small chance; those of which no chance is known come last.
function weakestFirst(joints) {
  const rank = ({ faults, chance }) => (faults.length ? -1 : (chance ?? 2));
  return [...joints].sort((one, other) => rank(one) - rank(other));
}

/** Every joint in a line, the weakest first, each with what leads to its picture. */
function allJoints(joints) {
  if (joints.length < 2) return null;
  const rows = joints.map((joint, i) => ({
    name: joint.name,
    say: joint.faults.length ? sentence(joint.faults[0]) : joint.say,
    look: button("Look at it", () => document.querySelectorAll(".joint h2")[i].focus(), {
      small: true,
      "aria-label": `Look at ${joint.name}`,
      test: "look-at-joint",
    }),
  }));
  return table(rows, [
    ["name", "Joint"],
    ["say", "How it goes"],
    ["look", ""],
  ]);
}

/** Return a button that leads to the form of a joint, or null where the job no longer has it. */
function changeOf(joint, list) {
  const index = (now(["joint"]) ?? []).findIndex(({ name }) => String(name ?? "").trim() === joint.name);
  if (index < 0) return null;
  return button("Change this joint", () => focusInLists([list], ["joint", index]), {
    small: true,
    "aria-label": `Change this joint: ${joint.name}`,
    test: "change-joint",
  });
}

function jointBlock(joint, change) {
  const drawn = picture(joint.svg, `Joint ${joint.name}`);
  return el(
    "section",
    { class: "joint" },
    el("h2", { tabindex: "-1" }, joint.name),
    el("p", { class: "large" }, joint.say),
    change ? el("p", { class: "doing" }, change) : null,
    said(joint.chance_text),
    joint.faults.map((fault) => el("p", { class: "mistake" }, sentence(fault))),
    drawn ? el("figure", {}, drawn) : null,
    said(joint.advice ?? [], "advice"),
    el(
      "details",
      {},
      el("summary", {}, "How this was reckoned"),
      el(
        "dl",
        {},
        joint.rows.map(([key, text]) => [el("dt", {}, key), el("dd", {}, text)]),
      ),
    ),
  );
}

function listBlock(title, rows) {
  if (!rows || rows.length === 0) return null;
  return el(
    "section",
    {},
    el("h2", {}, title),
    typeof rows[0] === "object"
      ? table(rows, columnsOf(rows))
      : el(
          "ul",
          {},
          rows.map((row) => el("li", {}, row)),
        ),
  );
}
