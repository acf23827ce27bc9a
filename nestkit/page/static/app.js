/** The page: opens the job, shows one view at a time, hears keys, asks the server what is wrong. */

import { button, counted, el, fill } from "./dom.js";
import { showBroken } from "./broken.js";
import { buyView } from "./buy_view.js";
import { changed, forget, job, keepingFault, keepNow, keptDrafts, now, onChange, open, step, tab, takeUp } from "./draft.js";
import { jobView } from "./job_view.js";
import { jointsView } from "./joints_view.js";
import { cannotWords } from "./findings.js";
import { leadWith } from "./goto.js";
import { layoutView } from "./layout_view.js";
import { partsView, stockView } from "./lists_view.js";
import { allMistakes, onMistakes, takeAll } from "./mistakes.js";
import { printsView } from "./prints_view.js";
import { save, watchFile } from "./saving.js";
import { get, Newest, post, refusalText, takeToken } from "./server.js";
import { loadWords } from "./words.js";

const VIEWS = {
  parts: ["Parts to make", partsView],
  stock: ["What we can cut from", stockView],
  layout: ["Layout", layoutView],
  buy: ["What to buy", buyView],
  joints: ["Do the joints fit", jointsView],
  prints: ["Prints", printsView],
  job: ["The job", jobView],
};
// What is said of something done is no longer so after the next change; a refusal stays.
const DONE_WORDS = new Set(["Saved.", "Taken back.", "Done again."]);
const CHECK_WAIT_MS = 400;
const WATCH_MS = 4000;

const main = document.getElementById("main");
const checking = new Newest();
let view = null;
let current = null;
let waiting = 0;
// Where to go to in the view that is about to be shown.
let wanted = null;

function viewName() {
  const word = location.hash.slice(1);
  return word in VIEWS ? word : "parts";
}

function showView(focus) {
  const name = viewName();
  if (name === current) return;
  view?.leave?.();
  current = name;
  view = VIEWS[name][1]();
  fill(main, view);
  view.told();
  document.title = `${VIEWS[name][0]} - ${now(["job"]) || "nestkit"}`;
  for (const link of document.querySelectorAll("nav a")) {
    if (link.hash === `#${name}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  if (!focus) return;
  window.scrollTo(0, 0);
  const path = wanted;
  wanted = null;
  if (path && view.go?.(path)) return;
  view.querySelector("h1").focus();
}

function leadTo(name, path) {
  if (name === current) view.go?.(path);
  else {
    wanted = path;
    location.hash = name;
  }
}

async function check() {
  try {
    const answer = await checking.run((signal) => post("check", { tree: now(), tab }, signal));
    if (answer) takeAll(answer);
  } catch (fault) {
    document.getElementById("state").textContent = refusalText(fault);
  }
}

function showState() {
  document.getElementById("job-name").textContent = now(["job"]) || "A job without a name";
  const file = job.name ?? "no file yet";
  const words = changed() ? `${file}: changed since saving` : job.name ? `${file}: saved` : file;
  document.getElementById("file").textContent = words;
  const count = allMistakes().length;
  document.getElementById("state").textContent =
    keepingFault() ?? [count ? `${counted(count, "mistake")} to put right` : "", cannotWords()].filter(Boolean).join("; ");
  for (const [id, able] of [
    ["undo", job.history.canUndo],
    ["redo", job.history.canRedo],
  ]) {
    document.getElementById(id).setAttribute("aria-disabled", String(!able));
  }
}

function heard(how) {
  if (how !== "typed") view?.refresh(how);
  else requestAnimationFrame(() => view?.refresh(how));
  const said = document.getElementById("saved");
  if (DONE_WORDS.has(said.textContent)) said.textContent = "";
  showState();
  clearTimeout(waiting);
  waiting = setTimeout(check, CHECK_WAIT_MS);
}

function goBack(back) {
  const had = document.activeElement;
  if (!step(back)) return;
  document.getElementById("saved").textContent = back ? "Taken back." : "Done again.";
  if (!had.isConnected) main.querySelector("h1")?.focus();
}

function onKey(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const acts = { s: save, z: () => goBack(!event.shiftKey), y: () => goBack(false) };
  if (!acts[key] || document.querySelector("dialog[open]")) return;
  event.preventDefault();
  acts[key]();
}

/** Offer what was typed before a reload or a crash and is not in the file. */
async function offerDrafts() {
  const home = document.getElementById("drafts");
  const found = await keptDrafts();
  home.hidden = found.length === 0;
  fill(
    home,
    found.slice(0, 3).map((draft) => {
      const when = new Date(draft.when).toLocaleString();
      const line = el("p", {}, `Changes typed here until ${when} are not in the file. `);
      const done = (act) => () => {
        act();
        line.remove();
        home.hidden = home.children.length === 0;
        main.querySelector("h1").focus();
      };
      line.append(
        button(
          "Take them up",
          done(() => takeUp(draft)),
          { test: "take-draft" },
        ),
        " ",
        button(
          "Throw them away",
          done(() => forget(draft.key)),
          { small: true, test: "drop-draft" },
        ),
      );
      return line;
    }),
  );
}

// What is folded on the screen but wanted on paper.
let unfolded = [];
function unfold() {
  unfolded = [...main.querySelectorAll("details.on-paper:not([open])")];
  for (const one of unfolded) one.open = true;
}

function foldAgain() {
  for (const one of unfolded) one.open = false;
  unfolded = [];
}

function listen() {
  onChange(heard);
  leadWith(leadTo);
  onMistakes(() => {
    view?.told();
    showState();
  });
  document.addEventListener("keydown", onKey);
  document.getElementById("undo").addEventListener("click", () => goBack(true));
  document.getElementById("redo").addEventListener("click", () => goBack(false));
  document.getElementById("save").addEventListener("click", save);
  document.getElementById("skip").addEventListener("click", (event) => {
    event.preventDefault();
    main.focus();
  });
  window.addEventListener("hashchange", () => showView(true));
  window.addEventListener("pagehide", keepNow);
  window.addEventListener("beforeprint", unfold);
  window.addEventListener("afterprint", foldAgain);
  window.addEventListener("focus", watchFile);
  setInterval(watchFile, WATCH_MS);
  // A file dropped beside its place must not take the page away.
  for (const event of ["dragover", "drop"]) window.addEventListener(event, (one) => one.preventDefault());
}

async function begin() {
  if (!takeToken()) {
    fill(
      main,
      el("h1", {}, "Open this page from nestkit"),
      el("p", {}, "The address with its key is shown where “nestkit page” was started. Open that one."),
    );
    return;
  }
  try {
    const words = loadWords();
    const answer = await get("job");
    if (answer.broken) {
      showBroken(main, answer.broken);
      return;
    }
    open(answer);
    await words;
    listen();
    showView(false);
    showState();
    check();
    await offerDrafts();
  } catch (fault) {
    fill(main, el("h1", {}, "This page cannot begin"), el("p", {}, refusalText(fault)));
  }
}

// A fault of the page itself: say so in a sentence; the browser's log has the rest.
function ownFault() {
  const notice = document.getElementById("fault");
  notice.hidden = false;
  fill(notice, "This page has made a mistake of its own. What you typed is kept in this browser: load the page again.");
  keepNow();
}

window.addEventListener("error", ownFault);
window.addEventListener("unhandledrejection", ownFault);
begin();
