"""Job texts with joints for the tests: a sound one of panel, tube and bought parts, to be changed."""

from __future__ import annotations

from tests.job.texts import BAR, CUTTING, SHEET, TOP

LID = """\
[[panel]]
name = "console lid"
material = "polycarbonate"
thickness = "1/8"
size = ["14 1/2", "9 3/4"]
quantity = 2
[[panel.holes]]
name = "vent"
drill = "#7"
at = [[7, 5]]
[[panel.holes]]
name = "hinge"
screw = "10-32"
row = { start = [1, 1], end = [5, 1], count = 3 }
"""
FRAME = """\
[[tube]]
name = "deck frame"
material = "aluminium 6061"
section = "1 x 1 x 1/16"
length = 22
opposite_hand = 1
[[tube.holes]]
name = "side"
face = "A"
screw = "10-32"
at = [1, 3]
[[tube.holes]]
name = "tapped"
face = "B"
tap = "10-32"
at = [1, 3]
"""
HINGE = """\
[[bought]]
name = "hinge"
quantity = 3
price = 6.20
[[bought.holes]]
name = "leaf"
dia = ".2"
at = [["1/4", "1/4"], ["2 1/4", "1/4"]]
"""
SPACER = """\
[[bought]]
name = "spacer"
thickness = "1/2"
quantity = 8
"""
JOINT = """\
[[joint]]
name = "lid to hinge"
screw = "10-32"
through = ["console lid / hinge : 2,3", "hinge / leaf"]
"""
PARTS = TOP + CUTTING + SHEET + BAR + LID + FRAME + HINGE + SPACER
SOUND_JOINT = PARTS + JOINT


def joint(lines: str, *without: str) -> str:
    """Return the sound job with more lines in its joint, less those that begin with one of some words."""
    kept = [line for line in JOINT.split("\n") if not any(line.startswith(word) for word in without)]
    return PARTS + "\n".join(kept) + lines + "\n"


def through(entries: str, lines: str = "") -> str:
    """Return the sound job with a joint that goes through other entries, and has more lines."""
    return joint(f"through = {entries}\n{lines}", "through")


def fastened(fastener: str, entries: str) -> str:
    """Return the sound job with a joint of another fastener through other entries."""
    return joint(f"through = {entries}\n{fastener}\n", "through", "screw")
