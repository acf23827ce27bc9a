"""Wrong jobs: holes, slots, cut-outs, notches and marks."""

from __future__ import annotations

from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP

HOLES = SOUND + '[[panel.holes]]\nname = "vent"\n'
AT = HOLES + "at = [[1, 1]]\n"


def panel(lines: str, without: str = "") -> str:
    """Return the sound job with more lines in its panel, less those that begin with a word."""
    kept = [line for line in PANEL.split("\n") if not (without and line.startswith(without))]
    return TOP + CUTTING + SHEET + "\n".join(kept) + lines + "\n"


# Each case: what the job says (#< marks the line at fault), the place, a part of the text and of the remedy.
CASES = {
    # ---- holes
    "hole without maker": (AT, 'panel "lid", holes "vent"', "one of screw, tap, drill, dia", "what makes"),
    "hole by two": (
        AT + "drill = '#7'\ndia = 1 #<\n",
        'panel "lid", holes "vent", dia',
        "together",
        "Keep one",
    ),
    "hole without place": (
        HOLES + "dia = 1\n",
        'panel "lid", holes "vent"',
        "one of at, row",
        "where the holes are",
    ),
    "hole by two patterns": (
        AT + "dia = 1\ncorners = 1 #<\n",
        'panel "lid", holes "vent", corners',
        "together",
        "Keep one",
    ),
    "screw unknown": (
        AT + "screw = '11-32' #<\n",
        'panel "lid", holes "vent", screw',
        "11-32",
        "The tables have",
    ),
    "screw of either kind": (
        AT + "screw = '10' #<\n",
        'panel "lid", holes "vent", screw',
        "may mean",
        '"#10"',
    ),
    "fit unknown": (
        AT + "screw = '#10'\nfit = 'snug' #<\n",
        'panel "lid", holes "vent", fit',
        "snug",
        '"close"',
    ),
    "fit of the other system": (
        AT + "screw = '#10'\nfit = 'fine' #<\n",
        'panel "lid", holes "vent", fit',
        "fine",
        "close, normal, loose",
    ),
    "fit without a screw": (
        AT + "dia = 1\nfit = 'close' #<\n",
        'panel "lid", holes "vent", fit',
        "screw only",
        "Leave",
    ),
    "tap unknown": (
        AT + "tap = '10-99' #<\n",
        'panel "lid", holes "vent", tap',
        "10-24, 10-32",
        "tap table has",
    ),
    "drill unknown": (AT + "drill = '#99' #<\n", 'panel "lid", holes "vent", drill', "#99", '"#80"'),
    "drill of either unit": (
        AT + "drill = '.201' #<\n",
        'panel "lid", holes "vent", drill',
        "may be",
        '".201 in" or ".201 mm"',
    ),
    "drill of either unit, bare": (
        AT + "drill = 0.201 #<\n",
        'panel "lid", holes "vent", drill',
        "may be",
        '"0.201 mm"',
    ),
    "drill of either unit, to many digits": (
        AT + "drill = 0.20100000000000 #<\n",
        'panel "lid", holes "vent", drill',
        "may be",
        '"0.20100000000000 in"',
    ),
    "drill of a name without end": (
        AT + f"drill = '0.{'2' * 5000}' #<\n",
        'panel "lid", holes "vent", drill',
        "have no",
        "1/64",
    ),
    "drill negative": (AT + "drill = '-3' #<\n", 'panel "lid", holes "vent", drill', "-3", "1/64"),
    "drill in endless hex": (
        AT + f"drill = 0x{'f' * 5000} #<\n",
        'panel "lid", holes "vent", drill',
        "many",
        "1/64",
    ),
    "drill a list": (AT + "drill = [1] #<\n", 'panel "lid", holes "vent", drill', "a drill is wanted", "#7"),
    "dia too large": (AT + "dia = 5 #<\n", 'panel "lid", holes "vent", dia', "too large", "cut-out"),
    "key of a panel in holes": (
        AT + "dia = 1\nquantity = 2 #<\n",
        'panel "lid", holes "vent", quantity',
        "not a key",
        "[[panel]]",
    ),
    "key of a grid in holes": (
        AT + "dia = 1\npitch = [1, 1] #<\n",
        'panel "lid", holes "vent", pitch',
        "not a key",
        "row = {",
    ),
    "row a list": (
        HOLES + "dia = 1\nrow = [1] #<\n",
        'panel "lid", holes "vent", row',
        "table is wanted",
        "{ ... }",
    ),
    "row without end": (
        HOLES + "dia = 1\nrow = { start = [1, 1], count = 2 } #<\n",
        'panel "lid", holes "vent"',
        "one of end, pitch",
        "last",
    ),
    "row of one place": (
        HOLES + "dia = 1\nrow = { start = [1, 1], end = [1, 1], count = 2 } #<\n",
        'panel "lid", holes "vent", end',
        "lie on one another",
        "longer",
    ),
    "grid without pitch": (
        HOLES + "dia = 1\ngrid = { start = [1, 1], columns = 2, rows = 2 } #<\n",
        'panel "lid", holes "vent", pitch',
        "missing",
        "two lengths",
    ),
    "grid too large": (
        HOLES + "dia = 1\ngrid = { start = [1, 1], columns = 9999, rows = 9999, pitch = [1, 1] } #<\n",
        'panel "lid", holes "vent", columns',
        "too many",
        "10,000",
    ),
    "circle without count": (
        HOLES + "dia = 1\ncircle = { centre = [4, 4], diameter = 2 } #<\n",
        'panel "lid", holes "vent", count',
        "missing",
        "whole number",
    ),
    "circle in another spelling": (
        HOLES + "dia = 1\ncircle = { center = [4, 4], diameter = 2, count = 3 } #<\n",
        'panel "lid", holes "vent", center',
        "not a key",
        "centre",
    ),
    "corners that meet": (
        HOLES + "dia = 1\ncorners = 5 #<\n",
        'panel "lid", holes "vent", corners',
        "meet",
        "half",
    ),
    "edge unknown": (
        HOLES + "dia = 1\nedge = { side = 'up', inset = 1, count = 1 } #<\n",
        'panel "lid", holes "vent", side',
        '"up"',
        '"top"',
    ),
    "edge without room": (
        HOLES + "dia = 1\nedge = { side = 'top', inset = 1, count = 2, ends = 8 } #<\n",
        'panel "lid", holes "vent", ends',
        "no room",
        "shorter",
    ),
    "edge without ends": (
        HOLES + "dia = 1\nedge = { side = 'top', inset = 1, count = 2 } #<\n",
        'panel "lid", holes "vent", ends',
        "missing",
        "length",
    ),
    "from unknown": (
        AT + "dia = 1\nfrom = 'left' #<\n",
        'panel "lid", holes "vent", from',
        '"left"',
        '"bottom left"',
    ),
    "group twice": (
        AT + 'dia = 1\n[[panel.holes]]\nname = "vent" #<\ndia = 1\ncorners = 1\n',
        'panel "lid", holes "vent", name',
        "two groups",
        "Rename",
    ),
    "group with a slash": (
        SOUND + '[[panel.holes]]\nname = "a/b" #<\ndia = 1\ncorners = 1\n',
        'panel "lid", holes "a/b", name',
        "/",
        "sign",
    ),
    "holes in single brackets": (
        SOUND + "[panel.holes] #<\ndia = 1\ncorners = 1\n",
        'panel "lid", holes',
        "single table",
        "[[panel.holes]]",
    ),
    # ---- slots, cut-outs, notches, marks
    "slot too short": (
        SOUND + "[[panel.slots]]\nat = [4, 4]\nlength = 1 #<\nwidth = 1\n",
        'panel "lid", slots 1, length',
        "longer",
        "round",
    ),
    "slot wildly turned": (
        SOUND + "[[panel.slots]]\nat = [4, 4]\nlength = 2\nwidth = 1\nangle_deg = 999 #<\n",
        'panel "lid", slots 1, angle_deg',
        "range",
        "-360",
    ),
    "cut-out without shape": (
        SOUND + "[[panel.cutouts]]\nat = [1, 1]\n",
        'panel "lid", cutouts 1',
        "one of size",
        "size, disc",
    ),
    "cut-out without place": (
        SOUND + "[[panel.cutouts]] #<\nsize = [1, 1]\n",
        'panel "lid", cutouts 1, at',
        "missing",
        "two lengths",
    ),
    "cut-out by points and at": (
        SOUND + "[[panel.cutouts]]\npoints = [[1,1],[2,1],[1,2]]\nat = [1, 1] #<\n",
        'panel "lid", cutouts 1, at',
        "where they are",
        "Leave at out",
    ),
    "notch without place": (
        SOUND + "[[panel.notches]]\nsize = [1, 1]\n",
        'panel "lid", notches 1',
        "corner, side",
        "side",
    ),
    "notch at a corner of a side": (
        SOUND + '[[panel.notches]]\nside = "top"\nat = 0\nsize = [1, 1]\n',
        'panel "lid", notches',
        "corner",
        "place or size",
    ),
    "notch of a disc": (
        panel("disc = 4\n[[panel.notches]] #<\ncorner = 'top left'\nsize = [1, 1]", "size"),
        'panel "lid", notches',
        "goes with size",
        "Leave it out",
    ),
    "mark without height": (
        SOUND + "[[panel.marks]] #<\nat = [1, 1]\ntext = 'A'\n",
        'panel "lid", marks 1, height',
        "missing",
        "length",
    ),
    "mark of two lines": (
        SOUND + '[[panel.marks]]\nat = [1, 1]\nheight = 1\ntext = "A\\nB" #<\n',
        'panel "lid", marks 1, text',
        "control",
        "one line",
    ),
}
