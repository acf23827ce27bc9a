/** The trees of a draft, one after another: what Undo and Redo go through. */

const MOST = 500;

export class History {
  #past = [];
  #future = [];
  #key = null;

  constructor(tree) {
    this.now = tree;
  }

  /** Take a new tree. Changes with the same `key` in a row (typing in one field) are one step back. */
  take(tree, key = null) {
    if (tree === this.now) return;
    if (key === null || key !== this.#key || this.#past.length === 0) {
      this.#past.push(this.now);
      if (this.#past.length > MOST) this.#past.shift();
    }
    this.#key = key;
    this.#future = [];
    this.now = tree;
  }

  /** The next change is a step of its own, even in the same field. */
  rest() {
    this.#key = null;
  }

  get canUndo() {
    return this.#past.length > 0;
  }

  get canRedo() {
    return this.#future.length > 0;
  }

  undo() {
    if (!this.canUndo) return false;
    this.#future.push(this.now);
    this.now = this.#past.pop();
    this.#key = null;
    return true;
  }

  redo() {
    if (!this.canRedo) return false;
    this.#past.push(this.now);
    this.now = this.#future.pop();
    this.#key = null;
    return true;
  }

  /** Change every tree kept, after saving gave the items new places in the file; `now` is the tree as saved. */
  rebase(now, change) {
    this.#past = this.#past.map(change);
    this.#future = this.#future.map(change);
    this.now = now;
    this.#key = null;
  }
}
