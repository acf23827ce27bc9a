/** Values as people type them. What is not understood stays as typed: the server says what is wrong with it. */

const NUMBER = /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/;

/** Return a value as text for a field. */
export function shown(value) {
  if (value === undefined || value === null) return "";
  if (typeof value === "string") return value;
  if (typeof value === "object") return written(value);
  return String(value);
}

/** Return one typed value: a plain decimal as a number, anything else as text. Unchanged text keeps its value. */
export function typed(text, former) {
  const bare = text.trim();
  if (former !== undefined && typeof former !== "object" && shown(former) === bare) return former;
  if (NUMBER.test(bare) && bare.replace(/[-.]/g, "").length <= 15) return Number(bare);
  return bare;
}

/** Return `14 1/2 x 9 3/4` for a pair (`mark` between the two). Other values as they are written. */
export function pairShown(value, mark) {
  if (Array.isArray(value) && value.length === 2 && value.every(plain)) return value.map(shown).join(mark);
  return shown(value);
}

// Lists may be typed as the job file has them too: [24, 48].
function asInFile(text) {
  if (!/^\s*\[.*\]\s*$/s.test(text)) return null;
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

// An x between two lengths, not one inside a word.
const BY = /\s+[x×]\s*|(?<=[\d"'¼½¾⅛⅜⅝⅞])[x×]\s*(?=[\d.¼½¾⅛⅜⅝⅞])/i;

/** Return a pair from `24 x 48` or `24, 48`, or the text itself if it is no pair. */
export function pairTyped(text, former) {
  return (
    asInFile(text) ?? manyTyped(text, BY, former, 2) ?? manyTyped(text, /\s*,\s*/, former, 2) ?? typed(text, former)
  );
}

function manyTyped(text, mark, former, count) {
  const words = text.trim().split(mark);
  if (words.length < 2 || (count && words.length !== count) || words.some((word) => word === "")) return null;
  return words.map((word, i) => typed(word, Array.isArray(former) ? former[i] : undefined));
}

/** Return `1/2, 3/4; 2, 3/4` for a list of places. */
export function placesShown(value) {
  if (!Array.isArray(value)) return shown(value);
  if (value.length === 2 && value.every(plain)) return pairShown(value, ", ");
  return value.map((place) => pairShown(place, ", ")).join("; ");
}

/** Return a list of places from `1/2, 3/4; 2, 3/4`; one place without `;` is one pair in a list. */
export function placesTyped(text, former) {
  const given = asInFile(text);
  if (given) return given;
  const places = text.split(/\s*[;\n]\s*/).filter((word) => word.trim() !== "");
  return places.map((place, i) => pairTyped(place, Array.isArray(former) ? former[i] : undefined));
}

/** Return `1/2; 4; 8` for a list of single values. */
export function listShown(value) {
  return Array.isArray(value) && value.every(plain) ? value.map(shown).join("; ") : shown(value);
}

/** Return a list of values from `1/2; 4; 8`, or with a comma and a space between them. */
export function listTyped(text, former) {
  const given = asInFile(text);
  if (given) return given;
  const words = text.split(/\s*[;\n]\s*|\s*,\s+/).filter((word) => word.trim() !== "");
  return words.map((word, i) => typed(word, Array.isArray(former) ? former[i] : undefined));
}

/** Return a list of texts, divided by semicolons only: a name may hold a comma. */
export function namesTyped(text) {
  return text
    .split(/[;\n]/)
    .map((word) => word.trim())
    .filter((word) => word !== "");
}

/** Return a value as it stands in the file, for showing what no field holds. */
export function written(value) {
  if (Array.isArray(value)) return `[${value.map(written).join(", ")}]`;
  if (value !== null && typeof value === "object") {
    const pairs = Object.entries(value).filter(([key]) => key !== "_was");
    return `{ ${pairs.map(([key, held]) => `${key} = ${written(held)}`).join(", ")} }`;
  }
  return typeof value === "string" ? JSON.stringify(value) : String(value);
}

function plain(value) {
  return typeof value === "string" || typeof value === "number";
}
