/** One sheet, large: its picture, its parts to point at or to choose from a list, its saw cuts, a region drawn. */

import { el, fill } from "./dom.js";
import { piecesOf } from "./pieces.js";
import { mark, picture } from "./svg.js";
import { zoomed } from "./zoom.js";

// In units of the picture: a number on a cut is a little smaller.
const ROOM_AROUND_CUT = 3;
let prints = 0;

/**
 * Return the picture of a sheet of a result. `onPart(index)` is called when a part is chosen in it, `onHover(index)`
 * when one is pointed at (null: none). The node has `choose(index)`, `showCuts(cuts)`, `drawRegion(act)`.
 */
export function sheetView(sheet, { onPart, onHover }) {
  const svg = picture(sheet.svg, sheet.title);
  const frame = el("div", {
    class: "sheet-frame",
    tabindex: "0",
    role: "group",
    "aria-label": `${sheet.title}. Keys: plus and minus zoom, arrows move, 0 shows the whole sheet.`,
    data: { test: "sheet" },
  });
  const node = el("div", { class: "sheet-view" });
  if (!svg) return Object.assign(node, { choose() {}, showCuts() {}, drawRegion() {} });
  let region = null;
  const zoom = zoomed(svg, frame, () => region !== null);
  frame.append(svg);
  node.append(frame, zoom.tools);
  const { x, y, per_mm: per } = sheet.frame;
  const over = mark("g", {
    transform: `translate(${x} ${y}) scale(${per} ${-per})`,
    class: "over",
    "aria-hidden": "true",
  });
  const hatch = hatchOf(per);
  const pieces = piecesOf(sheet);
  const shapes = sheet.parts.map((part, i) => partShape(part, i, onPart, onHover));
  const extra = mark("g", { class: "extra" });
  over.append(...shapes, extra);
  svg.append(mark("defs", {}, hatch), over);
  const inMm = (event) => {
    const spot = zoom.place(event);
    return { x: (spot.x - x) / per, y: (y - spot.y) / per };
  };
  node.choose = (index) => {
    shapes.forEach((shape, i) => {
      shape.classList.toggle("chosen", i === index);
      if (i === index) shape.setAttribute("fill", `url(#${hatch.id})`);
      else shape.setAttribute("fill", "transparent");
    });
  };
  node.showCuts = (cuts) =>
    fill(
      extra,
      [...new Set(cuts.map(({ piece }) => piece))].map((piece) => pieceShape(pieces.get(piece), hatch)),
      cuts.map((cut) => cutShape(cut, sheet)),
    );
  node.drawRegion = (act) => {
    region = act;
    frame.toggleAttribute("data-drawing", Boolean(act));
    if (act) frame.focus();
  };
  regionDrag(frame, extra, inMm, sheet, () => region, node);
  return node;
}

function hatchOf(per) {
  prints += 1;
  const pitch = 3 / per;
  const line = mark("line", { x1: 0, y1: 0, x2: 0, y2: pitch, stroke: "#000", "stroke-width": pitch / 6 });
  return mark(
    "pattern",
    {
      id: `chosen-hatch-${prints}`,
      width: pitch,
      height: pitch,
      patternUnits: "userSpaceOnUse",
      patternTransform: "rotate(45)",
    },
    line,
  );
}

function partShape(part, index, onPart, onHover) {
  const shape = mark("path", {
    d: part.outline,
    class: part.held ? "part held" : "part",
    fill: "transparent",
    "vector-effect": "non-scaling-stroke",
    "data-part": index,
  });
  shape.append(mark("title", {}, `${part.part} ${part.copy}`));
  shape.addEventListener("click", () => onPart(index));
  shape.addEventListener("pointerenter", () => onHover(index));
  shape.addEventListener("pointerleave", () => onHover(null));
  return shape;
}

/** The piece that is sawn, hatched. */
function pieceShape(box, hatch) {
  return box ? mark("rect", { ...box, class: "piece", fill: `url(#${hatch.id})` }) : null;
}

/**
 * A frame around a cut, which is as wide as the blade and lies from `at_mm` on, along y for axis "x". It leaves room
 * for the number that the picture has on the cut.
 */
function cutShape(cut, sheet) {
  const room = ROOM_AROUND_CUT / sheet.frame.per_mm;
  const wide = (sheet.kerf_mm ?? 0) + 2 * room;
  const long = cut.to_mm - cut.from_mm;
  const box =
    cut.axis === "x"
      ? { x: cut.at_mm - room, y: cut.from_mm, width: wide, height: long }
      : { x: cut.from_mm, y: cut.at_mm - room, width: long, height: wide };
  return mark("rect", { ...box, class: "cut", "vector-effect": "non-scaling-stroke" });
}

function regionDrag(frame, extra, inMm, sheet, wanted, node) {
  let from = null;
  let box = null;
  frame.addEventListener("pointerdown", (event) => {
    if (!wanted() || event.button !== 0) return;
    event.preventDefault();
    frame.setPointerCapture(event.pointerId);
    from = inMm(event);
  });
  frame.addEventListener("pointermove", (event) => {
    if (!from) return;
    box = between(from, inMm(event), sheet);
    fill(extra, mark("rect", { ...box, class: "region", "vector-effect": "non-scaling-stroke" }));
  });
  frame.addEventListener("pointerup", () => {
    const act = wanted();
    if (from && box && box.width > 0 && box.height > 0 && act) {
      node.drawRegion(null);
      act(box);
    }
    from = box = null;
  });
}

/** The box between two corners, as far as it lies on the sheet. */
function between(one, other, sheet) {
  const inside = (value, most) => Math.min(Math.max(value, 0), most);
  const left = inside(Math.min(one.x, other.x), sheet.width_mm);
  const bottom = inside(Math.min(one.y, other.y), sheet.height_mm);
  const right = inside(Math.max(one.x, other.x), sheet.width_mm);
  const top = inside(Math.max(one.y, other.y), sheet.height_mm);
  return { x: left, y: bottom, width: right - left, height: top - bottom };
}
