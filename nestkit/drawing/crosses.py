"""Registration crosses: one place of a drawing, printed on two pages, by which they are joined."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Path, Text, line
from nestkit.drawing.template_labels import Field
from nestkit.drawing.type import ASCENT, text_width
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect, around

CROSS = 4.0
"""Arm of a registration cross; its diamond, which no punch mark has, is half that."""
TYPE = 2.6
_BESIDE = 1.6
"""A letter stands this far from the lines of its cross."""
_WIDEST = 4.2
"""A letter that is wider is set smaller: it must be seen on both pages."""
_WAYS = tuple((right, up * far) for far in (1, 2, 3) for up in (1, -1) for right in (1, -1))
_PLACES = 14
_FINE = 1.0
"""Where none of some places along a seam will do, all that are this far apart are tried."""


@dataclass(frozen=True, slots=True)
class Cross:
    """A registration cross, printed at one place of the drawing on both pages of a seam.

    Its letter stands towards ``way``, right or left, above or below, once to three times as far up or down;
    (0, 0) where no place is free.
    """

    at: Point
    name: str
    way: tuple[int, int] = (1, 1)


def crosses_in(
    bands: Sequence[Rect], keep_off: Sequence[Rect], overlap: float, field: Field | None = None
) -> tuple[Cross, ...]:
    """Return two crosses in each band that two neighbours both show, named a, b, ... in order.

    They lie off the corners where four pages meet, off all boxes where room is left, and off what else is
    taken in the ``field``; their letters always do. The field takes them, and the edges of the bands.
    """
    if field is None:
        field = Field(around(bands).grown(CROSS) if bands else Rect(0.0, 0.0, 0.0, 0.0))
    for band in bands:
        for a, b in _sides(band):
            field.take_line(a, b)
    crosses: list[Cross] = []
    for band in bands:
        for places in _halves(band, overlap):
            cross = _placed(places, _letters(len(crosses)), keep_off, field)
            field.take(cross_box(cross))
            crosses.append(cross)
    return tuple(crosses)


def _sides(band: Rect) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The two long sides of a band: a page ends there, or is laid on."""
    left, bottom, right, top = band.left, band.bottom, band.right, band.top
    if band.height > band.width:
        return (Point(left, bottom), Point(left, top)), (Point(right, bottom), Point(right, top))
    return (Point(left, bottom), Point(right, bottom)), (Point(left, top), Point(right, top))


def _halves(band: Rect, overlap: float) -> tuple[list[Point], list[Point]]:
    """Return the places along each half of a band, from its outer end: some to try first, then all."""
    upright = band.height > band.width
    low, high = (band.bottom, band.top) if upright else (band.left, band.right)
    inset = overlap + CROSS + 2.0
    if high - low < 4 * inset:
        inset = (high - low) / 5
    room = (high - low) / 2 - inset
    halves = []
    for end, way in ((low + inset, 1.0), (high - inset, -1.0)):
        steps = [room * i / 16 for i in range(_PLACES)]
        steps += [_FINE * i for i in range(int(room / _FINE))]
        along = [end + way * step for step in steps]
        middle = band.centre
        halves.append([Point(middle.x, t) if upright else Point(t, middle.y) for t in along])
    return halves[0], halves[1]


def _placed(places: Sequence[Point], name: str, keep_off: Sequence[Rect], field: Field) -> Cross:
    """Return a cross at the first place that is free of all, else of boxes; its letter is free of all."""
    clear = [p for p in places[:_PLACES] if not any(map(_around(p).meets, keep_off))]
    if free := next((p for p in clear if field.free(_around(p))), None):
        return Cross(free, name)
    for place in (*clear, *places):
        for way in _WAYS:
            cross = Cross(place, name, way)
            if all(field.free(letter.bounds.grown(0.3)) for letter in _letter(cross)):
                return cross
    return Cross((clear or places)[0], name, (0, 0))


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


def _letter(cross: Cross) -> tuple[Text, ...]:
    right, up = cross.way
    if not right:
        return ()
    size = min(TYPE, TYPE * _WIDEST / text_width(cross.name, TYPE))
    at = cross.at.moved(right * _BESIDE, up * _BESIDE - (0.0 if up > 0 else ASCENT * size))
    return (Text(at, cross.name, size, Layer.LABEL, "start" if right > 0 else "end"),)


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
        *_letter(cross),
    )


def cross_box(cross: Cross) -> Rect:
    """Return the box that a registration cross takes, letter included."""
    return around([_around(cross.at), *(letter.bounds for letter in _letter(cross))])
