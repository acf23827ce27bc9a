/** The fields of the job itself: its name and unit, ways of cutting, printing, marking, files, labels, the shop. */

const SAW = ["saw"];
const MACHINES = ["router", "laser", "waterjet"];
const WAYS = { key: "how", words: "How", as: "choice", from: ["saw", "jigsaw", "router", "laser", "waterjet"] };

/** Fields of one way of cutting; `only`: for these ways, unless the file has it all the same. */
export const WAY = [
  WAYS,
  { key: "kerf", words: "Kerf", as: "value", hint: "What the blade, cutter or beam takes away." },
  { key: "gap", words: "Gap", as: "value", hint: "Least distance between parts." },
  { key: "margin", words: "Margin", as: "margin", hint: "Border of the sheet that is not used." },
  {
    key: "stages",
    only: SAW,
    words: "Saw: changes of direction",
    as: "count",
    hint: "2: rips, then cross-cuts; 0: no limit.",
  },
  { key: "first", only: SAW, words: "Saw: first cuts along", as: "choice", from: ["x", "y", "any"] },
  { key: "prefer", only: SAW, words: "At equal cost", as: "choice", from: ["offcut", "few cuts"] },
  {
    key: "relief",
    only: ["router"],
    words: "Square inner corners",
    as: "choice",
    from: ["none", "corners"],
    hint: "Corners: the router cuts a round through each.",
  },
  {
    key: "tabs",
    only: MACHINES,
    words: "Holding tabs",
    as: "table",
    fields: [
      { key: "width", words: "Width", as: "value" },
      { key: "count", words: "So many a part", as: "count" },
      { key: "every", words: "or one every", as: "value" },
    ],
  },
];

const PAPER = {
  key: "paper",
  words: "Paper",
  as: "pair",
  from: "papers",
  free: true,
  hint: "A name, its size, or roll 24 in.",
};
const METHODS = [
  "tape and marker",
  "rule and pencil",
  "scribe and punch",
  "template",
  "router",
  "laser",
  "waterjet",
  "match drilled",
  "as bought",
];

/** Sections of the job: `path` of their table in the file. */
export const SECTIONS = [
  {
    title: "The job",
    path: [],
    open: true,
    fields: [
      { key: "job", words: "Name", as: "text", wide: true },
      { key: "unit", words: "Numbers without a unit are", as: "choice", from: ["in", "mm"] },
      { key: "date", words: "Date", as: "text", hint: "2026-03-01; printed on everything" },
    ],
  },
  {
    title: "Printing",
    path: ["printing"],
    fields: [
      PAPER,
      {
        key: "scale_x",
        words: "Printer scale, short side",
        as: "value",
        usual: "1",
        hint: "Measured against nominal; see Prints.",
      },
      { key: "scale_y", words: "Printer scale, long side", as: "value", usual: "1" },
      { key: "pages", words: "Pages of large templates", as: "choice", from: ["needed", "all"] },
      { key: "fold", words: "A fold takes", as: "value" },
    ],
  },
  { title: "Marking out", path: ["marking"], fields: [{ key: "to", words: "Tables round to", as: "value" }] },
  {
    title: "Files for the shop that cuts",
    path: ["dxf"],
    fields: [
      { key: "version", words: "DXF version", as: "choice", from: ["R2010", "R2000", "R12"] },
      { key: "single_layer", words: "All on one layer", as: "yes", usual: false },
    ],
  },
  {
    title: "Labels",
    path: ["labels"],
    fields: [
      { key: "columns", words: "Columns", as: "count" },
      { key: "rows", words: "Rows", as: "count" },
      { key: "size", words: "One label", as: "pair" },
      { key: "pitch", words: "From label to label", as: "pair" },
      {
        key: "margin",
        words: "Margin, if not centred",
        as: "table",
        fields: [
          { key: "left", words: "Left", as: "value" },
          { key: "top", words: "Top", as: "value" },
        ],
      },
      PAPER,
      { key: "skip", words: "Used already", as: "count" },
      { key: "sort", words: "Sorted by", as: "choice", from: ["for", "sheet"] },
    ],
  },
  {
    title: "How well holes are made",
    path: ["fit"],
    fields: [
      { key: "chance", words: "Chance wanted of each joint", as: "value" },
      { key: "method", words: "Holes are marked by", as: "choice", from: METHODS },
      { key: "drill", words: "Drilled by", as: "choice", from: ["hand", "press"] },
      { key: "tube_walls", words: "Walls of a tube", as: "choice", from: ["each", "in one go"] },
      { key: "temperature", words: "Coldest and hottest, degrees C", as: "list" },
      { key: "made_at", words: "Made at, degrees C", as: "value" },
      { key: "spares", words: "Spare screws, share", as: "value" },
      {
        key: "accuracy",
        words: "Our own accuracy, + or -",
        as: "table",
        fields: METHODS.map((word) => ({ key: word, words: word, as: "value" })),
      },
    ],
  },
  {
    title: "Our drills",
    path: ["shop"],
    fields: [
      { key: "drills", words: "Drills that we own", as: "names", hint: "Divided by semicolons: #7; 1/4; 5.5 mm" },
    ],
  },
];

/** Keys of the top of the file that other views hold. */
export const ELSEWHERE = [
  "job",
  "unit",
  "date",
  "cutting",
  "printing",
  "marking",
  "dxf",
  "labels",
  "fit",
  "shop",
  "practice",
  "sheet",
  "panel",
  "bar",
  "tube",
  "bought",
  "joint",
  "import",
  "hold",
];

/** A practice piece: where marks were wanted, where the holes came out. */
export const PRACTICE = {
  list: "practice",
  one: "practice piece",
  title: "Practice pieces",
  groups: [],
  row: ["method"],
  sections: [
    {
      title: "Marks and holes",
      fields: [
        { key: "method", words: "Marked by", as: "choice", from: METHODS },
        { key: "wanted", words: "Marks wanted at", as: "places", hint: "x, y; x, y; ..." },
        { key: "measured", words: "Holes measured at", as: "places" },
      ],
    },
  ],
};
