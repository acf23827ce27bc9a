"""Wrong jobs: bars, tubes, their holes, mitres and templates."""

from __future__ import annotations

from tests.job.texts import BAR, CUTTING, PANEL, SHEET, SIDE, SOUND, TOP, TUBE, with_tube

ROUTER = '[cutting]\nhow = "router"\nkerf = "1/4"\n'
BAR_PLACE, PLACE = 'bar "square 1"', 'tube "deck frame"'
HOLES = f'{PLACE}, holes "side"'


def bar(lines: str, without: str = "", section: str = "1 x 1 x 1/16") -> str:
    """Return the sound job with more lines in its bar, less those that begin with a word."""
    kept = [line for line in BAR.split("\n") if not (without and line.startswith(without))]
    return TOP + CUTTING + "\n".join(kept).replace("1 x 1 x 1/16", section) + lines + "\n" + TUBE


def tube(lines: str, without: str = "") -> str:
    """Return the sound job with more lines in its tube, less those that begin with a word."""
    kept = [line for line in TUBE.split("\n") if not (without and line.startswith(without))]
    return TOP + CUTTING + BAR + "\n".join(kept) + lines + "\n"


def side(lines: str, without: str = "", section: str = "1 x 1 x 1/16") -> str:
    """Return a tube of a section with more lines in its holes, less those that begin with a word."""
    kept = [line for line in SIDE.split("\n") if not (without and line.startswith(without))]
    return with_tube("\n".join(kept) + lines + "\n", section)


# Each case: what the job says (#< marks the line at fault), the place, a part of the text and of the remedy.
CASES = {
    # ---- bars
    "bar without section": (bar("", "section"), f"{BAR_PLACE}, section", "missing", '"1 x 1 x 1/16"'),
    "bar without length": (bar("", "length"), f"{BAR_PLACE}, length", "missing", "Write a length"),
    "bar without name": (bar("", "name"), "bar 1, name", "missing", "quotes"),
    "bar in single brackets": (
        (TOP + CUTTING + BAR + TUBE).replace("[[bar]]", "[bar] #<"),
        "bar",
        "a single table",
        "[[bar]]",
    ),
    "bar with a size": (
        bar("size = 96 #<", "section"),
        f"{BAR_PLACE}, size",
        "not a key of [[bar]]",
        "and length = 22",
    ),
    "bar with a thickness": (
        bar('thickness = "1/16" #<'),
        f"{BAR_PLACE}, thickness",
        "not a key of [[bar]]",
        'section = "1 x 1 x 1/16"',
    ),
    "bar with a quantity": (
        bar("quantity = 3 #<"),
        f"{BAR_PLACE}, quantity",
        "not a key of [[bar]]",
        "Write on_hand",
    ),
    "section of two sizes": (
        bar('section = "1 x 1/16" #<', "section"),
        f"{BAR_PLACE}, section",
        "2 sizes where 3 are wanted",
        "round 1 x 1/16",
    ),
    "section as a list": (
        bar("section = [1, 1] #<", "section"),
        f"{BAR_PLACE}, section",
        "a text is wanted",
        "in quotes",
    ),
    "section with a wall too thick": (
        bar('section = "1 x 1 x 1/2" #<', "section"),
        f"{BAR_PLACE}, section",
        "no room inside",
        "Make the wall less",
    ),
    "bar of a router": (
        TOP + ROUTER + BAR.replace("[[bar]]", "[[bar]] #<") + TUBE,
        f"{BAR_PLACE}, cut",
        "[cutting] cuts by router",
        'Give cut = a way with how = "saw": add [cutting.hacksaw]',
    ),
    "bar of a router that no tube needs": (
        TOP + ROUTER + BAR.replace("[[bar]]", "[[bar]] #<") + SHEET + PANEL,
        f"{BAR_PLACE}, cut",
        "a bar is sawn",
        'Give cut = a way with how = "saw"',
    ),
    "bar without its saw": (
        TOP + ROUTER + "[cutting.hacksaw]\nhow = 'saw'\nkerf = 0\n" + BAR + TUBE,
        f"{BAR_PLACE}, cut",
        "[cutting] cuts by router",
        'Give cut = a way with how = "saw": cut = "hacksaw"',
    ),
    "bar cut by a router": (
        TOP + CUTTING + "[cutting.b]\nhow = 'router'\nkerf = 0\n" + BAR + "cut = 'b' #<\n" + TUBE,
        f"{BAR_PLACE}, cut",
        '"b" cuts by router',
        "leave it out, as [cutting] is one",
    ),
    "bar cut no known way": (bar("cut = 'axe' #<"), f"{BAR_PLACE}, cut", "no way", "[cutting.NAME]"),
    "bar trimmed away": (
        bar("trim = 48 #<"),
        f"{BAR_PLACE}, trim",
        "48 in lost at each end leaves nothing of 96 in",
        "less than half",
    ),
    "bar with a negative trim": (bar("trim = -1 #<"), f"{BAR_PLACE}, trim", "negative", "0 or a length"),
    "keep as a flag": (bar("keep = true #<"), f"{BAR_PLACE}, keep", "a length is wanted", "Write it as"),
    "roll cut with a saw": (
        (TOP + CUTTING + "[cutting.b]\nkerf = 0\n" + BAR + "cut = 'b' #<\n" + TUBE).replace(
            "1 x 1 x 1/16", "roll 1"
        ),
        f"{BAR_PLACE}, cut",
        "with scissors",
        "Leave it out",
    ),
    "roll with a trim": (
        bar("trim = 1 #<", section="roll 1"),
        f"{BAR_PLACE}, trim",
        "no ends to trim",
        "Leave it out",
    ),
    "price of a roll in words": (
        bar("price = '9 a roll' #<", "price", section="roll 1"),
        f"{BAR_PLACE}, price",
        "plain number",
        "what one roll costs",
    ),
    "bar named as a sheet": (
        TOP + CUTTING + SHEET + BAR.replace('"square 1"', '"PC 1/8 2x4" #<') + TUBE,
        'bar "PC 1/8 2x4", name',
        "two kinds of stock",
        "its own name",
    ),
    "bars cut in two ways": (
        TOP
        + CUTTING
        + "[cutting.b]\nkerf = 0\n"
        + BAR
        + BAR.replace("square 1", "turned")
        + "cut = 'b' #<\n"
        + TUBE,
        'bar "turned", cut',
        'stock of one material and section is cut one way, and "square 1"',
        "same way",
    ),
    "bars priced in part": (
        TOP + CUTTING + BAR + BAR.replace("square 1", "short").replace("price = 14\n", "") + TUBE,
        'bar "short", price',
        '"short" has no price',
        "one material and section, or to none",
    ),
    "bars turned and priced in part": (
        (TOP + CUTTING + BAR + BAR.replace("square 1", "turned").replace("price = 14\n", "") + TUBE)
        .replace("1 x 1 x 1/16", "1 x 2 x 1/16", 1)
        .replace("1 x 1 x 1/16", "2 x 1 x 1/16", 1),
        'bar "turned", price',
        "has no price",
        "or to none",
    ),
    # ---- tubes
    "tube without length": (tube("", "length"), f"{PLACE}, length", "missing", "Write a length"),
    "tube without section": (tube("", "section"), f"{PLACE}, section", "missing", "angle 1 x 1 x 1/8"),
    "tube with a thickness for a section": (
        tube('thickness = "1/16" #<', "section"),
        f"{PLACE}, thickness",
        "not a key of [[tube]]",
        "Write it in section",
    ),
    "tube named as a panel": (
        SOUND + TUBE.replace('"deck frame"', '"lid" #<'),
        'tube "lid", name',
        "two parts are called",
        "its own name",
    ),
    "tube with a slash in its name": (
        tube('name = "a/b" #<', "name"),
        'tube "a/b", name',
        '"/"',
        "another sign",
    ),
    "no tube to make": (tube("quantity = 0"), "tube", "nothing to make", "its quantity"),
    "key of a hole in a tube": (
        tube('face = "A" #<'),
        f"{PLACE}, face",
        "not a key of [[tube]]",
        "Write it under [[tube.holes]]",
    ),
    "drill in a tube": (tube('drill = "#7" #<'), f"{PLACE}, drill", "not a key", "under [[tube.holes]]"),
    "mitre misspelt": (tube("mitre = 45 #<"), f"{PLACE}, mitre", "not a key", "mitre_0 or mitre_1 = {"),
    "key of a tube at the top": (
        "mitre_1 = 45 #<\n" + SOUND,
        "mitre_1",
        "not a key of the top",
        "under [[tube]]",
    ),
    "key of a bar in a tube": (tube('trim = "1/4" #<'), f"{PLACE}, trim", "not a key", "under [[bar]]"),
    "key of a tube in a panel": (
        SOUND + 'section = "1 x 1 x 1/16" #<\n',
        'panel "lid", section',
        "not a key of [[panel]]",
        "under [[tube]], or write it under [[bar]]",
    ),
    # ---- holes of tubes
    "hole without a face": (side("", "face"), f"{HOLES}, face", "missing", '"A" or "B" or "C" or "D"'),
    "hole on face E": (side('face = "E" #<', "face"), f"{HOLES}, face", '"E"', '"C" or "D"'),
    "hole on face D of an angle": (
        side('face = "D" #<', "face", "angle 1 x 1 x 1/8"),
        f"{HOLES}, face",
        "angle has no face D",
        '"A" or "B"',
    ),
    "hole on the back of a strip": (
        side('face = "C" #<', "face", "strip 1 x 1/8"),
        f"{HOLES}, face",
        "flat strip has no face C",
        'Write "A"',
    ),
    "hole by angle on a square tube": (
        side("at_deg = 90 #<", "face"),
        f"{HOLES}, at_deg",
        "square tube go by face",
        'face = "A"',
    ),
    "hole by face on a round tube": (
        side('face = "B" #<', "face", "round 1 x 1/16"),
        f"{HOLES}, face",
        "go by angle",
        "at_deg = 90",
    ),
    "hole of a rod without its angle": (
        side("", "face", "rod 1/2"),
        f"{HOLES}, at_deg",
        "missing",
        "A is 0, B is 90",
    ),
    "angle of more than a turn": (
        side("at_deg = 361 #<", "face", "rod 1/2"),
        f"{HOLES}, at_deg",
        "range",
        "360",
    ),
    "across on a round tube": (
        side('at_deg = 0\nacross = "1/2" #<', "face", "round 1 x 1/16"),
        f"{HOLES}, across",
        "no edge",
        "at_deg",
    ),
    "across past the face": (
        side("across = 1.25 #<"),
        f"{HOLES}, across",
        "1.25 is past face A, which is 1 in wide",
        "0 to 1 in, counted from the edge of B",
    ),
    "across past the leg": (
        side('across = "1 1/8" #<', section="angle 1 x 1 x 1/8"),
        f"{HOLES}, across",
        "past face A",
        "from the heel",
    ),
    "across negative": (side("across = -1 #<"), f"{HOLES}, across", "negative", "0 or a length"),
    "across in words": (side('across = "middle" #<'), f"{HOLES}, across", "neither the centre", '"centre"'),
    "at as one length": (side("at = 4 #<", "at"), f"{HOLES}, at", "a list is wanted, not 4", 'at = ["1/2"'),
    "at without places": (side("at = [] #<", "at"), f"{HOLES}, at", "not 0", "at = ["),
    "at as points": (
        side("at = [1, [2, 3]] #<", "at"),
        f"{HOLES}, at[1]",
        "one distance along the tube",
        "across says",
    ),
    "place of a tube no length": (
        side('at = [1, "x"] #<', "at"),
        f"{HOLES}, at[1]",
        "not a length",
        "18 3/4",
    ),
    "holes of a tube without places": (
        side("", "at").replace("[[tube.holes]]", "[[tube.holes]] #<"),
        HOLES,
        "one of at, row",
        "at or row",
    ),
    "at and row of a tube": (
        side("row = { start = 1, end = 2, count = 2 } #<"),
        f"{HOLES}, row",
        "at and row cannot stand together",
        "Keep one",
    ),
    "row of a tube with end and pitch": (
        side("row = { start = 1, end = 2, pitch = 1, count = 2 } #<", "at"),
        f"{HOLES}, pitch",
        "end and pitch",
        "Keep one",
    ),
    "row of a tube on one place": (
        side("row = { start = 1, end = 1, count = 2 } #<", "at"),
        f"{HOLES}, end",
        "lie on one another",
        "longer than 0",
    ),
    "row of a tube with points": (
        side("row = { start = [1, 1], pitch = 1, count = 2 } #<", "at"),
        f"{HOLES}, start",
        "a length is wanted",
        "Write a length",
    ),
    "row of a tube in columns": (
        side("row = { start = 1, pitch = 1, columns = 2 } #<", "at"),
        f"{HOLES}, columns",
        "not a key of row",
        "Write row = { start = 1",
    ),
    "holes of a tube as a grid": (
        side("grid = { start = [1, 1] } #<"),
        f"{HOLES}, grid",
        "not a key of [[tube.holes]]",
        "a group for each face",
    ),
    "from a corner of a tube": (
        side('from = "bottom left" #<'),
        f"{HOLES}, from",
        '"bottom left"',
        '"end 0" or "end 1"',
    ),
    "through in words": (side('through = "yes" #<'), f"{HOLES}, through", "true or false", "without quotes"),
    "two groups of a tube": (
        with_tube(SIDE + SIDE.replace('"side"', '"side" #<')),
        f"{HOLES}, name",
        "two groups",
        "Rename",
    ),
    "holes in a roll": (
        with_tube(SIDE.replace("[[tube.holes]]", "[[tube.holes]] #<"), "roll 1"),
        f"{PLACE}, holes",
        "not drilled",
        "another section",
    ),
    # ---- rows that must match
    "match of no tube": (
        side('matches = "deck fram / sid" #<'),
        f"{HOLES}, matches",
        '"deck fram" is no tube',
        'Did you mean "deck frame / side"',
    ),
    "match of a tube unlike any": (
        side('matches = "console / side" #<'),
        f"{HOLES}, matches",
        '"console" is no tube',
        "Write a tube of this job",
    ),
    "match of no group": (
        with_tube(SIDE + SIDE.replace('"side"', '"other"') + 'matches = "deck frame / sides" #<\n'),
        f'{PLACE}, holes "other", matches',
        'no group of holes "sides"',
        'Did you mean "deck frame / side"',
    ),
    "match of itself": (
        side('matches = "deck frame / side" #<'),
        f"{HOLES}, matches",
        "cannot match itself",
        "other tube",
    ),
    "match of a tube alone": (
        side('matches = "deck frame" #<'),
        f"{HOLES}, matches",
        "one group of one tube",
        'matches = "deck frame / lid side"',
    ),
    "match without a name": (
        with_tube(SIDE + SIDE.replace('name = "side"\n', "") + 'matches = "deck frame / side"\n'),
        f"{PLACE}, holes 2, name",
        "has a name",
        "Give this group",
    ),
    # ---- mitres
    "mitre as a number": (
        tube("mitre_0 = 45 #<"),
        f"{PLACE}, mitre_0",
        "a table is wanted",
        "mitre_0 = { ... }",
    ),
    "mitre without its angle": (
        tube("mitre_0 = { long = 'A' } #<"),
        f"{PLACE}, mitre_0, angle_deg",
        "missing",
        "above 0 and below 90",
    ),
    "mitre of 0": (
        tube("mitre_0 = { angle_deg = 0, long = 'A' } #<"),
        f"{PLACE}, mitre_0, angle_deg",
        "square cut",
        "Leave the mitre out",
    ),
    "mitre of 90": (
        tube("mitre_1 = { angle_deg = 90, long = 'A' } #<"),
        f"{PLACE}, mitre_1, angle_deg",
        "along the tube",
        "45 for a corner",
    ),
    "mitre of more than 90": (
        tube("mitre_1 = { angle_deg = 135, long = 'A' } #<"),
        f"{PLACE}, mitre_1, angle_deg",
        "out of range",
        "below 90",
    ),
    "mitre without its long side": (
        tube("mitre_1 = { angle_deg = 45 } #<"),
        f"{PLACE}, mitre_1, long",
        "missing",
        "which side stays long",
    ),
    "mitre long on E": (
        tube("mitre_1 = { angle_deg = 45, long = 'E' } #<"),
        f"{PLACE}, mitre_1, long",
        '"E"',
        '"C" or "D"',
    ),
    "mitre of a square tube by angle": (
        tube("mitre_1 = { angle_deg = 45, long_deg = 90 } #<"),
        f"{PLACE}, mitre_1, long_deg",
        "square tube is a face",
        'long = "A"',
    ),
    "mitre of a round tube by face": (
        with_tube("mitre_1 = { angle_deg = 45, long = 'D' } #<", "round 1 x 1/16"),
        f"{PLACE}, mitre_1, long",
        "round tube is an angle",
        "long_deg = 270",
    ),
    "mitre of a rod without its long side": (
        with_tube("mitre_1 = { angle_deg = 45 } #<", "rod 1/2"),
        f"{PLACE}, mitre_1, long_deg",
        "missing",
        "A is 0",
    ),
    "mitre key misspelt": (
        tube("mitre_1 = { angel_deg = 45, long = 'A' } #<"),
        f"{PLACE}, mitre_1, angel_deg",
        "not a key of a mitre",
        "angle_deg",
    ),
    "mitre of a roll": (
        with_tube("mitre_1 = { angle_deg = 45, long = 'A' } #<", "roll 1"),
        f"{PLACE}, mitre_1",
        "cut square",
        "Leave it out",
    ),
    "mitres that meet": (
        tube("mitre_0 = { angle_deg = 45, long = 'A' }\nmitre_1 = { angle_deg = 45, long = 'A' } #<").replace(
            "length = 22", "length = 2"
        ),
        f"{PLACE}, mitre_1",
        "the two mitres meet",
        "longer",
    ),
    "mitre past the other end": (
        tube("mitre_0 = { angle_deg = 45, long = 'A' } #<").replace("length = 22", "length = 1"),
        f"{PLACE}, mitre_0",
        "past the other end of 1 in",
        "angle smaller",
    ),
    # ---- templates
    "template unknown": (tube("template = 'fold' #<"), f"{PLACE}, template", '"fold"', '"corner" or "wrap"'),
    "template right round an angle": (
        with_tube("template = 'wrap' #<", "angle 1 x 1 x 1/8"),
        f"{PLACE}, template",
        'no template "wrap" for angle',
        'Write "corner"',
    ),
    "template over the corner of a strip": (
        with_tube("template = 'corner' #<", "strip 1 x 1/8"),
        f"{PLACE}, template",
        "for flat strip",
        '"strips"',
    ),
    "template of a round tube in strips": (
        with_tube("template = 'strips' #<", "round 1 x 1/16"),
        f"{PLACE}, template",
        "for round tube",
        '"wrap"',
    ),
    "template of a roll": (
        with_tube("template = 'strips' #<", "roll 1"),
        f"{PLACE}, template",
        "for goods off a roll",
        "Leave it out",
    ),
    "corner of a round tube": (
        with_tube("corner_radius = '1/8' #<", "round 1 x 1/16"),
        f"{PLACE}, corner_radius",
        "round tube",
        "Leave it out",
    ),
    "corner too round": (
        tube("corner_radius = '5/8' #<"),
        f"{PLACE}, corner_radius",
        "half the smaller side",
        "radius gauge",
    ),
    "girth of a square tube": (tube("girth = 4 #<"), f"{PLACE}, girth", "square tube", "Leave it out"),
    "girth that is the diameter": (
        with_tube("girth = 1 #<", "round 1 x 1/16"),
        f"{PLACE}, girth",
        "1 in around does not agree with 1 in across, which makes 3.142 in",
        "Measure both",
    ),
    "girth too long": (
        with_tube('girth = "86 mm" #<', "round 1 x 1/16"),
        f"{PLACE}, girth",
        "does not agree",
        "once more",
    ),
    # ---- printing
    "fold too thick": (
        TOP + "[printing]\nfold = '2.1 mm' #<\n" + CUTTING + SHEET + PANEL,
        "printing, fold",
        "more than any paper",
        "0 to 2 mm",
    ),
    "fold negative": (
        TOP + "[printing]\nfold = -1 #<\n" + CUTTING + SHEET + PANEL,
        "printing, fold",
        "negative",
        "0 or a length",
    ),
}
