/** Boxes that ask something before the work goes on. */

import { el } from "./dom.js";

/** Open a box with a heading; it is gone once closed. */
export function dialog(title, ...content) {
  const heading = el("h2", { id: "dialog-title", tabindex: "-1" }, title);
  const box = el("dialog", { "aria-labelledby": heading.id, on: { close: () => box.remove() } }, heading, content);
  document.body.append(box);
  box.showModal();
  return box;
}

/** Close whatever is open. */
export function closeBoxes() {
  for (const box of document.querySelectorAll("dialog[open]")) box.close();
}
