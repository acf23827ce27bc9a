/** The job file changed on the disk meanwhile: shows it beside the draft, and lets somebody choose. */

import { changes } from "./changes.js";
import { dialog } from "./dialog.js";
import { button, el } from "./dom.js";
import { baseOn, job, now, takeTheirs } from "./draft.js";
import { sentence } from "./mistakes.js";
import { asNew } from "./tree.js";

/**
 * Show both. `send(body)` saves and returns why that failed, or null; `tell(words)` says what was done. A file that
 * cannot be read is shown as it is, and one that is gone as such: neither can be taken.
 */
export function showBoth({ theirs, mine }, tree, send, tell) {
  const broken = Boolean(theirs.mistakes);
  const wrong = el("p", { class: "mistake", role: "alert", hidden: true });
  const keep = async () => {
    if (!broken) baseOn(theirs);
    const body = broken ? { tree, whole: true } : { tree: now() };
    const refused = await send({ ...body, version: theirs.version });
    wrong.hidden = refused === null;
    wrong.textContent = refused ?? "";
  };
  const take = () => {
    box.close();
    takeTheirs(theirs);
    tell("This is the file as it is now. Undo brings yours back.");
  };
  const box = dialog(
    broken
      ? "The job file on the disk cannot be read"
      : theirs.gone
        ? "The job file is no longer there"
        : "The job file was changed meanwhile",
    broken ? cannotRead(theirs.mistakes) : theirs.gone ? isGone() : whatDiffers(theirs, tree),
    wrong,
    el(
      "div",
      { class: "two" },
      column(
        "Yours",
        mine.text,
        theirs.text,
        mine.mistake
          ? el("p", { class: "mistake" }, sentence({ text: mine.mistake }))
          : button("Keep mine", keep, { test: "keep-mine" }),
      ),
      theirs.gone
        ? null
        : column(
            "The file's",
            theirs.text,
            mine.text,
            broken ? null : button("Take the file's", take, { test: "take-theirs" }),
          ),
    ),
    el(
      "p",
      { class: "doing" },
      button("Not now", () => box.close(), { small: true, test: "not-now" }),
    ),
  );
  box.classList.add("wide");
  for (const pre of theirs.gone ? [] : box.querySelectorAll("pre"))
    pre.scrollTop = Math.max(0, (pre.querySelector("mark")?.offsetTop ?? 0) - 80);
  box.querySelector("h2").focus();
}

const kept = () => `With “Keep mine” the file as it is now stays beside it, as ${job.name}.before.`;

function isGone() {
  return el("p", {}, `${job.name} was moved, renamed or deleted after you began. “Keep mine” writes it anew.`);
}

function whatDiffers(theirs, tree) {
  const differ = changes(asNew(theirs.tree), asNew(tree));
  return [
    el("p", {}, `Somebody, or another tab, saved it after you began. ${kept()} “Take the file's” can be undone.`),
    el(
      "details",
      { open: differ.length <= 12 },
      el("summary", {}, `What differs: ${differ.length}`),
      el(
        "ul",
        {},
        differ.map((line) => el("li", {}, line)),
      ),
    ),
  ];
}

function cannotRead(mistakes) {
  const place = (one) => [one.place, one.line ? `line ${one.line}` : null].filter(Boolean).join(", ");
  const words = (one) => (typeof one === "string" ? one : [place(one), sentence(one)].filter(Boolean).join(": "));
  return [
    el("p", {}, `It was changed after you began, and is no job file as it stands. ${kept()}`),
    el(
      "ul",
      { class: "plain must" },
      mistakes.map((one) => el("li", {}, words(one))),
    ),
    el("p", {}, "Or put it right in a text editor, save it there, and save here again."),
  ];
}

function column(title, text, other, choice) {
  return el(
    "section",
    {},
    el("h3", {}, title),
    choice,
    text || !choice ? el("pre", { tabindex: "0", "aria-label": title }, other ? marked(text, other) : text) : null,
  );
}

// Lines that the other text does not have are marked.
function marked(text, other) {
  const known = new Set(other.split("\n"));
  return text.split("\n").map((line) => [known.has(line) ? line : el("mark", {}, line), "\n"]);
}
