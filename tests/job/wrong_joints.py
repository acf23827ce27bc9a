"""Wrong jobs: bought parts, joints, how well holes are made, practice pieces, the shop's drills."""

from __future__ import annotations

from tests.job.joint_texts import FRAME, HINGE, LID, PARTS, SOUND_JOINT, fastened, joint, through
from tests.job.texts import SOUND

PLACE = 'joint "lid to hinge"'
FIVE = "[[1, 1], [2, 1], [3, 1], [4, 1], [5, 1]]"
LID_AND_TAPPED = '["console lid / hinge : 2,3", "deck frame / tapped"]'
LID_AND_LEAF = '["console lid / hinge : 2,3", "hinge / leaf"]'
MANY = ", ".join(['"hinge / leaf"'] * 51)
HINGE_PLACE = 'bought "hinge"'


def hinge(old: str, new: str) -> str:
    """Return the sound job with a joint, something changed in its hinge."""
    assert old in HINGE
    return SOUND_JOINT.replace(HINGE, HINGE.replace(old, new))


def practice(wanted: str, measured: str) -> str:
    """Return a job with a practice piece."""
    return f'{SOUND}[[practice]]\nmethod = "scribe and punch"\n{wanted}\n{measured}\n'


# Each case: what the job says (#< marks the line at fault), the place, a part of the text and of the remedy.
BOUGHT = {
    "bought without name": (
        hinge('name = "hinge"\n', ""),
        "bought 1, name",
        "missing",
        "quotes",
    ),
    "bought of a panel's name": (
        PARTS.replace('name = "hinge"\nquantity', 'name = "console lid" #<\nquantity'),
        'bought "console lid", name',
        "two parts are called",
        "its own name",
    ),
    "bought with a size": (
        hinge("price = 6.20", "size = [3, 1] #<"),
        f"{HINGE_PLACE}, size",
        "not a key of [[bought]]",
        "Write it under [[panel]]",
    ),
    "bought for a text": (
        hinge("price = 6.20", 'price = "6.20 $" #<'),
        f"{HINGE_PLACE}, price",
        "a plain number is wanted",
        "without a currency",
    ),
    "bought in part": (
        hinge("quantity = 3", "quantity = 2.5 #<"),
        f"{HINGE_PLACE}, quantity",
        "a whole number is wanted",
        "from 0 to 100000",
    ),
    "bought in single brackets": (
        (SOUND + HINGE.replace("[[bought]]", "[bought] #<").partition("[[bought.holes]]")[0]),
        "bought",
        "a single table",
        "[[bought]]",
    ),
    "bought holes in corners": (
        hinge('at = [["1/4", "1/4"], ["2 1/4", "1/4"]]', 'corners = "1/4" #<'),
        f'{HINGE_PLACE}, holes "leaf", corners',
        "not a key of [[bought.holes]]",
        "Write at, row, grid or circle",
    ),
    "bought holes along an edge": (
        hinge('at = [["1/4", "1/4"], ["2 1/4", "1/4"]]', "edge = { count = 2 } #<"),
        f'{HINGE_PLACE}, holes "leaf", edge',
        "not a key of [[bought.holes]]",
        "nothing is known of the outline",
    ),
    "bought holes from a corner": (
        hinge('dia = ".2"', 'dia = ".2"\nfrom = "top left" #<'),
        f'{HINGE_PLACE}, holes "leaf", from',
        "not a key of [[bought.holes]]",
        "own origin",
    ),
    "bought holes by two": (
        hinge('dia = ".2"', 'dia = ".2" #<\ndrill = "#7"'),
        f'{HINGE_PLACE}, holes "leaf", dia',
        "cannot stand together",
        "Keep one",
    ),
    "bought groups of one name": (
        hinge('dia = ".2"', 'dia = ".2"\nat = [[0, 0]]\n[[bought.holes]]\nname = "leaf" #<\ndia = ".2"'),
        f'{HINGE_PLACE}, holes "leaf", name',
        "two groups of holes",
        "Rename one",
    ),
    "bought holes nowhere": (
        hinge('at = [["1/4", "1/4"], ["2 1/4", "1/4"]]', ""),
        f'{HINGE_PLACE}, holes "leaf"',
        "one of at, row, grid, circle is wanted",
        "Say where the holes are",
    ),
    "method of a bought part": (
        hinge("quantity = 3", 'method = "stamped" #<'),
        f"{HINGE_PLACE}, method",
        "is not known here",
        '"as bought"',
    ),
    "method of a panel": (
        SOUND + 'method = "tape" #<\n',
        'panel "lid", method',
        "is not known here",
        '"tape and marker"',
    ),
    "method of a tube": (
        PARTS.replace("opposite_hand = 1", "method = 3 #<"),
        'tube "deck frame", method',
        "is not known here",
        '"rule and pencil"',
    ),
}  # fmt: skip

JOINTS = {
    "joint without name": (joint("", "name"), "joint 1, name", "missing", "quotes"),
    "joint of a name with a slash": (
        joint('name = "lid/hinge" #<', "name"),
        'joint "lid/hinge", name',
        'has a "/"',
        "another sign",
    ),
    "two joints of one name": (
        SOUND_JOINT + '[[joint]]\nname = "lid to hinge" #<\nscrew = "10-32"\nthrough = ' + LID_AND_LEAF,
        f"{PLACE}, name",
        "two joints are called",
        "its own name",
    ),
    "joint without a fastener": (
        joint("", "screw"),
        PLACE,
        "one of screw, rivet, wood_screw, cable_tie, hook_and_loop is wanted",
        "Say what holds it together",
    ),
    "joint of two fasteners": (
        joint('rivet = "1/8" #<'),
        f"{PLACE}, rivet",
        "screw and rivet cannot stand together",
        "Keep one",
    ),
    "misspelt fastener": (
        joint('rivett = "1/8" #<', "screw"),
        f"{PLACE}, rivett",
        "not a key of [[joint]]",
        "Did you mean rivet",
    ),
    "joint by parts": (
        joint('parts = ["console lid", "hinge"] #<', "through"),
        f"{PLACE}, parts",
        "not a key of [[joint]]",
        "Write through = ",
    ),
    "unknown thread": (
        joint('screw = "10-33" #<', "screw"),
        f"{PLACE}, screw",
        'no thread "10-33"',
        "For a clearance hole",
    ),
    "unknown screw": (
        joint('screw = "fat" #<', "screw"),
        f"{PLACE}, screw",
        "is no screw that the tables have",
        'Write it as "10-32"',
    ),
    "rivet without its unit": (
        joint("rivet = 3.2 #<", "screw"),
        f"{PLACE}, rivet",
        "3.2 is out of range",
        '"1/8 in" or "3.2 mm"',
    ),
    "unknown wood screw": (
        joint('wood_screw = "#99" #<', "screw"),
        f"{PLACE}, wood_screw",
        'there is no wood screw "#99"',
        '"#0" to "#24"',
    ),
    "wide cable tie": (
        fastened("cable_tie = 5 #<", '["console lid / hinge"]'),
        f"{PLACE}, cable_tie",
        "5 is out of range",
        "Write 1 to 30 mm",
    ),
    "narrow tape": (
        fastened('hook_and_loop = "1 mm" #<', '["console lid", "hinge"]'),
        f"{PLACE}, hook_and_loop",
        "is out of range",
        "Write 5 to 300 mm",
    ),
    "joint without through": (joint("", "through"), f"{PLACE}, through", "missing", "Write the parts"),
    "through as a text": (
        through('"console lid / hinge" #<'),
        f"{PLACE}, through",
        "a list of parts is wanted",
        "Write through = ",
    ),
    "through nothing": (through("[] #<"), f"{PLACE}, through", "a list of parts", "Write through = "),
    "through too much": (
        through(f"[{MANY}] #<"),
        f"{PLACE}, through",
        "51 entries are too many",
        "at most 50",
    ),
    "through a number": (
        through('["console lid / hinge : 2,3", 7] #<'),
        f"{PLACE}, through[1]",
        "a part with its holes is wanted, not 7",
        "hinge / leaf",
    ),
    "through a part that is not there": (
        through('["consol lid / hinge : 2,3", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        '"consol lid" is no part of this job',
        'Did you mean "console lid"',
    ),
    "through something else": (
        through('["console lid / hinge : 2,3", "xyz / leaf"] #<'),
        f"{PLACE}, through[1]",
        '"xyz" is no part of this job',
        "Write the name of a panel, tube or bought part",
    ),
    "through a group that is not there": (
        through('["console lid / hinges : 2,3", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        'panel "console lid" has no group of holes "hinges"',
        'Did you mean "console lid / hinge"',
    ),
    "through another group": (
        through('["console lid / xyz : 2,3", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        'no group of holes "xyz"',
        'it has: "vent", "hinge"',
    ),
    "through a group without a name": (
        hinge('name = "leaf"\n', ""),
        f"{PLACE}, through[1]",
        'bought part "hinge" has no group of holes "leaf"',
        "Give its group of holes a name",
    ),
    "through what has no holes": (
        through('["console lid / hinge : 2,3", "spacer / leaf"] #<'),
        f"{PLACE}, through[1]",
        'bought part "spacer" has no group of holes',
        "Give it a group of holes",
    ),
    "through a group without its part": (
        through('["console lid / hinge : 2,3", "/ leaf"] #<'),
        f"{PLACE}, through[1]",
        "lacks the part",
        "PART / GROUP",
    ),
    "through a part without its group": (
        through('["console lid / hinge : 2,3", "hinge /"] #<'),
        f"{PLACE}, through[1]",
        "lacks its group of holes",
        "PART / GROUP",
    ),
    "through numbers without a group": (
        through('["console lid : 2,3", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        "numbers of holes without their group",
        "PART / GROUP : 1,2",
    ),
    "through two slashes": (
        through('["console lid / hinge / 2", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        'no group of holes "hinge / 2"',
        "Write one slash",
    ),
    "numbers of another group": (
        through('["console lid / hinge : 1,2", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        '"hinge" has holes 2 to 4, not 1',
        "run through all groups",
    ),
    "number of another group": (
        through('["console lid / vent : 1, 9", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        '"vent" has hole 1, not 9',
        "numbers of that group",
    ),
    "a range of numbers": (
        through('["console lid / hinge : 2-4", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        'numbers of holes are wanted, not "2-4"',
        "commas",
    ),
    "a hole twice": (
        through('["console lid / hinge : 2,2", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        "hole 2 stands there twice",
        "once",
    ),
    "more holes than a joint has": (
        through('["console lid / many", "hinge / leaf"] #<').replace(
            LID, LID + '[[panel.holes]]\nname = "many"\ndia = ".05"\n'
            "grid = { start = [2, 2], columns = 40, rows = 26, pitch = [0.1, 0.1] }\n"
        ),
        f"{PLACE}, through[0]",
        "1,040 holes are too many",
        "at most 1,000",
    ),
    "through one part": (
        through('["console lid / hinge : 2,3"] #<'),
        f"{PLACE}, through",
        "only one part is named with holes",
        "Add the other part",
    ),
    "through one part and a spacer": (
        through('["console lid / hinge : 2,3", "spacer"] #<'),
        f"{PLACE}, through",
        "only one part is named with holes",
        "Add the other part",
    ),
    "through groups side by side": (
        through('["console lid / hinge", "console lid / vent"] #<'),
        f"{PLACE}, through",
        'all entries are holes of one "console lid"',
        "Add the other part",
    ),
    "a panel alone": (
        through('["console lid", "hinge / leaf"] #<'),
        f"{PLACE}, through[0]",
        'panel "console lid" is named without its holes',
        'Write "console lid / vent": its groups of holes are "vent", "hinge"',
    ),
    "a bought part alone": (
        through('["console lid / hinge : 2,3", "hinge"] #<'),
        f"{PLACE}, through[1]",
        'bought part "hinge" is named without its holes',
        'Write "hinge / leaf"',
    ),
    "a drilled tube alone": (
        through('["console lid / hinge : 2,3", "deck frame", "hinge / leaf"] #<'),
        f"{PLACE}, through[1]",
        'tube "deck frame" is named without its holes',
        'Write "deck frame / side"',
    ),
    "tape through holes": (
        fastened("hook_and_loop = 1", '["console lid / hinge", "hinge"] #<'),
        f"{PLACE}, through[0]",
        "hook-and-loop holds faces",
        'Write "console lid" alone',
    ),
    "tape on one part": (
        fastened("hook_and_loop = 1", '["console lid"] #<'),
        f"{PLACE}, through",
        "one is named",
        "Add the other part",
    ),
    "a tie through nothing": (
        fastened('cable_tie = "3/16"', '["console lid", "hinge"] #<'),
        f"{PLACE}, through",
        "no hole is named",
        "PART / GROUP",
    ),
    "too few for one joint": (
        through('["console lid / hinge : 2,3", "spacer", "hinge / leaf"] #<').replace("= 8", "= 1"),
        f"{PLACE}, through[1]",
        'takes 2 of "spacer", and 1 is there',
        "Raise its quantity",
    ),
    "head_on another part": (
        joint('head_on = "hing" #<'),
        f"{PLACE}, head_on",
        '"hing" is no part of this joint',
        'Did you mean "hinge"',
    ),
    "head_on between": (
        through('["console lid / hinge : 2,3", "hinge / leaf", "deck frame / side"]', 'head_on = "hinge" #<'),
        f"{PLACE}, head_on",
        "lies between others",
        'the last part of through: "console lid", "deck frame"',
    ),
    "held by glue": (joint('held_by = "glue" #<'), f"{PLACE}, held_by", "is not known here", '"rivet nut"'),
    "a screw held by wood": (
        joint('held_by = "wood" #<'),
        f"{PLACE}, held_by",
        "is not known here",
        '"lock nut", "nut", "rivet nut" or "tapped hole"',
    ),
    "held by a hole that is not tapped": (
        joint('held_by = "tapped hole" #<'),
        f"{PLACE}, held_by",
        'the holes of "hinge", where the screw ends, are not tapped',
        'tap = "10-32"',
    ),
    "tapped at the heads only": (
        through(LID_AND_TAPPED, 'head_on = "deck frame"\nheld_by = "tapped hole" #<'),
        f"{PLACE}, held_by",
        'the holes of "console lid", where the screw ends, are not tapped',
        '"lock nut", "nut" or "rivet nut"',
    ),
    "tapped in part": (
        through('["console lid / hinge : 2,3", "deck frame / side : 1", "deck frame / tapped : 3"] #<'),
        f"{PLACE}, through[1]",
        'some of the holes of "deck frame" are tapped',
        "Make two joints",
    ),
    "another thread": (
        fastened('screw = "10-24" #<', LID_AND_TAPPED),
        f"{PLACE}, screw",
        'the holes of "deck frame" are tapped 10-32, and the screw is 10-24',
        'Write screw = "10-32"',
    ),
    "a rivet held by a nut": (
        joint('rivet = "1/8"\nheld_by = "nut" #<', "screw"),
        f"{PLACE}, held_by",
        "held_by does not go with a blind rivet",
        "Leave it out",
    ),
    "a wood screw held by a nut": (
        joint('wood_screw = "#8"\nheld_by = "nut" #<', "screw"),
        f"{PLACE}, held_by",
        "is not known here",
        'Write "wood"',
    ),
    "washers under no nut": (
        joint('wood_screw = "#8"\nwashers = "both" #<', "screw"),
        f"{PLACE}, washers",
        'washers "both" ask for a nut',
        '"head" or "none"',
    ),
    "the head of a tie": (
        joint('cable_tie = "3/16"\nhead = "flat" #<', "screw"),
        f"{PLACE}, head",
        "head does not go with a cable tie",
        "Leave it out",
    ),
    "round head": (joint('head = "round" #<'), f"{PLACE}, head", "is not known here", '"pan" or "flat"'),
    "washers yes": (joint("washers = true #<"), f"{PLACE}, washers", "is not known here", '"both"'),
    "thread locker in quotes": (
        joint('thread_locker = "yes" #<'),
        f"{PLACE}, thread_locker",
        "true or false is wanted",
        "without quotes",
    ),
    "screw of no length": (joint("length = 0 #<"), f"{PLACE}, length", "is nothing", "above 0"),
    "made otherwise": (joint('made = "twice" #<'), f"{PLACE}, made", "is not known here", '"together"'),
    "chance in percent": (joint("chance = 95 #<"), f"{PLACE}, chance", "out of range", "0.95 means"),
    "chance of a joint in words": (
        joint('chance = "9 in 10" #<'),
        f"{PLACE}, chance",
        "a plain number is wanted",
        "from 0.5 to 0.9999",
    ),
    "turned over without a list": (
        joint('turned_over = "hinge" #<'),
        f"{PLACE}, turned_over",
        "a list of parts is wanted",
        "turned_over = [",
    ),
    "turned over by number": (
        joint("turned_over = [2] #<"),
        f"{PLACE}, turned_over[0]",
        "the name of a part is wanted, not 2",
        "Write a list of parts",
    ),
    "another part turned over": (
        joint('turned_over = ["hinge", "spacer"] #<'),
        f"{PLACE}, turned_over[1]",
        '"spacer" is no part of this joint',
        'Write one of its parts: "console lid", "hinge"',
    ),
    "opposite hand of another part": (
        joint('opposite_hand = ["console lit"] #<'),
        f"{PLACE}, opposite_hand[0]",
        "is no part of this joint",
        'Did you mean "console lid"',
    ),
    "opposite hand that is not made": (
        joint('opposite_hand = ["console lid"] #<'),
        f"{PLACE}, opposite_hand",
        'no opposite hand of "console lid" is made',
        'Give panel "console lid" its opposite_hand',
    ),
    "opposite hand of a bought part": (
        joint('opposite_hand = ["hinge"] #<'),
        f"{PLACE}, opposite_hand",
        '"hinge" is bought',
        "bought part of its own",
    ),
    "as drawn that is not made": (
        through('["deck frame / side", "hinge / leaf"] #<').replace(
            FRAME, FRAME.replace("opposite_hand = 1", "quantity = 0\nopposite_hand = 1")
        ),
        f"{PLACE}, through[0]",
        'of "deck frame" only the opposite hand is made',
        'opposite_hand = ["deck frame"]',
    ),
    "position of another part": (
        joint('position = { part = "hing", at = [1, 2] } #<'),
        f"{PLACE}, position, part",
        "is no part of this joint",
        'Did you mean "hinge"',
    ),
    "position without a place": (
        joint('position = { part = "hinge" } #<'),
        f"{PLACE}, position, at",
        "missing",
        "two lengths",
    ),
    "position with a stranger": (
        joint('position = { part = "hinge", at = [1, 2], angle = 90 } #<'),
        f"{PLACE}, position, angle",
        "not a key of position",
        "part, at, turn_deg",
    ),
    "position turned too far": (
        joint('position = { part = "hinge", at = [1, 2], turn_deg = 400 } #<'),
        f"{PLACE}, position, turn_deg",
        "out of range",
        "degrees from -360 to 360",
    ),
    "position of the first": (
        joint('position = { part = "console lid", at = [1, 2] } #<'),
        f"{PLACE}, position",
        '"console lid" is nearest to the heads',
        "where the others lie",
    ),
    "position of a spacer": (
        through(
            '["console lid / hinge : 2,3", "spacer", "hinge / leaf"]',
            'position = [{ part = "spacer", at = [1, 2] }] #<',
        ),
        f"{PLACE}, position",
        "goes loose over each screw",
        "Leave its position out",
    ),
    "two positions of one": (
        joint('position = [{ part = "hinge", at = [1, 2] }, { part = "hinge", at = [1, 3] }] #<'),
        f"{PLACE}, position",
        '"hinge" has 2 positions, and lies there 1 times',
        "Write one for all",
    ),
}  # fmt: skip

FITTING = {
    "fit in double brackets": (SOUND + "[[fit]] #<\n", "fit", "a table is wanted", "Write [fit]"),
    "unknown key of fit": (
        SOUND + "[fit]\nchanse = 0.9 #<\n",
        "fit, chanse",
        "not a key of [fit]",
        "Did you mean chance",
    ),
    "chance of fit": (SOUND + "[fit]\nchance = 1 #<\n", "fit, chance", "out of range", "from 0.5 to 0.9999"),
    "method of fit": (SOUND + '[fit]\nmethod = "laser beam" #<\n', "fit, method", "is not known", '"laser"'),
    "drill of fit": (SOUND + '[fit]\ndrill = "#7" #<\n', "fit, drill", "is not known", '"hand" or "press"'),
    "walls of fit": (
        SOUND + '[fit]\ntube_walls = "both" #<\n',
        "fit, tube_walls",
        "is not known",
        '"each" or "in one go"',
    ),
    "one temperature": (
        SOUND + "[fit]\ntemperature = 45 #<\n",
        "fit, temperature",
        "two plain numbers are wanted",
        "temperature = [0, 45]",
    ),
    "temperature in words": (
        SOUND + '[fit]\ntemperature = [0, "45 C"] #<\n',
        "fit, temperature[1]",
        "a plain number is wanted",
        "degrees C",
    ),
    "temperature turned round": (
        SOUND + "[fit]\ntemperature = [45, 0] #<\n",
        "fit, temperature",
        "does not run from colder to hotter",
        "temperature = [0, 45]",
    ),
    "temperature of an oven": (
        SOUND + "[fit]\ntemperature = [0, 145] #<\n",
        "fit, temperature[1]",
        "145 is out of range",
        "degrees C",
    ),
    "made at without a range": (
        SOUND + "[fit]\nmade_at = 20 #<\n",
        "fit, made_at",
        "says nothing without temperature",
        "temperature = [0, 45]",
    ),
    "spares in percent": (SOUND + "[fit]\nspares = 10 #<\n", "fit, spares", "out of range", "0.1 means"),
    "accuracy as a length": (
        SOUND + '[fit]\naccuracy = "0.4 mm" #<\n',
        "fit, accuracy",
        "a table is wanted",
        "in braces",
    ),
    "accuracy of an unknown method": (
        SOUND + '[fit]\naccuracy = { "ruler and pencil" = "0.4 mm" } #<\n',
        "fit, accuracy, ruler and pencil",
        "not a key of accuracy",
        "Did you mean rule and pencil",
    ),
    "accuracy without its unit": (
        SOUND + '[fit]\naccuracy = { "rule and pencil" = 0.4 } #<\n',
        "fit, accuracy, rule and pencil",
        "0.4 is out of range",
        "0.001 to 5 mm",
    ),
    "practice without a method": (
        practice(f"wanted = {FIVE}", f"measured = {FIVE}").replace('method = "scribe and punch"\n', ""),
        "practice 1, method",
        "missing",
        '"scribe and punch"',
    ),
    "practice without measuring": (
        practice(f"wanted = {FIVE}", ""),
        "practice 1, measured",
        "missing",
        "5 places or more",
    ),
    "practice of few marks": (
        practice("wanted = [[1, 1], [2, 1]] #<", f"measured = {FIVE}"),
        "practice 1, wanted",
        "5 or more points are wanted, not 2",
        "list of points",
    ),
    "practice of unlike lists": (
        practice(f"wanted = {FIVE}", f"measured = {FIVE[:-1]}, [6, 1]] #<"),
        "practice 1, measured",
        "6 places for 5 wanted ones",
        "in the same order",
    ),
    "practice that was not measured": (
        practice(f"wanted = {FIVE}", f"measured = {FIVE} #<"),
        "practice 1, measured",
        "all marks are off alike",
        "Measure each hole",
    ),
    "practice with x and y exchanged": (
        practice(f"wanted = {FIVE}", "measured = [[1, 1], [1, 2], [1, 3], [1, 4], [1, 5]] #<"),
        "practice 1, measured[1]",
        "away from where it was wanted",
        "x and y exchanged",
    ),
    "shop in double brackets": (SOUND + "[[shop]] #<\n", "shop", "a table is wanted", "Write [shop]"),
    "drills as a text": (
        SOUND + '[shop]\ndrills = "#7" #<\n',
        "shop, drills",
        "a list of drills is wanted",
        "drills = [",
    ),
    "no drills": (SOUND + "[shop]\ndrills = [] #<\n", "shop, drills", "a list of drills", "leave it out"),
    "unknown drill of the shop": (
        SOUND + '[shop]\ndrills = ["#7", "#91"] #<\n',
        "shop, drills[1]",
        'the drill tables have no "#91"',
        "Write its name as on the drill",
    ),
    "a drill of the shop as a list": (
        SOUND + '[shop]\ndrills = ["#7", ["1/4"]] #<\n',
        "shop, drills[1]",
        "the drill tables have no",
        "Write its name as on the drill",
    ),
}

CASES = BOUGHT | JOINTS | FITTING
