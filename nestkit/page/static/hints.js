/** A first-time hint: one sentence where a newcomer would stop, until it is put away. */

import { button, el } from "./dom.js";

const stem = "nestkit-hint/";

/** Return the hint of a name, or null if it was put away in this browser. */
export function hint(name, words) {
  if (!words || localStorage.getItem(stem + name)) return null;
  const node = el("p", { class: "hint", data: { test: "hint" } }, words, " ");
  node.append(
    button(
      "Got it",
      () => {
        localStorage.setItem(stem + name, "seen");
        node.parentElement?.querySelector("h1")?.focus();
        node.remove();
      },
      { small: true, test: "hint-away" },
    ),
  );
  return node;
}
