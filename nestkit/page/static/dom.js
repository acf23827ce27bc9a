/** Makes elements. Text always goes in as text, never as markup. */

/**
 * Return a new element. `props`: `class`, `on` (listeners by event), `data` (data-* attributes), booleans
 * as present or absent attributes, anything else as an attribute. Children: nodes, texts, lists; null is left out.
 */
export function el(tag, props = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (value === null || value === undefined || value === false) continue;
    if (name === "on") for (const [event, act] of Object.entries(value)) node.addEventListener(event, act);
    else if (name === "data") Object.assign(node.dataset, value);
    else if (name === "value") node.value = value;
    else if (name === "checked") node.checked = true;
    else node.setAttribute(name, value === true ? "" : String(value));
  }
  put(node, ...children);
  return node;
}

/** Append children to a node. */
export function put(node, ...children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    node.append(child instanceof Node ? child : String(child));
  }
  return node;
}

/** Replace all children of a node. */
export function fill(node, ...children) {
  node.replaceChildren();
  return put(node, ...children);
}

/** Return a button with words on it. `test` is its hook for tests. */
export function button(words, act, { test, small, ...props } = {}) {
  const look = small ? "quiet" : "button";
  return el("button", { type: "button", class: look, data: test ? { test } : {}, on: { click: act }, ...props }, words);
}

let counter = 0;
/** Return an id that no other element of this page has. */
export function freshId(stem) {
  counter += 1;
  return `${stem}-${counter}`;
}

/** Return `1 part`, `2 parts`. */
export function counted(count, one, many = `${one}s`) {
  return `${count} ${count === 1 ? one : many}`;
}
