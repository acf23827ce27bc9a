/** Which drill each group of holes takes, as the server found for the item that is drawn. */

let found = [];

/** Take the holes of the item drawn, and put its drills beside the groups that are open. */
export function takeHoles(holes) {
  found = holes;
  for (const answer of document.querySelectorAll("output.answer")) showDrill(answer);
}

/** Put the table's answer - which drill - beside a group's typed line. */
export function showDrill(answer) {
  const own = found.filter((hole) => JSON.stringify(hole.path) === answer.dataset.group);
  const drills = [...new Set(own.map(({ drill }) => drill))];
  answer.textContent = drills.length ? `drill ${drills.join(", ")}` : "";
}
