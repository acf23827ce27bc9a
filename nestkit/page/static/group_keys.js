/** The fields of what stands inside a part or a sheet: holes, slots, openings, notches, marks, regions kept clear. */

const CORNERS = ["bottom left", "bottom right", "top right", "top left"];
const SIDES = ["bottom", "right", "top", "left"];
const NAME = { key: "name", words: "Name of this group", as: "text" };
const COUNT = { key: "count", words: "Holes", as: "count" };
const RADIUS = { key: "corner_radius", words: "Corner radius", as: "value" };

/** Where the holes of a group are: one of these, each with its own fields. `inside`: fields of the table. */
export const PATTERNS = [
  { key: "at", words: "at these places", label: "Places", as: "places", start: [], hint: "x, y; x, y; ..." },
  {
    key: "row",
    words: "in a row",
    start: {},
    inside: [
      { key: "start", words: "First hole", as: "place", hint: "x, y" },
      { key: "end", words: "Last hole", as: "place" },
      { key: "pitch", words: "or step to the next", as: "place" },
      COUNT,
    ],
  },
  {
    key: "grid",
    words: "in a grid",
    start: {},
    inside: [
      { key: "start", words: "First hole", as: "place", hint: "x, y" },
      { key: "columns", words: "Columns", as: "count" },
      { key: "rows", words: "Rows", as: "count" },
      { key: "pitch", words: "Pitch", as: "place", hint: "across, up" },
    ],
  },
  {
    key: "circle",
    words: "on a circle",
    start: {},
    inside: [
      { key: "centre", words: "Centre", as: "place", hint: "x, y" },
      { key: "diameter", words: "Diameter", as: "value" },
      COUNT,
      { key: "first_deg", words: "First at, degrees", as: "value", usual: "0" },
    ],
  },
  {
    key: "corners",
    words: "one in each corner",
    label: "Inset",
    as: "value",
    start: "",
    hint: "So far from both edges.",
  },
  {
    key: "edge",
    words: "along an edge",
    start: {},
    inside: [
      { key: "side", words: "Side", as: "choice", from: SIDES },
      { key: "inset", words: "From that side", as: "value" },
      COUNT,
      { key: "ends", words: "From its ends", as: "value" },
    ],
  },
];

const ALONG = [
  { key: "at", words: "at these places", label: "Places", as: "list", start: [], hint: "from end 0: 1/2; 4; 8" },
  {
    key: "row",
    words: "in a row",
    start: {},
    inside: [
      { key: "start", words: "First hole", as: "value" },
      { key: "end", words: "Last hole", as: "value" },
      { key: "pitch", words: "or step to the next", as: "value" },
      COUNT,
    ],
  },
];

/** `list`: the key in its item; `bore` and `patterns` where holes are made and placed. */
export const GROUPS = {
  holes: {
    list: "holes",
    one: "group of holes",
    title: "Holes",
    add: "Add holes",
    bore: true,
    patterns: PATTERNS,
    first: [NAME],
    fields: [{ key: "from", words: "Counted from", as: "choice", from: [...CORNERS, "centre"], usual: "bottom left" }],
    fresh: { screw: "", at: [] },
  },
  "bought holes": {
    list: "holes",
    one: "group of holes",
    title: "Holes",
    add: "Add holes",
    bore: true,
    patterns: PATTERNS.slice(0, 4),
    first: [NAME],
    fields: [],
    fresh: { dia: "", at: [] },
  },
  "tube holes": {
    list: "holes",
    one: "group of holes",
    title: "Holes",
    add: "Add holes",
    bore: true,
    patterns: ALONG,
    first: [NAME],
    fields: [
      {
        key: "face",
        words: "Face",
        as: "choice",
        from: ["A", "B", "C", "D"],
        hint: "End 0 at your left: A up, B towards you, C down, D away.",
      },
      { key: "at_deg", words: "Round tube: at, degrees", as: "value" },
      { key: "through", words: "In the wall opposite too", as: "yes", usual: false },
      { key: "across", words: "Across", as: "value", usual: "centre" },
      { key: "from", words: "Counted from", as: "choice", from: ["end 0", "end 1"], usual: "end 0" },
      { key: "matches", words: "Matches", as: "text", hint: "PART / GROUP whose holes these meet" },
    ],
    fresh: { face: "A", screw: "", at: [] },
  },
  slots: {
    list: "slots",
    one: "slot",
    title: "Slots",
    add: "Add a slot",
    first: [],
    fields: [
      { key: "at", words: "Centre", as: "place", hint: "x, y" },
      { key: "length", words: "Length overall", as: "value" },
      { key: "width", words: "Width", as: "value" },
      { key: "angle_deg", words: "Angle, degrees", as: "value", usual: "0" },
    ],
    fresh: { at: "", length: "", width: "" },
  },
  cutouts: {
    list: "cutouts",
    one: "cut-out",
    title: "Cut-outs",
    add: "Add a cut-out",
    first: [],
    fields: [
      { key: "at", words: "Lower left corner", as: "place", hint: "x, y; of a disc its centre" },
      { key: "size", words: "Size", as: "pair" },
      RADIUS,
      { key: "disc", words: "or a disc, its diameter", as: "value" },
      { key: "points", words: "or corner points", as: "places" },
    ],
    fresh: { at: "", size: "" },
  },
  notches: {
    list: "notches",
    one: "notch",
    title: "Notches",
    add: "Add a notch",
    first: [],
    fields: [
      { key: "corner", words: "At corner", as: "choice", from: CORNERS },
      { key: "side", words: "or on side", as: "choice", from: SIDES },
      { key: "at", words: "On the side, from", as: "value", hint: "Its left or lower end." },
      { key: "size", words: "Size", as: "pair" },
      RADIUS,
    ],
    fresh: { corner: "top left", size: "" },
  },
  marks: {
    list: "marks",
    one: "mark",
    title: "Marks",
    add: "Add a mark",
    first: [],
    fields: [
      { key: "at", words: "At", as: "place", hint: "x, y" },
      { key: "text", words: "Text", as: "text" },
      { key: "height", words: "Height", as: "value" },
    ],
    fresh: { at: "", text: "", height: "" },
  },
  keep_clear: {
    list: "keep_clear",
    one: "region",
    title: "Regions kept clear",
    add: "Add a region",
    first: [],
    fields: [
      { key: "at", words: "Lower left at", as: "place", hint: "x, y from the sheet's lower left" },
      { key: "size", words: "Size", as: "pair" },
      { key: "disc", words: "or a disc, its diameter", as: "value", hint: "Then “at” is its centre." },
      { key: "on", words: "Only on sheet number", as: "count", hint: "Without it, on every sheet of this stock." },
      { key: "why", words: "Why", as: "text", hint: "scratch, knot, clamp" },
    ],
    fresh: { at: "", size: "" },
  },
};
