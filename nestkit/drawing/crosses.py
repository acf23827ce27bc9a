"""Registration crosses: one place of a drawing, printed on two pages, by which they are joined."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Path, Text, line
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect

CROSS = 4.0
"""Arm of a registration cross; its diamond, which no punch mark has, is half that."""


@dataclass(frozen=True, slots=True)
class Cross:
    """A registration cross, printed at one place of the drawing on both pages of a seam."""

    at: Point
    name: str


def crosses_in(bands: Sequence[Rect], keep_off: Sequence[Rect], overlap: float) -> tuple[Cross, ...]:
    """Return two crosses in each band that two neighbours both show, named a, b, ... in order.

    They lie off the corners where four pages meet, and off all boxes where room is left.
    """
    places: list[Point] = []
    for band in bands:
        middle = band.centre
        if band.height > band.width:
            ends = _pair(band.bottom, band.top, middle.x, keep_off, overlap, "x")
            places += [Point(middle.x, y) for y in ends]
        else:
            ends = _pair(band.left, band.right, middle.y, keep_off, overlap, "y")
            places += [Point(x, middle.y) for x in ends]
    return tuple(Cross(at, _letters(i)) for i, at in enumerate(places))


def _pair(
    low: float, high: float, middle: float, keep_off: Sequence[Rect], overlap: float, across: str
) -> tuple[float, float]:
    """Two places along a seam, each in its own half, nearest to its outer end and off all boxes."""
    inset = overlap + CROSS + 2.0
    if high - low < 4 * inset:
        inset = (high - low) / 5
    room = (high - low) / 2 - inset
    pair = []
    for end, way in ((low + inset, 1.0), (high - inset, -1.0)):
        tries = [end + way * room * i / 16 for i in range(14)]
        places = [(t, _around(Point(middle, t) if across == "x" else Point(t, middle))) for t in tries]
        clear = (t for t, around in places if not any(box.meets(around) for box in keep_off))
        pair.append(next(clear, tries[0]))
    return pair[0], pair[1]


def _around(p: Point) -> Rect:
    return Rect(*p, *p).grown(CROSS)


def _letters(index: int) -> str:
    """a, b, ..., z, aa, ab: names of crosses."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters


def cross_marks(cross: Cross) -> tuple[Mark, ...]:
    """Return a registration cross: fine lines through a diamond, with its letter."""
    at, half = cross.at, CROSS / 2
    diamond = tuple(
        Vertex(at.x + dx * half, at.y + dy * half) for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1))
    )
    return (
        line(at.moved(-CROSS, 0), at.moved(CROSS, 0), Layer.FINE),
        line(at.moved(0, -CROSS), at.moved(0, CROSS), Layer.FINE),
        Path(diamond, closed=True, layer=Layer.FINE),
        Text(at.moved(1.6, 1.6), cross.name, 2.6, Layer.LABEL),
    )


def cross_box(cross: Cross) -> Rect:
    """Return the box that a registration cross takes, letter included."""
    return _around(cross.at)
