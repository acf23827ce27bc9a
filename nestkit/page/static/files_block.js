/** Every file of the job, made when asked for, to take one by one or all at once. */

import { button, counted, el, fill } from "./dom.js";
import { now } from "./draft.js";
import { faultBlock } from "./fault.js";
import { cannotBlock } from "./findings.js";
import { outdated, run } from "./layout_run.js";
import { download, post, refusalText } from "./server.js";

// Whom a file is for; the first that fits.
const FOR_WHOM = [
  ["To print", ({ name }) => name.endsWith(".pdf") || name.endsWith(".html")],
  ["What to buy", ({ name }) => ["buy.csv", "hardware.csv"].includes(name)],
  ["For the shop that cuts", ({ name }) => /^(?:sheets|parts)\//.test(name)],
  ["For other programs, and pictures", () => true],
];
// The files made last, and the job that they are of.
let made = { tree: null, answer: null };

/** Return the section. It has `refresh()` and `told()`. */
export function filesBlock() {
  const list = el("div", { "aria-live": "polite", data: { test: "files" } });
  const old = el("p", { class: "must", role: "status", data: { test: "files-old" } });
  const cannot = cannotBlock();
  const make = async () => {
    const tree = now();
    made = { tree: null, answer: null };
    node.refresh();
    fill(list, el("p", {}, "Drawing templates, saw plan, tables, DXF ..."));
    try {
      const answer = await post("prints", { tree, run: run.result && !outdated() ? run.resultOf : null });
      made = { tree, answer };
      fill(list, fileRows(answer));
    } catch (fault) {
      fill(list, faultBlock(fault));
    }
    node.refresh();
  };
  const node = el(
    "section",
    { "aria-labelledby": "files-title" },
    el("h2", { id: "files-title" }, "Files"),
    el("p", {}, "Templates, saw plan, marking-out tables, labels, buy list, and DXF for the shop that cuts."),
    cannot,
    el("p", { class: "doing" }, button("Make all files", make, { test: "make-files" })),
    old,
    list,
  );
  node.refresh = () => {
    old.hidden = made.tree === null || made.tree === now();
    const words = "The job was changed since these files were made. Make them again before you cut or print.";
    old.textContent = old.hidden ? "" : words;
  };
  node.told = () => cannot.refresh();
  if (made.answer) fill(list, fileRows(made.answer));
  node.refresh();
  return node;
}

function fileRows({ prints, files }) {
  const stem = `prints/${encodeURIComponent(prints)}`;
  const said = el("p", { class: "mistake", role: "status" });
  const take = async (path, name) => {
    said.textContent = "";
    try {
      await download(path, name);
    } catch (fault) {
      said.textContent = refusalText(fault);
    }
  };
  const all = button(
    "Take all in one archive",
    () => take(`${stem}/all.zip`, `${(now(["job"]) || "job").replace(/[^\w -]+/g, "")}.zip`),
    { test: "all-zip" },
  );
  const row = (file) =>
    el(
      "li",
      { class: "item" },
      button(
        file.name,
        () => take(`${stem}/file?name=${encodeURIComponent(file.name)}`, file.name.split("/").at(-1)),
        { small: true, test: "file" },
      ),
      ` ${file.what ? `${file.what}, ` : ""}${size(file.bytes)}`,
    );
  return [el("p", { class: "doing" }, all), said, sorted(files).map(([title, own], i) => section(title, own, row, i))];
}

function section(title, files, row, index) {
  return el(
    "details",
    { class: "section", open: index === 0 },
    el("summary", {}, `${title}: ${counted(files.length, "file")}`),
    el("ul", { class: "plain" }, files.map(row)),
  );
}

function sorted(files) {
  const found = FOR_WHOM.map(([title]) => [title, []]);
  for (const file of files) found[FOR_WHOM.findIndex(([, fits]) => fits(file))][1].push(file);
  return found.filter(([, own]) => own.length);
}

function size(bytes) {
  return bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
