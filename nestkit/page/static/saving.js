/** Saving: into the job file, with its version told, and what to do when the file changed meanwhile. */

import { button, el, fill } from "./dom.js";
import { changed, forget, job, keepNow, now, open, saved } from "./draft.js";
import { changes } from "./changes.js";
import { matched } from "./rebase.js";
import { get, post, refusalText } from "./server.js";
import { asNew } from "./tree.js";

const said = () => document.getElementById("saved");

/** Save the draft; a job without a file asks for a name first. */
export async function save() {
  if (job.name === null) {
    askName();
    return;
  }
  // Two at once would find each other's file: the later one waits for the version of the first.
  if (running) {
    again = true;
    return;
  }
  await send({ tree: now(), version: job.version });
  if (again) {
    again = false;
    await save();
  }
}

let running = false;
let again = false;

async function send(body) {
  const { tree } = body;
  running = true;
  tell("Saving ...");
  try {
    const answer = await post("save", body);
    saved(answer, tree, answer.name ?? body.name);
    tell("Saved.");
    closeBoxes();
  } catch (fault) {
    if (fault.status === 409 && fault.body.theirs) {
      tell("Not saved: the file was changed by somebody else.");
      showBoth(fault.body, tree);
    } else tell(`Not saved. ${refusalText(fault)}`);
    again = false;
  } finally {
    running = false;
  }
}

function tell(words) {
  said().textContent = words;
}

function closeBoxes() {
  for (const box of document.querySelectorAll("dialog[open]")) box.close();
}

function dialog(title, ...content) {
  const heading = el("h2", { id: "dialog-title", tabindex: "-1" }, title);
  const box = el("dialog", { "aria-labelledby": heading.id, on: { close: () => box.remove() } }, heading, content);
  document.body.append(box);
  box.showModal();
  return box;
}

function askName() {
  const input = el("input", { type: "text", id: "file-name", value: "job.toml", data: { test: "file-name" } });
  const wrong = el("p", { class: "mistake", role: "alert" });
  const act = async () => {
    const name = input.value.trim();
    if (!/^[^/\\]+\.toml$/.test(name)) {
      wrong.textContent = "Write a file name that ends in .toml, such as boat.toml.";
      input.focus();
      return;
    }
    await send({ tree: now(), version: job.version, name });
    wrong.textContent = said().textContent;
  };
  input.addEventListener("keydown", (event) => event.key === "Enter" && act());
  const box = dialog(
    "Save the job as",
    el("p", {}, `In the folder ${job.folder}.`),
    el("div", { class: "field" }, el("label", { for: "file-name" }, "File name"), input),
    wrong,
    el(
      "p",
      { class: "doing" },
      button("Save", act, { test: "save-as" }),
      button("Not now", () => box.close(), { small: true }),
    ),
  );
  input.select();
}

/** Show the file as it now is beside the draft, and let somebody choose. */
function showBoth({ theirs, mine }, tree) {
  const keep = () => {
    job.version = theirs.version;
    send({ tree: matched(tree, theirs.tree), version: theirs.version });
  };
  const take = () => {
    box.close();
    forget();
    open({ ...job, tree: theirs.tree, version: theirs.version });
    tell("This is the file as it is now.");
  };
  const column = (title, text, other, choice) =>
    el(
      "section",
      {},
      el("h3", {}, title),
      choice,
      el("pre", { tabindex: "0", "aria-label": title }, marked(text, other)),
    );
  const differ = changes(asNew(theirs.tree), asNew(tree));
  const box = dialog(
    "The job file was changed meanwhile",
    el("p", {}, "Somebody, or another tab, saved it after you began. Choose one; the other is then gone."),
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
    el(
      "div",
      { class: "two" },
      column("Yours", mine.text, theirs.text, button("Keep mine", keep, { test: "keep-mine" })),
      column("The file's", theirs.text, mine.text, button("Take the file's", take, { test: "take-theirs" })),
    ),
    el(
      "p",
      { class: "doing" },
      button("Not now", () => box.close(), { small: true }),
    ),
  );
  box.classList.add("wide");
  for (const pre of box.querySelectorAll("pre"))
    pre.scrollTop = Math.max(0, (pre.querySelector("mark")?.offsetTop ?? 0) - 80);
  box.querySelector("h2").focus();
}

// Lines that the other text does not have are marked.
function marked(text, other) {
  const known = new Set(other.split("\n"));
  return text.split("\n").map((line) => [known.has(line) ? line : el("mark", {}, line), "\n"]);
}

/** Look whether the file changed on the disk; say so if it did. */
export async function watchFile() {
  if (job.name === null || document.hidden) return;
  const notice = document.getElementById("on-disk");
  const asked = job.version;
  let version;
  try {
    version = (await get("version")).version;
    document.getElementById("away").hidden = true;
  } catch (fault) {
    fill(document.getElementById("away"), refusalText(fault));
    document.getElementById("away").hidden = false;
    return;
  }
  if (asked !== job.version) return;
  const other = version !== job.version;
  notice.hidden = !other;
  if (!other) return;
  const mine = changed();
  const wanted = mine ? "show-both" : "read-again";
  if (notice.querySelector("button")?.dataset.test === wanted) return;
  // Whether anything typed would be lost counts when the button is pressed, not when it was made.
  const act = () => (changed() ? save() : readAgain());
  fill(
    notice,
    "The job file was changed outside of this page. ",
    button(mine ? "Show both" : "Read it again", act, { small: true, test: wanted }),
  );
}

async function readAgain() {
  try {
    const answer = await get("job");
    if (answer.broken) {
      // The page as it opens says what is wrong with the file; a draft is kept in the browser meanwhile.
      keepNow();
      location.reload();
      return;
    }
    if (changed()) {
      save();
      return;
    }
    open(answer);
    document.getElementById("on-disk").hidden = true;
  } catch (fault) {
    tell(refusalText(fault));
  }
}
