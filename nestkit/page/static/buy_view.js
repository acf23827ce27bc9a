/** What to buy: the sentence that answers it, the rows, and what another way would take. */

import { button, el, fill } from "./dom.js";
import { now } from "./draft.js";
import { faultBlock } from "./fault.js";
import { hint } from "./hints.js";
import { layOut, onRun, outdated, run } from "./layout_run.js";
import { decimal } from "./lengths.js";
import { columnsOf, table } from "./rows.js";
import { Newest, post } from "./server.js";
import { choices } from "./words.js";

const LEFT_OUT = ["cost"];
const HEADS = {
  cost_text: "Cost",
  stock: "Stock",
  material: "Material",
  thickness: "Thickness",
  size: "Size",
  buy: "Buy",
  on_hand: "Here already",
  price: "Price",
  cost: "Cost",
  say: "",
};
const newest = new Newest();

export function buyView() {
  const say = el("p", { class: "say", role: "status" });
  const lead = el("p", { class: "large", data: { test: "buy-lead" } });
  const rows = el("div", { data: { test: "buy-rows" } });
  const again = button("Lay out again", () => layOut("normal"), { test: "lay-out" });
  const node = el(
    "div",
    { class: "view view-buy" },
    el("h1", { tabindex: "-1" }, "What to buy"),
    lead,
    say,
    el("p", { class: "doing" }, again),
    rows,
    whatIf(),
  );
  let shown = null;
  node.refresh = () => {
    const old = run.result !== null && outdated();
    say.textContent =
      run.state === "working"
        ? run.say
        : run.fault
          ? (run.fault.error ?? "")
          : old
            ? "The job was changed since this was reckoned."
            : "";
    again.hidden = run.state === "working" || !(old || run.fault);
    if (run.result === shown) return;
    shown = run.result;
    lead.textContent = shown.lead ?? "";
    lead.toggleAttribute("data-long", lead.textContent.length > 90);
    const list = (shown.buy ?? []).map(readable);
    fill(
      rows,
      list.length
        ? table(
            list,
            columnsOf(list, HEADS).filter(([key]) => !LEFT_OUT.includes(key)),
            { stock: "size", buy: "size" },
          )
        : el("p", {}, "Nothing to buy."),
    );
  };
  node.told = () => {};
  node.leave = onRun(() => node.refresh());
  node.refresh();
  if (run.state === "none") layOut("normal");
  return node;
}

// Figures as people write them: money with two decimals, thickness no finer than a caliper reads.
function readable(row) {
  const price = typeof row.price === "number" ? row.price.toFixed(2) : row.price;
  const thickness = /^\d*\.?\d+$/.test(row.thickness) ? decimal(Number(row.thickness), 4) : row.thickness;
  return { ...row, price, thickness };
}

/** Another way: the cases chosen, laid out by the server and shown side by side. */
function whatIf() {
  const spare = el("input", {
    type: "number",
    id: "if-spare",
    min: 0,
    max: 99,
    value: "1",
    data: { test: "if-spare" },
  });
  const bought = [...(now(["sheet"]) ?? []), ...(now(["bar"]) ?? [])].filter(({ name, buy }) => name && buy !== false);
  const stock = bought.map(({ name }, i) => ({
    name,
    box: el("input", { type: "checkbox", id: `if-stock-${i}`, data: { test: "if-stock" } }),
  }));
  const usual = now(["cutting", "how"]);
  const hows = choices("ways").filter((how) => how !== usual);
  const how = el(
    "select",
    { id: "if-how", data: { test: "if-how" } },
    el("option", { value: "" }, "no other"),
    hows.map((word) => el("option", { value: word }, word)),
  );
  const result = el("div", { class: "cases", "aria-live": "polite", data: { test: "cases" } });
  const compare = async () => {
    const cases = casesOf(
      Number(spare.value) || 0,
      stock.filter(({ box }) => box.checked).map(({ name }) => name),
      how.value,
    );
    fill(result, el("p", {}, "Laying each of them out ..."));
    try {
      const answer = await newest.run((signal) => post("what_if", { tree: now(), cases }, signal));
      if (answer)
        fill(result, [
          el(
            "p",
            { class: "help whole" },
            "Each laid out by a quick look, so that they can be compared; bold is what differs from the job as it is.",
          ),
          answer.cases.map((one) => caseCard(one, answer.cases[0])),
        ]);
    } catch (fault) {
      fill(result, faultBlock(fault));
    }
  };
  return el(
    "section",
    { class: "what-if", "aria-labelledby": "if-title" },
    el("h2", { id: "if-title" }, "Try another way"),
    hint("what-if", "Compare before you buy: one spare of each part often costs no further sheet."),
    el(
      "div",
      { class: "fields" },
      el("div", { class: "field" }, el("label", { for: "if-spare" }, "So many spares more of each part"), spare),
      el("div", { class: "field" }, el("label", { for: "if-how" }, "Another way of cutting all sheets"), how),
    ),
    stock.length > 1
      ? el(
          "fieldset",
          { class: "inner" },
          el("legend", {}, "Leave out, as if it were not to be had"),
          stock.map(({ name, box }) => el("p", { class: "field as-yes" }, box, el("label", { for: box.id }, name))),
        )
      : null,
    el("p", { class: "doing" }, button("Compare", compare, { test: "compare" })),
    result,
  );
}

function casesOf(spare, without, how) {
  const cases = [];
  if (spare > 0) cases.push({ name: `${spare} more spare of each part`, spare });
  for (const name of without) cases.push({ name: `Without ${name}`, without_stock: [name] });
  if (how) cases.push({ name: `By ${how}`, how });
  return cases;
}

function wordsOf(one) {
  return (one.buy ?? []).filter(({ buy }) => Number(buy) !== 0).map((row) => row.say ?? `${row.buy} x ${row.stock}`);
}

function caseCard(one, first) {
  const usual = new Set(wordsOf(first));
  const lines = wordsOf(one).map((words) => el("li", {}, usual.has(words) ? words : el("strong", {}, words)));
  const body = one.error
    ? el(
        "p",
        { class: "mistake" },
        typeof one.error === "string" ? one.error : `${one.error.error} ${one.error.remedy ?? ""}`,
      )
    : [
        el("p", { class: "large" }, one.cost_text || (one.cost ?? "")),
        el("p", {}, one.verdict ?? one.say ?? ""),
        lines.length ? el("ul", {}, lines) : null,
      ];
  return el("section", { class: "case" }, el("h3", {}, one.name === "as it is" ? "The job as it is" : one.name), body);
}
