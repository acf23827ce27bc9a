/** Regions of a sheet that must stay clear: a scratch, a knot, a clamp; typed, or drawn with the mouse. */

import { button, el, fill, freshId } from "./dom.js";
import { change, now } from "./draft.js";
import { drop, insert } from "./tree.js";
import { pairShown, typed } from "./values.js";

const PER_INCH = 25.4;

/** Return the block for a sheet of a result; `draw(act)` lets somebody draw a box in its picture, in mm. */
export function keepClearBlock(sheet, draw) {
  const index = (now(["sheet"]) ?? []).findIndex(({ name }) => name === sheet.stock);
  if (index < 0) return null;
  const path = ["sheet", index, "keep_clear"];
  const inputs = Object.fromEntries(
    [
      ["x", "From left"],
      ["y", "From bottom"],
      ["w", "Width"],
      ["h", "Height"],
      ["why", "Why"],
    ].map(([key, words]) => [key, labelled(key, words)]),
  );
  const only = el("input", { type: "checkbox", id: freshId("only"), data: { test: "keep-only" }, checked: true });
  const said = el("p", { class: "mistake", role: "status" });
  const here = el("ul", { class: "plain" });
  const add = () => {
    const missing = ["x", "y", "w", "h"].find((key) => inputs[key].input.value.trim() === "");
    said.textContent = missing ? `${inputs[missing].words}: type a length, such as 3 1/2.` : "";
    if (missing) {
      inputs[missing].input.focus();
      return;
    }
    const value = (key) => typed(inputs[key].input.value);
    const why = inputs.why.input.value.trim();
    const region = {
      at: [value("x"), value("y")],
      size: [value("w"), value("h")],
      ...(only.checked && { on: sheet.number }),
      ...(why && { why }),
    };
    change(insert(now(), path, (now(path) ?? []).length, region));
  };
  const drawn = button(
    "Draw it in the picture",
    () => {
      said.textContent = "Drag a box over the picture of the sheet.";
      draw((box) => {
        said.textContent = "";
        const unit = now(["unit"]);
        for (const [key, mm] of [
          ["x", box.x],
          ["y", box.y],
          ["w", box.width],
          ["h", box.height],
        ])
          inputs[key].input.value = inUnit(mm, unit);
        inputs.why.input.focus();
      });
    },
    { small: true, test: "keep-draw" },
  );
  const node = el(
    "details",
    { class: "section", data: { test: "keep-clear" } },
    el("summary", {}, "Keep a region clear"),
    el("p", { class: "help" }, "A scratch, a knot, a clamp: no part is laid there."),
    here,
    el(
      "div",
      { class: "fields" },
      Object.values(inputs).map((one) => one.node),
    ),
    el(
      "p",
      { class: "field as-yes" },
      only,
      el("label", { for: only.id }, `Only on number ${sheet.number} of ${sheet.stock}`),
    ),
    said,
    el("p", { class: "doing" }, drawn, button("Keep this region clear", add, { test: "keep-add" })),
  );
  node.refresh = () => {
    const regions = (now(path) ?? [])
      .map((region, i) => [region, i])
      .filter(([region]) => region.on === undefined || Number(region.on) === sheet.number);
    fill(
      here,
      regions.map(([region, i]) =>
        el(
          "li",
          {},
          words(region),
          " ",
          button("Let it be used again", () => change(drop(now(), [...path, i], 2)), {
            small: true,
            test: "keep-remove",
          }),
        ),
      ),
    );
  };
  node.refresh();
  return node;
}

function words(region) {
  const size = region.disc === undefined ? pairShown(region.size, " x ") : `disc ${region.disc}`;
  return `${size} at ${pairShown(region.at, ", ")}${region.why ? `: ${region.why}` : ""}`;
}

function labelled(key, words) {
  const id = freshId("region");
  const input = el("input", { id, type: "text", autocomplete: "off", data: { test: `keep-${key}` } });
  return { words, input, node: el("div", { class: "field" }, el("label", { for: id }, words), input) };
}

/** Return millimetres as a decimal in the job's unit, as fine as a mouse can point. */
function inUnit(mm, unit) {
  const value = unit === "in" ? (mm / PER_INCH).toFixed(2) : mm.toFixed(0);
  return String(Number(value));
}
