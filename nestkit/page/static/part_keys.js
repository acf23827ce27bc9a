/** The fields of what is made or bought ready made: panels, cut lengths, bought parts, spreadsheets of parts. */

import {
  CORNER,
  COUNTS,
  FOR,
  GRAIN,
  MATERIAL,
  METHOD,
  NAME,
  PRICE,
  REVISION,
  SECTION,
  THICKNESS,
} from "./common_keys.js";

/** Where the outline of a panel comes from: a panel has one of these keys. */
export const OUTLINES = [
  { key: "size", words: "Size", choice: "size: a rectangle", as: "pair", hint: "As it is said: 14 1/2 x 9 3/4" },
  { key: "disc", words: "Diameter", choice: "disc: its diameter", as: "value" },
  {
    key: "points",
    words: "Corner points",
    choice: "points: corner by corner",
    as: "places",
    hint: "x, y; x, y; ... lowest x and y are 0",
  },
  {
    key: "outline",
    words: "Outline file",
    choice: "outline file: DXF or SVG",
    as: "text",
    hint: "A file beside the job file; drop it on this page.",
  },
];

const OUTLINE_FILE = [
  { key: "outline_part", words: "Which part of the file", as: "value" },
  { key: "outline_unit", words: "Unit of the file", as: "choice", from: ["in", "mm"] },
  { key: "join", words: "Gaps closed up to", as: "value" },
  { key: "drill_up_to", words: "Circles drilled up to", as: "value" },
  {
    key: "outline_layers",
    words: "Layers of the file",
    as: "table",
    fields: [
      { key: "edge", words: "Edge", as: "names" },
      { key: "holes", words: "Holes", as: "names" },
      { key: "ignore", words: "Not used", as: "names" },
    ],
  },
];
const MITRE = [
  { key: "angle_deg", words: "Angle, degrees", as: "value", hint: "Counted from the square cut." },
  { key: "long", words: "Long side", as: "choice", from: ["A", "B", "C", "D"] },
  { key: "long_deg", words: "or long side, degrees", as: "value" },
];

/** A panel. */
export const PANEL = {
  list: "panel",
  one: "part",
  title: "Panels",
  fresh: "New part",
  outline: true,
  drawn: true,
  groups: ["holes", "slots", "cutouts", "notches", "marks"],
  row: ["name", "size", "quantity", "material", "thickness"],
  sections: [
    { title: "Size and count", fields: [NAME, FOR, MATERIAL, THICKNESS, ...CORNER, ...COUNTS] },
    {
      title: "How it may lie, who made it",
      closed: true,
      fields: [
        {
          key: "faces",
          words: "Faces",
          as: "choice",
          from: ["differ", "alike"],
          hint: "Alike: it may be turned over, so one hand serves as the other.",
        },
        { key: "grain", words: "Grain along", as: "choice", from: GRAIN },
        { key: "turn", words: "Turn", as: "choice", from: ["none", "half", "quarter", "any"] },
        REVISION,
        METHOD,
      ],
    },
    { title: "Outline file", closed: true, when: "outline", fields: OUTLINE_FILE },
  ],
};

/** A cut length of any section. */
export const TUBE = {
  list: "tube",
  one: "cut length",
  title: "Cut lengths",
  fresh: "New length",
  drawn: true,
  groups: ["tube holes"],
  row: ["name", "length", "quantity", "material", "section"],
  sections: [
    {
      title: "Length and count",
      fields: [
        NAME,
        FOR,
        MATERIAL,
        SECTION,
        { key: "length", words: "Length", as: "value", hint: "Over the long points." },
        ...COUNTS,
      ],
    },
    {
      title: "Ends, template, revision",
      closed: true,
      fields: [
        { key: "mitre_0", words: "End 0, at your left", as: "table", fields: MITRE },
        { key: "mitre_1", words: "End 1, at your right", as: "table", fields: MITRE },
        { key: "template", words: "Template", as: "choice", from: ["strips", "corner", "wrap"] },
        CORNER[0],
        { key: "girth", words: "Girth", as: "value", hint: "Once around, as measured." },
        REVISION,
        METHOD,
      ],
    },
  ],
};

/** A part bought ready made. */
export const BOUGHT = {
  list: "bought",
  one: "bought part",
  title: "Bought ready made",
  fresh: "New bought part",
  drawn: true,
  groups: ["bought holes"],
  row: ["name", "quantity", "price", "for"],
  sections: [{ title: "What it is", fields: [NAME, FOR, COUNTS[0], PRICE, MATERIAL, THICKNESS, METHOD] }],
};

/** A spreadsheet of parts. */
export const SPREADSHEET = {
  list: "import",
  one: "spreadsheet",
  title: "Parts from spreadsheets",
  fresh: "",
  groups: [],
  row: ["file"],
  sections: [
    {
      title: "File",
      fields: [{ key: "file", words: "File", as: "text", hint: "CSV or XLSX beside the job file, one row a part." }],
    },
  ],
};
