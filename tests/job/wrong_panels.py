"""Wrong jobs: panels and their outlines."""

from __future__ import annotations

from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP


def panel(lines: str, without: str = "") -> str:
    """Return the sound job with more lines in its panel, less those that begin with a word."""
    kept = [line for line in PANEL.split("\n") if not (without and line.startswith(without))]
    return TOP + CUTTING + SHEET + "\n".join(kept) + lines + "\n"


# Each case: what the job says (#< marks the line at fault), the place, a part of the text and of the remedy.
CASES = {
    # ---- panels: what and how many
    "name missing": (panel("", "name"), "panel 1, name", "missing", "quotes"),
    "name a number": (panel("name = 7 #<", "name"), "panel 1, name", "a text is wanted, not 7", '"..."'),
    "name with a slash": (panel('name = "../a" #<', "name"), 'panel "../a", name', '"/"', "another sign"),
    "name too long": (
        panel(f'name = "{"x" * 61}" #<', "name"),
        f'panel "{"x" * 61}", name',
        "61 char",
        "at most 60",
    ),
    "name turning direction": (
        panel('name = "a\\u202Eb" #<', "name"),
        'panel "a\\u202eb", name',
        "direction",
        "without",
    ),
    "name with control": (
        panel('name = "a\\u0007b" #<', "name"),
        'panel "a\\u0007b", name',
        "control",
        "one line",
    ),
    "name twice": (SOUND + PANEL.replace('"lid"', '"lid" #<'), 'panel "lid", name', "two parts", "its own"),
    "thickness missing": (panel("", "thickness"), 'panel "lid", thickness', "missing", "length"),
    "key misspelt": (
        panel("thikness = 1 #<", "thickness"),
        'panel "lid", thikness',
        "not a key",
        "thickness",
    ),
    "key of holes in a panel": (
        panel("fit = 'close' #<"),
        'panel "lid", fit',
        "not a key",
        "[[panel.holes]]",
    ),
    "key of a sheet in a panel": (panel("on_hand = 1 #<"), 'panel "lid", on_hand', "not a key", "[[sheet]]"),
    "quantity a text": (panel('quantity = "2" #<'), 'panel "lid", quantity', 'not "2"', "0 to 100000"),
    "quantity true": (panel("quantity = true #<"), 'panel "lid", quantity', "not true", "whole"),
    "quantity huge": (panel("quantity = 100001 #<"), 'panel "lid", quantity', "range", "100000"),
    "every quantity 0": (
        panel("quantity = 0\nspare_if_room = 4").replace("[[panel]]", "[[panel]] #<"),
        "panel",
        "nothing to make",
        "quantity",
    ),
    "no panel in the list": (
        TOP + "panel = []\n" + CUTTING + SHEET,
        "job file",
        "nothing to make",
        "[[panel]]",
    ),
    "spare negative": (panel("spare = -1 #<"), 'panel "lid", spare', "range", "0 to"),
    "faces unknown": (panel('faces = "same" #<'), 'panel "lid", faces', '"same"', '"alike"'),
    "grain unknown": (panel('grain = "z" #<'), 'panel "lid", grain', '"z"', '"y"'),
    "turn unknown": (panel("turn = 90 #<"), 'panel "lid", turn', "90", '"quarter"'),
    "two real thicknesses": (
        TOP
        + CUTTING
        + SHEET
        + SHEET.replace("2x4", "b").replace('".118"', '".125"')
        + PANEL.replace('ness = "1/8"', 'ness = "1/8" #<'),
        'panel "lid", thickness',
        "more than one real thickness: .118 in and 1/8 in",
        "real thickness",
    ),
    # ---- panels: outlines
    "no outline": (panel("", "size"), 'panel "lid"', "one of size, points, disc", "size, points or disc"),
    "two outlines": (panel("disc = 4 #<"), 'panel "lid", disc', "cannot stand together", "Keep one"),
    "outline file": (
        panel("outline = 'lid.dxf' #<", "size"),
        'panel "lid", outline',
        "is not there",
        "beside the job file",
    ),
    "size of one": (panel("size = [4] #<", "size"), 'panel "lid", size', "two lengths", "[x, y]"),
    "size zero": (panel("size = [0, 4] #<", "size"), 'panel "lid", size[0]', "nothing", "above 0"),
    "size tiny": (
        panel("size = [4, '0.09 mm'] #<", "size"),
        'panel "lid", size[1]',
        "range",
        "0.1 mm to 100 m",
    ),
    "size huge": (panel("size = [4, '101 m'] #<", "size"), 'panel "lid", size[1]', "range", "100 m"),
    "size nan": (panel("size = [nan, 4] #<", "size"), 'panel "lid", size[0]', "NaN", "18 3/4"),
    "size infinite": (panel("size = [4, inf] #<", "size"), 'panel "lid", size[1]', "Infinity", "18 3/4"),
    "size beyond bounds": (
        panel("size = [4, 1e99] #<", "size"),
        'panel "lid", size[1]',
        "1.000E+99",
        "100 m",
    ),
    "size beyond decimals": (
        panel("size = [4, 1e99999999999999999999] #<", "size"),
        'panel "lid", size[1]',
        "Inf",
        "18",
    ),
    "size with comma": (
        panel("size = ['2,5 mm', 4] #<", "size"),
        'panel "lid", size[0]',
        "comma",
        '"2.5 mm"',
    ),
    "size by nothing": (
        panel("size = ['3/0', 4] #<", "size"),
        'panel "lid", size[0]',
        "divides by zero",
        "18 3/4",
    ),
    "size with a tail": (
        panel("size = ['6 in 3', 4] #<", "size"),
        'panel "lid", size[0]',
        "'in 3'",
        "in, mm",
    ),
    "size empty": (panel("size = ['', 4] #<", "size"), 'panel "lid", size[0]', "empty", "18 3/4"),
    "size with an unknown unit": (
        panel("size = ['6 yd', 4] #<", "size"),
        'panel "lid", size[0]',
        "'yd'",
        "in, mm",
    ),
    "size a table": (
        panel("size = [{ x = 1 }, 4] #<", "size"),
        'panel "lid", size[0]',
        "not a table",
        "length",
    ),
    "size a list in a list": (
        panel("size = [[1], 4] #<", "size"),
        'panel "lid", size[0]',
        "not [1]",
        "length",
    ),
    "radius too large": (
        panel("corner_radius = 5 #<"),
        'panel "lid", corner_radius',
        "half the shorter",
        "smaller",
    ),
    "radius and chamfer": (
        panel("corner_radius = 1\nchamfer = 1 #<"),
        'panel "lid", chamfer',
        "together",
        "one",
    ),
    "radius of points": (
        panel("points = [[0,0],[4,0],[0,4]]\ncorner_radius = 1 #<", "size"),
        'panel "lid", corner_radius',
        "goes with size",
        "Leave it out",
    ),
    "points too few": (
        panel("points = [[0,0],[1,1]] #<", "size"),
        'panel "lid", points',
        "3 or more",
        "list",
    ),
    "points not at 0": (
        panel("points = [[1,0],[4,0],[4,4]] #<", "size"),
        'panel "lid", points',
        "must be 0",
        "lower left",
    ),
    "points crossing": (
        panel("points = [[0,0],[4,4],[4,0],[0,4]] #<", "size"),
        'panel "lid", points[2]',
        "meets",
        "in order",
    ),
    "points touching": (
        panel("points = [[0,0],[8,0],[8,8],[4,0],[0,8]] #<", "size"),
        'panel "lid", points[3]',
        "meets",
        "in order",
    ),
    "points repeated": (
        panel("points = [[0,0],[4,0],[4,0],[4,4]] #<", "size"),
        'panel "lid", points[2]',
        "the same",
        "Leave one",
    ),
    "points in a line": (
        panel("points = [[0,0],[2,0],[4,0]] #<", "size"),
        'panel "lid", points[2]',
        "meets",
        "in order",
    ),
    "a point of three": (
        panel("points = [[0,0],[4,0,1],[4,4]] #<", "size"),
        'panel "lid", points[1]',
        "two lengths",
        "[x, y]",
    ),
}
