/** The fields of a joint. */

import { NAME } from "./common_keys.js";

/** A joint: holes that one set of screws goes through. */
export const JOINT = {
  list: "joint",
  one: "joint",
  title: "Joints",
  fresh: "New joint",
  groups: [],
  row: ["name", "screw", "through"],
  sections: [
    {
      title: "The joint",
      fields: [
        NAME,
        { key: "screw", words: "Screw", as: "choice", from: "screws", free: true },
        { key: "rivet", words: "or rivet", as: "value" },
        { key: "wood_screw", words: "or wood screw", as: "text" },
        { key: "cable_tie", words: "or cable tie", as: "value" },
        { key: "hook_and_loop", words: "or hook-and-loop", as: "value" },
        {
          key: "through",
          words: "Through",
          as: "names",
          hint: "PART / GROUP : hole numbers; from the heads on, divided by semicolons",
        },
        { key: "quantity", words: "How many", as: "count" },
      ],
    },
    {
      title: "How it is held",
      closed: true,
      fields: [
        { key: "head_on", words: "Heads on", as: "text" },
        {
          key: "held_by",
          words: "Held by",
          as: "choice",
          from: ["lock nut", "nut", "rivet nut", "tapped hole", "wood"],
        },
        { key: "head", words: "Head", as: "choice", from: ["pan", "flat"] },
        { key: "washers", words: "Washers", as: "choice", from: ["none", "head", "nut", "both"] },
        { key: "length", words: "Screw length", as: "value" },
        { key: "thread_locker", words: "Thread locker", as: "yes", usual: false },
        { key: "made", words: "Holes made", as: "choice", from: ["apart", "together"] },
        { key: "held", words: "Held together while drilled", as: "yes", usual: false },
        { key: "chance", words: "Chance wanted", as: "value" },
        { key: "turned_over", words: "Parts turned over", as: "names" },
        { key: "opposite_hand", words: "Parts of opposite hand", as: "names" },
        {
          key: "position",
          words: "Position",
          as: "table",
          many: true,
          fields: [
            { key: "part", words: "Part", as: "text" },
            { key: "at", words: "At", as: "place" },
            { key: "turn_deg", words: "Turned, degrees", as: "value" },
          ],
        },
      ],
    },
  ],
};
