/** Files dropped on the page or chosen: parts lists (CSV, XLSX) and outlines (DXF, SVG). */

import { el, fill, freshId } from "./dom.js";
import { change, now } from "./draft.js";
import { sentence } from "./mistakes.js";
import { refusal, refusalText, upload } from "./server.js";
import { insert } from "./tree.js";

const LARGEST = 20e6;

/** Return a place for files; `choose(path)` is told of a part that came from one; they may be dropped anywhere on `target`. */
export function dropZone(choose, target) {
  const id = freshId("file");
  const said = el("div", { class: "said", role: "status", data: { test: "drop-said" } });
  const input = el("input", {
    id,
    type: "file",
    multiple: true,
    accept: ".csv,.xlsx,.dxf,.svg",
    data: { test: "drop-file" },
    on: { change: () => take(input.files) },
  });
  const node = el(
    "div",
    { class: "drop", data: { test: "drop" } },
    el(
      "label",
      { for: id },
      "Add parts from files: drop them on this page, or choose them. CSV and XLSX hold a row a part, DXF and SVG an outline.",
    ),
    input,
    said,
  );
  async function take(files) {
    fill(said);
    for (const file of [...files]) said.append(await taken(file, choose));
    input.value = "";
  }
  target.addEventListener("dragover", (event) => {
    event.preventDefault();
    node.setAttribute("data-over", "");
  });
  target.addEventListener("dragleave", () => node.removeAttribute("data-over"));
  target.addEventListener("drop", (event) => {
    event.preventDefault();
    node.removeAttribute("data-over");
    take(event.dataTransfer.files);
  });
  return node;
}

async function taken(file, choose) {
  if (file.size > LARGEST)
    return el("p", { class: "mistake" }, `${file.name}: it is larger than 20 MB. Make it smaller, or divide it.`);
  try {
    const answer = await upload(
      `upload?name=${encodeURIComponent(file.name)}&unit=${now(["unit"]) === "in" ? "in" : "mm"}`,
      file,
    );
    let path = null;
    for (const [list, item] of answer.add) {
      const count = (now([list]) ?? []).length;
      change(insert(now(), [list], count, item));
      path = [list, count];
    }
    if (path) choose(path);
    return el("p", {}, `${answer.file}: ${answer.say}`);
  } catch (fault) {
    const mistakes = refusal(fault).body.mistakes ?? [];
    const lines = mistakes.length
      ? mistakes.map((one) => [one.place, sentence(one)].filter(Boolean).join(": "))
      : [refusalText(fault)];
    return el(
      "div",
      {},
      lines.map((line) => el("p", { class: "mistake" }, `${file.name}: ${line}`)),
    );
  }
}
