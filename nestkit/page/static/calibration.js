/** The printer's own scale: print the test page, measure it with a rule, type the readings. */

import { button, el, fill, freshId } from "./dom.js";
import { change, now } from "./draft.js";
import { faultBlock, said } from "./fault.js";
import { download, post } from "./server.js";
import { set } from "./tree.js";

/** Return the block; the scales found go into the job. */
export function calibrationBlock() {
  const read = [
    ["x", 0, "Across, first reading"],
    ["x", 1, "Across, second reading"],
    ["y", 0, "Along, first reading"],
    ["y", 1, "Along, second reading"],
  ].map(([axis, number, words]) => reading(axis, number, words));
  const to = reading("to", 0, "Read to");
  const result = el("div", { "aria-live": "polite", data: { test: "calibrated" } });
  const paper = () => now(["printing", "paper"]) ?? (now(["unit"]) === "in" ? "letter" : "A4");
  const page = button(
    "Take the print test",
    async () => {
      try {
        await download("print_test", "print-test.pdf", { tree: now(), paper: paper() });
      } catch (fault) {
        fill(result, faultBlock(fault));
      }
    },
    { test: "print-test" },
  );
  const reckon = button(
    "Reckon the scale",
    async () => {
      const values = (axis) =>
        read
          .filter((one) => one.axis === axis)
          .map(({ input }) => input.value.trim())
          .filter(Boolean);
      try {
        const body = {
          tree: now(),
          paper: paper(),
          x: values("x"),
          y: values("y"),
          ...(to.input.value.trim() && { read_to: to.input.value.trim() }),
        };
        fill(result, answerBlock(await post("calibrate", body)));
      } catch (fault) {
        fill(result, faultBlock(fault));
      }
    },
    { test: "calibrate" },
  );
  return el(
    "details",
    { class: "section", data: { test: "calibration" } },
    el("summary", {}, "Printer scale: measure it"),
    el(
      "ol",
      {},
      el("li", {}, "Print the test page at 100 %. ", page),
      el("li", {}, "Measure each of its lines twice with a steel rule, always to the same edge of the line."),
      el("li", {}, "Type what you read."),
    ),
    el(
      "div",
      { class: "fields" },
      read.map(({ node }) => node),
      to.node,
    ),
    el("p", { class: "doing" }, reckon),
    result,
  );
}

function reading(axis, number, words) {
  const id = freshId("reading");
  const input = el("input", { id, type: "text", autocomplete: "off", data: { test: `reading-${axis}-${number}` } });
  const help = axis === "to" ? el("p", { class: "help" }, "The finest mark of the rule, such as 1/64.") : null;
  return { axis, input, node: el("div", { class: "field" }, el("label", { for: id }, words), input, help) };
}

function answerBlock(answer) {
  if (answer.refused) return el("p", { class: "mistake" }, answer.refused);
  const keep = button(
    "Use these for the job",
    () => {
      change(set(set(now(), ["printing", "scale_x"], answer.scale_x), ["printing", "scale_y"], answer.scale_y));
    },
    { test: "use-scale" },
  );
  return [
    el("p", { class: "large" }, `${answer.scale_x} and ${answer.scale_y}`),
    said(answer.say),
    el("p", { class: "doing" }, keep),
  ];
}
