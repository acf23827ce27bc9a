"""Which keys a job file may have, and where each belongs."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import Literal

from nestkit.parts.methods import METHODS

LevelName = Literal[
    "top", "cutting", "way", "margin", "tabs", "printing", "marking", "dxf", "sheet", "keep clear", "hold",
    "panel",
    "outline layers", "row of a spreadsheet", "holes", "row", "grid", "circle", "edge", "slots", "cutouts",
    "notches", "marks", "bar", "tube", "mitre", "tube holes", "tube row", "import", "labels",
    "corner of the first label", "bought", "bought holes", "joint", "position", "fit", "accuracy", "practice",
    "shop",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Level:
    """One kind of table: where it stands, in words and as it is written, and its keys."""

    where: str
    example: str
    keys: tuple[str, ...]


def _level(where: str, example: str, keys: str) -> Level:
    return Level(where, example, tuple(keys.split()))


_WAY = "how kerf gap margin stages first prefer tabs relief"
_COUNTS = "quantity opposite_hand spare spare_if_room"
_MADE = f"name for material thickness disc corner_radius chamfer {_COUNTS} faces grain turn revision method"
_DRILLED = "name screw fit tap drill dia"

LEVELS: dict[LevelName, Level] = {
    "top": _level(
        "the top of the file",
        "write it at the top of the file, before the first [table]",
        "job unit date cutting printing marking dxf labels fit practice shop sheet panel bar tube bought "
        "joint hold import",
    ),
    "cutting": _level("[cutting]", "write it under [cutting]", _WAY),
    "way": _level("a named way of cutting", "write it under [cutting.NAME]", _WAY),
    "margin": _level("margin", "write it in margin = { left = 1 }", "left right bottom top"),
    "tabs": _level("tabs", "write it in tabs = { ... }", "width count every"),
    "printing": _level("[printing]", "write it under [printing]", "paper scale_x scale_y pages fold"),
    "marking": _level("[marking]", "write it under [marking]", "to"),
    "dxf": _level("[dxf]", "write it under [dxf]", "version single_layer"),
    "labels": _level("[labels]", "write it under [labels]", "columns rows size pitch margin paper skip sort"),
    "corner of the first label": _level(
        "margin of [labels]", "write it in margin = { left = 1, top = 1 }", "left top"
    ),
    "sheet": _level(
        "[[sheet]]",
        "write it under [[sheet]]",
        "name material thickness sold_as size price on_hand buy grain cut keep_clear",
    ),
    "keep clear": _level(
        "[[sheet.keep_clear]]", "write it under [[sheet.keep_clear]]", "at size disc on why"
    ),
    "hold": _level("[[hold]]", "write it under [[hold]]", "part copy opposite_hand sheet on at turn_deg"),
    "panel": _level(
        "[[panel]]",
        "write it under [[panel]]",
        f"{_MADE} size points outline outline_part outline_layers outline_unit join drill_up_to holes slots "
        "cutouts notches marks",
    ),
    "outline layers": _level(
        "outline_layers", 'write it in outline_layers = { edge = ["OUTLINE"] }', "edge holes ignore"
    ),
    "row of a spreadsheet": _level(
        "a spreadsheet", "give it a column", f"{_MADE} width height section length"
    ),
    "holes": _level(
        "[[panel.holes]]",
        "write it under [[panel.holes]]",
        f"{_DRILLED} at row grid circle corners edge from",
    ),
    "row": _level("row", "write it in row = { ... }", "start end pitch count"),
    "grid": _level("grid", "write it in grid = { ... }", "start columns rows pitch"),
    "circle": _level("circle", "write it in circle = { ... }", "centre diameter count first_deg"),
    "edge": _level("edge", "write it in edge = { ... }", "side inset count ends"),
    "slots": _level("[[panel.slots]]", "write it under [[panel.slots]]", "at length width angle_deg"),
    "cutouts": _level(
        "[[panel.cutouts]]", "write it under [[panel.cutouts]]", "at size corner_radius disc points"
    ),
    "notches": _level(
        "[[panel.notches]]", "write it under [[panel.notches]]", "corner side at size corner_radius"
    ),
    "marks": _level("[[panel.marks]]", "write it under [[panel.marks]]", "at text height"),
    "bar": _level(
        "[[bar]]", "write it under [[bar]]", "name material section length price on_hand buy trim keep cut"
    ),
    "tube": _level(
        "[[tube]]",
        "write it under [[tube]]",
        f"name for material section length {_COUNTS} revision method template corner_radius girth "
        "mitre_0 mitre_1 holes",
    ),
    "mitre": _level("a mitre", "write it in mitre_0 = { ... } or mitre_1", "angle_deg long long_deg"),
    "tube holes": _level(
        "[[tube.holes]]",
        "write it under [[tube.holes]]",
        f"{_DRILLED} face at_deg through at row across from matches",
    ),
    "tube row": _level("row", "write it in row = { ... }", "start end pitch count"),
    "import": _level("[[import]]", "write it under [[import]]", "file"),
    "bought": _level(
        "[[bought]]", "write it under [[bought]]", "name for material thickness quantity price method holes"
    ),
    "bought holes": _level(
        "[[bought.holes]]", "write it under [[bought.holes]]", f"{_DRILLED} at row grid circle"
    ),
    "joint": _level(
        "[[joint]]",
        "write it under [[joint]]",
        "name through screw rivet wood_screw cable_tie hook_and_loop quantity head_on held_by head washers "
        "length thread_locker made held chance turned_over opposite_hand position",
    ),
    "position": _level("position", "write it in position = { ... }", "part at turn_deg"),
    "fit": _level(
        "[fit]", "write it under [fit]", "chance method drill tube_walls temperature made_at spares accuracy"
    ),
    "accuracy": Level("accuracy", 'write it in accuracy = { "rule and pencil" = "0.4 mm" }', METHODS),
    "practice": _level("[[practice]]", "write it under [[practice]]", "method wanted measured"),
    "shop": _level("[shop]", "write it under [shop]", "drills"),
}

# Where a key of several levels most likely belongs, the likeliest first.
_LIKELY: tuple[LevelName, ...] = (
    "top", "cutting", "panel", "sheet", "tube", "bar", "holes", "tube holes", "printing", "marking", "dxf",
    "import", "row", "grid", "circle", "edge", "slots", "cutouts", "notches", "marks", "mitre", "margin",
    "tabs", "labels", "outline layers", "joint", "bought", "bought holes", "fit", "practice", "shop",
    "position", "hold", "keep clear",
)  # fmt: skip

# Levels that stand in one another: a key of one of them most likely belongs to another of the same.
_TOGETHER: tuple[frozenset[LevelName], ...] = (
    frozenset({"panel", "holes", "row", "grid", "circle", "edge", "slots", "cutouts", "notches", "marks"}),
    frozenset({"panel", "outline layers"}),
    frozenset({"tube", "tube holes", "tube row", "mitre"}),
    frozenset({"labels", "corner of the first label"}),
    frozenset({"bought", "bought holes", "row", "grid", "circle"}),
    frozenset({"joint", "position"}),
    frozenset({"sheet", "keep clear"}),
    frozenset({"fit", "accuracy", "practice", "shop"}),
)

_IN_SECTION = 'Write it in section, such as section = "1 x 1 x 1/16" or "round 1 x 1/16"'
_IN_LENGTH = 'Write section = "1 x 1 x 1/16" and length = 22'
_IN_ROW = (
    "Write row = { start = 1, pitch = 2, count = 3 }, a group for each face, angle or line along the tube"
)
_IN_MITRE = 'Write mitre_0 or mitre_1 = { angle_deg = 45, long = "A" }, for the end at the left or the right'
_LONG_GOODS = {
    **dict.fromkeys(("thickness", "wall", "width", "height", "diameter", "disc"), (_IN_SECTION, "section")),
    "size": (_IN_LENGTH, "section"),
}
_IN_FREE = "Write at, row, grid or circle: nothing is known of the outline of a bought part"
_FROM_OWN = "Leave it out: places count from the bought part's own origin, x to the right, y up"
_IN_TURN = "Write turn_deg = 90, counter-clockwise"
_IN_AT = 'Write at = [4, "2 1/2"], or at = ["101.6 mm", "63.5 mm"], the lower left as it lies'
_IN_THROUGH = 'Write through = ["console lid / hinge", "hinge / leaf"], in the order of the stack'
# What people write that is said by other keys there: what to write, and the key meant ("" for none).
_SAID_BY: dict[LevelName, dict[str, tuple[str, str]]] = {
    "bar": {
        **_LONG_GOODS,
        "quantity": ("Write on_hand for those that are here; others are bought", "on_hand"),
    },
    "tube": {**_LONG_GOODS, **dict.fromkeys(("mitre", "miter", "mitres", "miters"), (_IN_MITRE, "mitre_0"))},
    "tube holes": dict.fromkeys(("grid", "circle", "corners", "edge"), (_IN_ROW, "row")),
    "tube row": dict.fromkeys(("columns", "rows"), (_IN_ROW, "count")),
    "bought holes": {
        **dict.fromkeys(("corners", "edge"), (_IN_FREE, "at")),
        "from": (_FROM_OWN, ""),
    },
    "hold": {
        **dict.fromkeys(("turn", "angle", "angle_deg", "rotation"), (_IN_TURN, "turn_deg")),
        **dict.fromkeys(("x", "y", "x_mm", "y_mm", "place"), (_IN_AT, "at")),
        **dict.fromkeys(("panel", "name"), ('Write part = "console lid"', "part")),
        **dict.fromkeys(("stock", "number"), ('Write sheet = "PC 1/8 2x4" and on = 1, its number', "sheet")),
    },
    "keep clear": dict.fromkeys(
        ("x", "y", "width", "height"), ("Write at = [10, 20] and size = [2, 1]", "at")
    ),
    "joint": dict.fromkeys(("parts", "holes", "panel", "panels", "part"), (_IN_THROUGH, "through")),
}


def unknown_key(key: str, level: LevelName, given: frozenset[str]) -> tuple[str, str, str | None]:
    """Return text and remedy for a key that a level does not have, and the key that seems meant.

    ``given`` are the keys that stand there already: none of them can be meant.
    """
    here = LEVELS[level]
    if key in _SAID_BY.get(level, {}):
        remedy, meant = _SAID_BY[level][key]
        return f"not a key of {here.where}", remedy, meant or None
    homes = _homes(key, level)
    if homes and level != "row of a spreadsheet":
        remedies = list(dict.fromkeys(home.example for home in homes))[:2]
        return f"not a key of {here.where}", _sentence(", or ".join(remedies)), None
    free = [k for k in here.keys if k not in given]
    near = difflib.get_close_matches(key.lower().replace("-", "_")[:60], free, n=1, cutoff=0.6)
    if near:
        return f"not a key of {here.where}", f"Did you mean {near[0]}", near[0]
    everywhere = {k: LEVELS[name].example for name in reversed(_LIKELY) for k in LEVELS[name].keys}
    far = difflib.get_close_matches(key.lower()[:60], everywhere, n=1, cutoff=0.8)
    if far and level != "row of a spreadsheet":
        return f"not a key of {here.where}", f"Perhaps {far[0]} is meant: {everywhere[far[0]]}", None
    return f"not a key of {here.where}", f"Leave it out; the keys there are {', '.join(here.keys)}", None


def _homes(key: str, level: LevelName) -> list[Level]:
    """Return the levels that have a key: those that stand with this one, or else all, the likeliest first."""
    names = [name for name in _LIKELY if key in LEVELS[name].keys and name != level]
    near = [name for name in names if any({name, level} <= family for family in _TOGETHER)]
    return [LEVELS[name] for name in near or names]


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]
