/** Whether the holes that one set of screws goes through will meet: each joint's picture, chance and advice. */

import { button, el, fill } from "./dom.js";
import { now } from "./draft.js";
import { faultBlock, said } from "./fault.js";
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
    const { lead, joints, hardware, drills } = kept.answer;
    fill(
      result,
      joints.length ? el("p", { class: "large" }, lead) : null,
      joints.length
        ? joints.map(jointBlock)
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
  if (kept.answer) show();
  if (kept.tree !== now()) reckon();
  node.refresh();
  return node;
}

function jointBlock(joint) {
  const drawn = picture(joint.svg, `Joint ${joint.name}`);
  return el(
    "section",
    { class: "joint" },
    el("h2", {}, joint.name),
    el("p", { class: "large" }, joint.say),
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
