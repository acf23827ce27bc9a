"""Where a hole's number can stand on a small picture: beside its hole, on nothing else."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

from nestkit.drawing.template_labels import Field, away
from nestkit.drawing.type import ASCENT, DESCENT
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point, Rect

_CELL = 6.0
_CLEAR = 0.25
_OWN = 0.6
"""A number stands nearer to its own hole than to any other by this."""


class Taken:
    """Boxes that are taken on a page, in a grid of cells; and the holes, so that each number has its own."""

    def __init__(self, page: Rect) -> None:
        self._field = Field(page)
        self._holes: dict[tuple[int, int], list[Point]] = defaultdict(list)

    def take(self, box: Rect) -> None:
        """Mark a box as taken."""
        self._field.take(box)

    def take_outline(self, outline: Outline) -> None:
        """Mark the line of an outline as taken, in short pieces."""
        self._field.take_outline(outline)

    def take_hole(self, at: Point, radius: float, arm: float) -> None:
        """Mark a hole and the arms of its cross as taken; a round hole leaves the corners around it free."""
        for x, y in ((radius, 0.4 * radius), (0.72 * radius, 0.72 * radius), (0.4 * radius, radius)):
            self.take(Rect(at.x - x, at.y - y, at.x + x, at.y + y).grown(0.1))
        self.take(Rect(at.x - arm, at.y, at.x + arm, at.y).grown(0.1))
        self.take(Rect(at.x, at.y - arm, at.x, at.y + arm).grown(0.1))
        self._holes[_cell(at)].append(at)

    def give_back(self, box: Rect) -> None:
        """Free what :meth:`beside` took."""
        self._field.give_back(box.grown(_CLEAR))

    def beside(self, at: Point, reach: float, width: float, height: float) -> Rect | None:
        """Take a box beside a hole for a text ``width`` mm long in type of ``height``, or return None."""
        tall = (ASCENT + DESCENT) * height
        for box in _around(at, reach + 2 * _CLEAR, width, tall):
            if self._field.free(box.grown(_CLEAR)) and self._nearest(box, at):
                self.take(box.grown(_CLEAR))
                return box
        return None

    def _nearest(self, box: Rect, at: Point) -> bool:
        far = away(box, at) + _OWN
        rivals = (p for cell in _cells(box.grown(far)) for p in self._holes.get(cell, ()))
        return all(p == at or away(box, p) >= far for p in rivals)


def _cell(p: Point) -> tuple[int, int]:
    return math.floor(p.x / _CELL), math.floor(p.y / _CELL)


def _cells(box: Rect) -> Iterator[tuple[int, int]]:
    left, bottom = _cell(Point(box.left, box.bottom))
    right, top = _cell(Point(box.right, box.top))
    for column in range(left, right + 1):
        for row in range(bottom, top + 1):
            yield column, row


def _around(at: Point, reach: float, width: float, tall: float) -> Iterator[Rect]:
    """Yield boxes around a hole: above and right of it, beside it, below, and all of it a little further."""
    for out in (reach, reach + 1.5, reach + 3.0):
        right, left = at.x + out, at.x - out - width
        above, below = at.y + out, at.y - out - tall
        tucked = 0.75 * out
        for x, y in (
            (at.x + tucked, at.y + tucked),
            (right, at.y - tall / 2),
            (at.x - width / 2, above),
            (left, at.y - tall / 2),
            (at.x - width / 2, below),
            (at.x - tucked - width, at.y + tucked),
            (at.x + tucked, at.y - tucked - tall),
            (at.x - tucked - width, at.y - tucked - tall),
        ):
            yield Rect(x, y, x + width, y + tall)
