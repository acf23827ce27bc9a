/** The fields of what parts are cut from, and of parts held in place on it. */

import { GRAIN, MATERIAL, NAME, PRICE, SECTION, THICKNESS } from "./common_keys.js";

const ON_HAND = {
  key: "on_hand",
  words: "Here already",
  as: "count",
  usual: "0",
  hint: "These are free and used first.",
};
const BUY = { key: "buy", words: "More can be bought", as: "yes", usual: true };
const CUT = {
  key: "cut",
  words: "Way of cutting",
  as: "choice",
  from: "named_ways",
  hint: "A named way from “The job”; without one, the usual way.",
};

/** A sheet. */
export const SHEET = {
  list: "sheet",
  one: "sheet",
  title: "Sheets",
  fresh: "New sheet",
  drawn: true,
  groups: ["keep_clear"],
  row: ["name", "size", "material", "thickness", "price", "on_hand"],
  sections: [
    {
      title: "The sheet",
      fields: [
        NAME,
        MATERIAL,
        { ...THICKNESS, hint: "As measured with a caliper." },
        { key: "sold_as", words: "Sold as", as: "value", hint: "What the shop calls that thickness." },
        { key: "size", words: "Size", as: "pair", hint: "24 x 48; off a roll: 24 x roll" },
        PRICE,
        ON_HAND,
        BUY,
        { key: "grain", words: "Grain along", as: "choice", from: GRAIN },
        CUT,
      ],
    },
  ],
};

/** A stock length, or goods off a roll. */
export const BAR = {
  list: "bar",
  one: "bar",
  title: "Bars and rolls",
  fresh: "New bar",
  drawn: true,
  groups: [],
  row: ["name", "section", "length", "material", "price", "on_hand"],
  sections: [
    {
      title: "The bar",
      fields: [
        NAME,
        MATERIAL,
        SECTION,
        { key: "length", words: "Length", as: "value" },
        PRICE,
        ON_HAND,
        BUY,
        {
          key: "trim",
          words: "Trim",
          as: "value",
          usual: "0",
          hint: "Lost at each end, since it does not come square.",
        },
        { key: "keep", words: "Rest worth keeping", as: "value", hint: "From this length on." },
        CUT,
      ],
    },
  ],
};

/** A part held where it lies. */
export const HOLD = {
  list: "hold",
  one: "held part",
  title: "Parts held in place",
  fresh: "",
  groups: [],
  row: ["part", "copy", "sheet", "at"],
  sections: [
    {
      title: "Where it is held",
      fields: [
        { key: "part", words: "Part", as: "text" },
        { key: "copy", words: "Copy", as: "count" },
        { key: "opposite_hand", words: "Opposite hand", as: "yes", usual: false },
        { key: "sheet", words: "Sheet", as: "text" },
        { key: "on", words: "Number of that sheet", as: "count" },
        { key: "at", words: "Lower left at", as: "place" },
        { key: "turn_deg", words: "Turned, degrees", as: "value", usual: "0" },
      ],
    },
  ],
};
