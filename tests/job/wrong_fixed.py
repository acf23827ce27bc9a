"""Wrong jobs: regions that are kept clear, and copies that are held."""

from __future__ import annotations

from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP

PLACE = 'sheet "PC 1/8 2x4", keep_clear 1'
HERE = 'sheet = "PC 1/8 2x4"'
ROUTER = CUTTING.replace("saw", "router").replace('kerf = "1/8"', 'kerf = "1/8"\ngap = "1/4"\nmargin = 0')
TUBE = '[[tube]]\nname = "leg"\nmaterial = "aluminium"\nsection = "1 x 1 x 1/16"\nlength = 22\n'
BOUGHT = '[[bought]]\nname = "hinge"\n'
ROLL = SHEET.replace("size = [24, 48]", 'size = [24, "roll"]')


def clear(lines: str, sheet: str = "") -> str:
    """Return the sound job with a region on its sheet."""
    return TOP + CUTTING + SHEET + sheet + "[[sheet.keep_clear]]\n" + lines + "\n" + PANEL


def hold(lines: str, *, panel: str = "", sheet: str = SHEET, cutting: str = CUTTING, more: str = "") -> str:
    """Return the sound job with holds."""
    return TOP + cutting + sheet + PANEL + panel + more + "[[hold]]\n" + lines + "\n"


def other_sheet(name: str, material: str, thickness: str) -> str:
    """Return one more sheet."""
    kind = f'material = "{material}"\nthickness = "{thickness}"\n'
    return f'[[sheet]]\nname = "{name}"\n{kind}size = [24, 48]\nprice = 9\n'


def two(first: str, second: str, **blocks: str) -> str:
    """Return a job of three lids, two of them held."""
    blocks = {"panel": "quantity = 3\n"} | blocks
    lid = f'part = "lid"\n{HERE}\n'
    return hold(f"{lid}{first}\n[[hold]]\ncopy = 2\n{lid}{second}", **blocks)


LID = f'part = "lid"\n{HERE}\n'

REGIONS = {
    "region without a size": (clear("at = [1, 1]"), PLACE, "one of size, disc", "how large"),
    "region of two sizes": (
        clear("at = [1, 1]\nsize = [1, 1]\ndisc = 2 #<"),
        f"{PLACE}, disc",
        "size and disc",
        "one of them",
    ),
    "region without a place": (clear("size = [1, 1]"), f"{PLACE}, at", "missing", "two lengths"),
    "region of no size": (clear("at = [1, 1]\nsize = [0, 1] #<"), f"{PLACE}, size[0]", "nothing", "above 0"),
    "region as one number": (clear("at = 4 #<\nsize = [1, 1]"), f"{PLACE}, at", "two lengths", "[x, y]"),
    "region beside the sheet": (
        clear("at = [24, 3] #<\nsize = [1, 1]"),
        f"{PLACE}, at",
        "beside the sheet",
        "lower left",
    ),
    "region below the sheet": (
        clear("at = [2, -3] #<\nsize = [1, 1]"),
        f"{PLACE}, at",
        "beside the sheet",
        "lower left",
    ),
    "disc beside the sheet": (
        clear("at = [26, 3] #<\ndisc = 2"),
        f"{PLACE}, at",
        "beside the sheet",
        "a disc's centre",
    ),
    "region on sheet 0": (
        clear("at = [1, 1]\nsize = [1, 1]\non = 0 #<"),
        f"{PLACE}, on",
        "out of range",
        "whole number",
    ),
    "region on half a sheet": (
        clear("at = [1, 1]\nsize = [1, 1]\non = 1.5 #<"),
        f"{PLACE}, on",
        "whole number",
        "whole number",
    ),
    "region on a sheet that is not there": (
        clear("at = [1, 1]\nsize = [1, 1]\non = 3 #<", "on_hand = 2\nbuy = false\n"),
        f"{PLACE}, on",
        "no sheet 3: only 2 sheets",
        "from 1 to 2",
    ),
    "region with a long word": (
        clear(f"at = [1, 1]\nsize = [1, 1]\nwhy = '{'x' * 41}' #<"),
        f"{PLACE}, why",
        "41 characters",
        "at most 40",
    ),
    "region with an empty word": (
        clear("at = [1, 1]\nsize = [1, 1]\nwhy = '' #<"),
        f"{PLACE}, why",
        "empty",
        "leave the line out",
    ),
    "region with an unknown key": (
        clear("at = [1, 1]\nsize = [1, 1]\nwhi = 'knot' #<"),
        f"{PLACE}, whi",
        "not a key",
        "why",
    ),
    "region on a roll": (
        TOP + CUTTING + ROLL + "[[sheet.keep_clear]] #<\nat = [1, 1]\nsize = [1, 1]\n" + PANEL,
        PLACE,
        "roll has no sheets",
        "leave it out here",
    ),
    "region in single brackets": (
        TOP + CUTTING + SHEET + "[sheet.keep_clear] #<\nat = [1, 1]\nsize = [1, 1]\n" + PANEL,
        'sheet "PC 1/8 2x4", keep_clear',
        "single table",
        "[[sheet.keep_clear]]",
    ),
    "region under a misspelt header": (
        TOP + CUTTING + SHEET + "[[sheet.keep_cler]] #<\nat = [1, 1]\nsize = [1, 1]\n" + PANEL,
        'sheet "PC 1/8 2x4", keep_cler',
        "not a key",
        "keep_clear",
    ),
    "region at the top": (
        SOUND + "[[keep_clear]] #<\nat = [1, 1]\nsize = [1, 1]\n",
        "keep_clear",
        "not a key",
        "[[sheet]]",
    ),
}

HOLDS = {
    "hold without a part": (hold(f"{HERE}\nat = [0, 0]"), "hold 1, part", "missing", "in quotes"),
    "hold without a sheet": (hold('part = "lid"\nat = [0, 0]'), "hold 1, sheet", "missing", "in quotes"),
    "hold without a place": (hold(f'part = "lid"\n{HERE}'), "hold 1, at", "missing", "two lengths"),
    "hold of an unknown part": (
        hold(f'part = "lit" #<\n{HERE}\nat = [0, 0]'),
        "hold 1, part",
        "no part of this job",
        '"lid"',
    ),
    "hold of a tube": (
        hold(f'part = "leg" #<\n{HERE}\nat = [0, 0]', more=TUBE),
        "hold 1, part",
        "a tube",
        "panels only",
    ),
    "hold of a bought part": (
        hold(f'part = "hinge" #<\n{HERE}\nat = [0, 0]', more=BOUGHT),
        "hold 1, part",
        "bought",
        "panels only",
    ),
    "hold on an unknown sheet": (
        hold('part = "lid"\nsheet = "PC 1/8 2x5" #<\nat = [0, 0]'),
        "hold 1, sheet",
        "no sheet of this job",
        '"PC 1/8 2x4"',
    ),
    "hold on a sheet of another material": (
        hold(
            'part = "lid"\nsheet = "ply" #<\nat = [0, 0]',
            sheet=SHEET + other_sheet("ply", "birch plywood", "1/8"),
        ),
        "hold 1, sheet",
        "is not cut from",
        '"PC 1/8 2x4"',
    ),
    "hold on a sheet of another thickness": (
        hold(
            'part = "lid"\nsheet = "thick" #<\nat = [0, 0]',
            sheet=SHEET + other_sheet("thick", "polycarbonate", "1/4"),
        ),
        "hold 1, sheet",
        "is not cut from",
        '"PC 1/8 2x4"',
    ),
    "hold on a sheet that is not there": (
        hold(LID + "at = [0, 0]\non = 2 #<", sheet=SHEET + "on_hand = 1\nbuy = false\n"),
        "hold 1, on",
        "only 1 sheet",
        "from 1 to 1",
    ),
    "hold off a roll": (
        hold(f'part = "lid"\n{HERE} #<\nat = [0, 0]', sheet=ROLL),
        "hold 1, sheet",
        "off a roll",
        "Take it out",
    ),
    "hold of copy 0": (
        hold(LID + "at = [0, 0]\ncopy = 0 #<"),
        "hold 1, copy",
        "out of range",
        "whole number",
    ),
    "hold of a copy too many": (
        hold(LID + "at = [0, 0]\ncopy = 2 #<"),
        "hold 1, copy",
        "no copy 2",
        "from 1 to 1",
    ),
    "hold of a hand that is not made": (
        hold(LID + "at = [0, 0]\nopposite_hand = true #<"),
        "hold 1, opposite_hand",
        "opposite hand",
        "Leave opposite_hand out",
    ),
    "hold of a drawn copy where none is made": (
        hold(LID + "at = [0, 0]", panel="quantity = 0\nopposite_hand = 1\n"),
        "hold 1, opposite_hand",
        "as drawn",
        "opposite_hand = true",
    ),
    "hold of one copy twice": (
        hold(f"{LID}at = [0, 0]\n[[hold]]\n{LID}at = [0, 20]\ncopy = 1 #<"),
        "hold 2, copy",
        "held already, in hold 1",
        "another copy",
    ),
    "hold turned too far": (
        hold(LID + "at = [0, 0]\nturn_deg = 400 #<"),
        "hold 1, turn_deg",
        "out of range",
        "degrees",
    ),
    "hold at an angle under a saw": (
        hold(LID + "at = [1, 1]\nturn_deg = 30 #<"),
        "hold 1, turn_deg",
        "30 degrees",
        "90",
    ),
    "hold turned as the part must not": (
        hold(LID + "at = [0, 0]\nturn_deg = 90 #<", panel='turn = "half"\n'),
        "hold 1, turn_deg",
        'turn = "half" forbids',
        "Write 0 or 180",
    ),
    "hold across the grain": (
        hold(LID + "at = [0, 0]\nturn_deg = 90 #<", panel='grain = "x"\n', sheet=SHEET + 'grain = "x"\n'),
        "hold 1, turn_deg",
        "grain",
        "Write 0 or 180",
    ),
    "hold at an angle too fine": (
        hold(LID + "at = [8, 8]\nturn_deg = 30.12345678901 #<", cutting=ROUTER, panel='turn = "any"\n'),
        "hold 1, turn_deg",
        "finer",
        "nine decimals",
    ),
    "hold over the right edge": (hold(LID + "at = [10, 0] #<"), "hold 1, at", "over the border", "inside"),
    "hold below the sheet": (hold(LID + "at = [0, -1] #<"), "hold 1, at", "over the border", "inside"),
    "hold over the margin": (
        hold(LID + "at = [0, 0] #<", cutting=CUTTING + "margin = 1\n"),
        "hold 1, at",
        "over the border",
        "inside",
    ),
    "hold finer than the grid": (
        hold(LID + "at = [0.00000001, 0] #<"),
        "hold 1, at",
        "no whole number of steps",
        "Round it",
    ),
    "hold on a region": (
        hold(
            LID + "at = [0, 0] #<",
            sheet=SHEET + "[[sheet.keep_clear]]\nat = [3, 3]\nsize = [1, 1]\nwhy = 'knot'\n",
        ),
        "hold 1, at",
        "kept clear (knot)",
        "Move it",
    ),
    "hold beside a region": (
        hold(
            LID + "at = [0, 0] #<",
            sheet=SHEET + "[[sheet.keep_clear]]\nat = [14.6, 0]\nsize = [1, 1]\non = 1\n",
        ),
        "hold 1, at",
        "nearer to it than the cut is wide",
        "Move it",
    ),
    "holds that overlap": (two("at = [0, 0]", "at = [3, 3] #<"), "hold 2, at", "overlap", "Move one"),
    "holds nearer than the gap": (
        two("at = [0, 0]", "at = [0, 9.8] #<"),
        "hold 2, at",
        "nearer to it than the gap",
        "Move one",
    ),
    "true shapes that overlap": (
        two("at = [0, 0]", "at = [6, 6] #<", cutting=ROUTER, panel="quantity = 3\ncorner_radius = 1\n"),
        "hold 2, at",
        "overlap",
        "Move one",
    ),
    "holds that no saw frees": (
        two(
            "at = [0, 0]",
            f"at = [14.625, 0]\nturn_deg = 90\n[[hold]]\ncopy = 3\n{LID}at = [9.875, 14.625]\n"
            f"[[hold]]\ncopy = 4\n{LID}at = [0, 9.875] #<\nturn_deg = 90",
            panel="quantity = 4\n",
            sheet=SHEET.replace("24, 48", "48, 48"),
        ),
        "hold 4, at",
        "no cuts from edge to edge",
        "hold fewer",
    ),
    "holds that take too many directions": (
        two(
            "at = [0, 0]",
            "at = [15, 0] #<\nturn_deg = 90",
            cutting=CUTTING + 'first = "x"\nstages = 1\n',
            sheet=SHEET.replace("24, 48", "48, 24"),
        ),
        "hold 2, at",
        "within stages = 1",
        "more stages",
    ),
    "hold with an unknown key": (
        hold(LID + "at = [0, 0]\nturn = 90 #<"),
        "hold 1, turn",
        "not a key",
        "turn_deg",
    ),
    "hold in single brackets": (SOUND + f"[hold] #<\n{LID}at = [0, 0]\n", "hold", "single table", "[[hold]]"),
}

CASES = REGIONS | HOLDS
