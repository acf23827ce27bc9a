/** Takes the server's pictures into the page, and makes marks of our own in them. */

const SVG = "http://www.w3.org/2000/svg";
const BANNED = new Set([
  "script",
  "foreignobject",
  "iframe",
  "object",
  "embed",
  "style",
  "animate",
  "set",
  "a",
  "image",
  "use",
]);

/**
 * Return the picture in an SVG text as an element of this page, or null if the text is no SVG.
 * Whatever could act or load is taken out, although the server's pictures have none of it.
 */
export function picture(text, label = "") {
  if (!text) return null;
  const found = new DOMParser().parseFromString(text, "image/svg+xml");
  const root = found.documentElement;
  if (root.namespaceURI !== SVG || root.localName !== "svg" || found.querySelector("parsererror")) return null;
  for (const node of [root, ...root.querySelectorAll("*")]) clean(node);
  const own = document.importNode(root, true);
  own.setAttribute("role", "img");
  own.setAttribute("focusable", "false");
  if (label) own.setAttribute("aria-label", label);
  return own;
}

function clean(node) {
  if (BANNED.has(node.localName.toLowerCase())) {
    node.remove();
    return;
  }
  for (const { name, value } of [...node.attributes]) {
    const low = name.toLowerCase();
    const points = low === "href" || low.endsWith(":href");
    const loads = /url\(\s*['"]?(?!#)/i.test(value);
    if (low.startsWith("on") || low === "style" || points || loads) node.removeAttribute(name);
  }
}

/** Return a new SVG element with attributes. */
export function mark(tag, attributes = {}, ...children) {
  const node = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, String(value));
  node.append(...children);
  return node;
}

/** Return the four numbers of a picture's viewBox. */
export function boxOf(svg) {
  const [x, y, width, height] = svg
    .getAttribute("viewBox")
    .split(/[\s,]+/)
    .map(Number);
  return { x, y, width, height };
}
