/**
 * Kinds of items: `list` is the key in the job file, `row` what the list shows, `sections` those of its form, `groups`
 * what stands inside it.
 */

import { JOINT } from "./joint_keys.js";
import { BOUGHT, PANEL, SPREADSHEET, TUBE } from "./part_keys.js";
import { BAR, HOLD, SHEET } from "./stock_keys.js";

export { OUTLINES } from "./part_keys.js";

export const KINDS = {
  panel: PANEL,
  tube: TUBE,
  bought: BOUGHT,
  import: SPREADSHEET,
  sheet: SHEET,
  bar: BAR,
  hold: HOLD,
  joint: JOINT,
};
