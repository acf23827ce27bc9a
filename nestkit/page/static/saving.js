/** Saving: into the job file, with its version told, and what to do when the file changed meanwhile. */

import { showBoth } from "./conflict.js";
import { closeBoxes, dialog } from "./dialog.js";
import { button, el, fill } from "./dom.js";
import { changed, job, keepNow, now, open, saved } from "./draft.js";
import { get, post, refusalText } from "./server.js";

const said = () => document.getElementById("saved");

/** Save the draft; a job without a file asks for a name first. */
export async function save() {
  finishName();
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

// A name still being typed is taken by what refers to it once it is left: saving counts as that.
function finishName() {
  const field = document.activeElement;
  if (field?.matches("input[data-key=name]")) field.dispatchEvent(new Event("change"));
}

let running = false;
let again = false;

/** Save; return why it failed, or null. */
async function send(body) {
  const { tree } = body;
  running = true;
  tell("Saving ...");
  try {
    const answer = await post("save", body);
    saved(answer, tree, answer.name ?? body.name);
    tell("Saved.");
    closeBoxes();
    return null;
  } catch (fault) {
    again = false;
    if (fault.status === 409 && fault.body.theirs) {
      closeBoxes();
      tell(whyNot(fault.body.theirs));
      showBoth(fault.body, tree, send, tell);
    } else tell(`Not saved. ${refusalText(fault)}`);
    return said().textContent;
  } finally {
    running = false;
  }
}

function whyNot({ mistakes, gone }) {
  if (mistakes) return "Not saved: the file on the disk cannot be read.";
  return gone ? "Not saved: the file is no longer there." : "Not saved: the file was changed by somebody else.";
}

function tell(words) {
  said().textContent = words;
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
    wrong.textContent = (await send({ tree: now(), version: job.version, name })) ?? "";
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
