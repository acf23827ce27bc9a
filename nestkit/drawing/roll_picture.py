"""The picture of a piece that is cut off its roll: flat below, the roll above, the length at its side."""

from __future__ import annotations

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Fill, Mark, Text, line, outlined
from nestkit.drawing.saw_picture import BENCH
from nestkit.drawing.type import fitted
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline

_PIECE = Rect(10.0, 2.0, 36.0, 24.0)
_CORE = 2.6
_TURN = 1.3
"""Radius of the roll as it is seen from its end, the innermost turn and from turn to turn."""
_TURNS = 3
_FREE = 4.0
"""How much of it lies flat beyond the cut."""


def piece_off_the_roll(size: str) -> Drawing:
    """Return the picture, the ``size`` of the piece along its right side; no proportion is true."""
    piece = _PIECE
    core = Point(piece.left, piece.top + _FREE + _CORE + _TURN * (_TURNS - 1))
    outer = _CORE + _TURN * (_TURNS - 1)
    roll = Rect(piece.left, core.y - outer, piece.right, core.y + outer)
    flat = Rect(piece.left, piece.top, piece.right, core.y)
    text, height = fitted(size, piece.height, 3.6, least=2.0, bold=True)
    x = piece.right + 4.2
    marks: list[Mark] = [
        outlined(box_outline(flat), Layer.PART_EDGE),
        Fill(box_outline(roll)),
        outlined(box_outline(roll), Layer.PART_EDGE),
        Fill(box_outline(Rect(core.x - outer, roll.bottom, core.x, roll.top))),
        *(Circle(core, _CORE + _TURN * turn, Layer.PART_EDGE) for turn in range(_TURNS)),
        outlined(box_outline(piece), Layer.HEAVY),
        line(Point(piece.left - 2.5, piece.top), Point(piece.right + 2.5, piece.top), Layer.SAW_CUT),
        line(Point(x, piece.bottom), Point(x, piece.top), Layer.FINE),
        *(line(Point(x - 1.2, y), Point(x + 1.2, y), Layer.FINE) for y in (piece.bottom, piece.top)),
        Text(Point(x + 4.4, piece.centre.y), text, height, anchor="middle", turn_deg=90.0, bold=True),
        Text(Point(piece.centre.x + 2.0, core.y - 1.1), "roll", 3.2, anchor="middle"),
        Text(Point(piece.centre.x, piece.centre.y - 1.1), "piece", 3.2, anchor="middle", bold=True),
    ]
    return Drawing(BENCH.width, BENCH.height, tuple(marks))
