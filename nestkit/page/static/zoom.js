/** Zoom and pan of a picture: buttons, wheel, drag, keys. All by its viewBox, so that lines stay sharp. */

import { button, el } from "./dom.js";
import { boxOf } from "./svg.js";

const CLOSEST = 40;
const STEP = 1.4;

/**
 * Make a picture zoom in its frame; return `tools` (buttons), `whole()`, and `place(event)` in the picture's units.
 * While `busy()` the mouse is wanted for something else.
 */
export function zoomed(svg, frame, busy = () => false) {
  const all = boxOf(svg);
  let box = { ...all };
  const put = () => {
    svg.setAttribute("viewBox", `${box.x} ${box.y} ${box.width} ${box.height}`);
    frame.toggleAttribute("data-zoomed", box.width < all.width * 0.999);
  };
  const within = (value, least, most) => Math.min(Math.max(value, least), Math.max(least, most));
  const move = (x, y) => {
    box.x = within(x, all.x, all.x + all.width - box.width);
    box.y = within(y, all.y, all.y + all.height - box.height);
    put();
  };
  const zoom = (factor, at = { x: box.x + box.width / 2, y: box.y + box.height / 2 }) => {
    const width = within(box.width / factor, all.width / CLOSEST, all.width);
    const ratio = width / box.width;
    const x = at.x - (at.x - box.x) * ratio;
    const y = at.y - (at.y - box.y) * ratio;
    box = { ...box, width, height: box.height * ratio };
    move(x, y);
  };
  const whole = () => {
    box = { ...all };
    put();
  };
  const pan = (right, down) => move(box.x + right * box.width, box.y + down * box.height);
  const place = (event) => {
    const spot = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return { x: spot.x, y: spot.y };
  };
  frame.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target !== frame) return;
    const acts = {
      "+": () => zoom(STEP),
      "=": () => zoom(STEP),
      "-": () => zoom(1 / STEP),
      0: whole,
      ArrowLeft: () => pan(-0.15, 0),
      ArrowRight: () => pan(0.15, 0),
      ArrowUp: () => pan(0, -0.15),
      ArrowDown: () => pan(0, 0.15),
    };
    if (!acts[event.key]) return;
    // Whole, there is nothing to pan: the arrows then scroll the page.
    if (event.key.startsWith("Arrow") && !frame.hasAttribute("data-zoomed")) return;
    event.preventDefault();
    acts[event.key]();
  });
  // The wheel scrolls the page until the picture is at work, so that nobody is caught in it.
  frame.addEventListener(
    "wheel",
    (event) => {
      if (!event.ctrlKey && !frame.contains(document.activeElement)) return;
      event.preventDefault();
      zoom(event.deltaY < 0 ? 1.2 : 1 / 1.2, place(event));
    },
    { passive: false },
  );
  dragging(
    frame,
    (event) => !busy() && frame.hasAttribute("data-zoomed") && event.button === 0,
    place,
    (from, to) => move(box.x + from.x - to.x, box.y + from.y - to.y),
  );
  const tools = el(
    "p",
    { class: "doing tools" },
    button("Closer", () => zoom(STEP), { small: true, test: "closer" }),
    button("Farther", () => zoom(1 / STEP), { small: true, test: "farther" }),
    button("Show whole sheet", whole, { small: true, test: "whole" }),
  );
  return { tools, whole, place };
}

/** Call `act(from, to)` in the picture's units while the pointer is dragged; the frame's own unit moves with it. */
function dragging(frame, wanted, place, act) {
  let from = null;
  frame.addEventListener("pointerdown", (event) => {
    if (!wanted(event)) return;
    from = place(event);
  });
  frame.addEventListener("pointermove", (event) => {
    if (!from) return;
    if (!frame.hasPointerCapture(event.pointerId)) frame.setPointerCapture(event.pointerId);
    act(from, place(event));
  });
  for (const end of ["pointerup", "pointercancel"]) frame.addEventListener(end, () => (from = null));
}
