/** Where the pieces of a sheet are, by their names in the saw plan: `sheet`, `3a` (left or lower half of cut 3), `3b`. */

/** Return each piece as a box in mm, from the cuts of a sheet in their order. */
export function piecesOf(sheet) {
  const found = new Map([["sheet", { x: 0, y: 0, width: sheet.width_mm, height: sheet.height_mm }]]);
  for (const { step, piece, axis, at_mm: at } of sheet.cuts ?? []) {
    const whole = found.get(piece);
    if (!whole) continue;
    const [low, high] = halves(whole, axis, at, sheet.kerf_mm ?? 0);
    found.set(`${step}a`, low);
    found.set(`${step}b`, high);
  }
  return found;
}

// A cut at the very edge leaves nothing on its far side.
function halves(box, axis, at, kerf) {
  const [from, long] = axis === "x" ? ["x", "width"] : ["y", "height"];
  const end = box[from] + box[long];
  const rest = Math.max(0, end - at - kerf);
  return [
    { ...box, [long]: at - box[from] },
    { ...box, [from]: end - rest, [long]: rest },
  ];
}
