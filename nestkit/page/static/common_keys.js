/**
 * Fields that several kinds of items have: key of the job file, words, how it is typed, and help.
 *
 * `as`: text, value (one length or number), count, pair (14 1/2 x 9 3/4), place (x, y), places, list, names (a list of
 * texts), yes (yes or no; `usual` if not said), margin (one length, or one a side), choice (`from` is a list, or the name
 * of one of the server's lists; `free`: anything else may be typed too), table (`fields` inside it; `many`: or a list of
 * such tables). `usual` is what counts where the file says nothing.
 */

export const GRAIN = ["none", "x", "y"];
export const COUNTS = [
  { key: "quantity", words: "How many", as: "count", usual: "1" },
  {
    key: "opposite_hand",
    words: "Opposite hand",
    as: "count",
    usual: "0",
    hint: "Further ones, mirrored: a left for a right.",
  },
  { key: "spare", words: "Spare", as: "count", usual: "0", hint: "Further ones, in case one is spoiled." },
  {
    key: "spare_if_room",
    words: "Spare if room",
    as: "count",
    usual: "0",
    hint: "Only where they cost no more sheet.",
  },
];
export const NAME = { key: "name", words: "Name", as: "text" };
export const FOR = { key: "for", words: "For", as: "text", hint: "The assembly or bench; prints are sorted by it." };
export const MATERIAL = { key: "material", words: "Material", as: "choice", from: "materials", free: true };
export const THICKNESS = {
  key: "thickness",
  words: "Thickness",
  as: "value",
  hint: "As measured, or as the shop calls it.",
};
export const METHOD = { key: "method", words: "How its holes are marked", as: "choice", from: "methods" };
export const REVISION = { key: "revision", words: "Revision", as: "text" };
export const PRICE = { key: "price", words: "Price", as: "value" };
export const CORNER = [
  { key: "corner_radius", words: "Corner radius", as: "value" },
  { key: "chamfer", words: "or chamfer, its leg", as: "value" },
];
export const SECTION = {
  key: "section",
  words: "Section",
  as: "text",
  hint: "1 x 1 x 1/16, round 1 x 1/16, rod 1/4, angle 1 x 1 x 1/8, strip 1 x 1/8",
};
