"""Check rulers: a print proves its scale by a line whose length is known and said."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Inset, Path, line
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.parts.marking import PRINT_LIMIT
from nestkit.units import MM_PER_INCH, Unit

Axis = Literal["x", "y"]

STRIP = 8.2
"""Width of the strip that a ruler takes, its words below the line and its ticks above."""
LINE = 4.4
"""From the strip's outer edge to the ruler's line."""
_TICKS = {"long": 3.4, "middle": 2.4, "short": 1.4}


def longest(room: float, unit: Unit) -> Fraction:
    """Return the longest check length in mm that fits ``room`` mm: whole 10 mm, or half inches.

    >>> longest(203.2, "in") / MM_PER_INCH, longest(199.99, "mm")
    (Fraction(8, 1), Fraction(190, 1))
    """
    step = MM_PER_INCH / 2 if unit == "in" else Fraction(10)
    return max(1, math.floor(Fraction(room + 1e-9) / step)) * step


def reading(length: Fraction, unit: Unit) -> str:
    """Return what must be read on a ruler of ``length`` mm, and what may be.

    >>> reading(Fraction(200), "mm")
    'must read 200.0, accept 199.6 to 200.4 mm'
    >>> reading(8 * MM_PER_INCH, "in")
    'must read 8.000, accept 7.98 to 8.02 in'
    """
    return accepted(length, length * PRINT_LIMIT, unit)


def as_read(length: Fraction, unit: Unit) -> str:
    """Return a length in mm as a steel rule is read for a check, in the unit: ``12.992``, ``330.0``."""
    return f"{float(length / MM_PER_INCH):.3f}" if unit == "in" else f"{float(length):.1f}"


def accepted(length: Fraction, out: Fraction, unit: Unit) -> str:
    """Return what must be read of a ``length`` in mm that may be ``out`` mm, and what may be.

    >>> accepted(Fraction(330), Fraction(8, 10), "in")
    'must read 12.992, accept 12.96 to 13.02 in'
    """
    per = MM_PER_INCH if unit == "in" else Fraction(1)
    size = length / per
    places = 2 if unit == "in" else 1
    # To the nearest place; a tie goes inwards, to the narrower limit.
    allowed = Fraction(math.ceil(out / per * 10**places - Fraction(1, 2)), 10**places)
    low, high = float(size - allowed), float(size + allowed)
    return f"must read {as_read(length, unit)}, accept {low:.{places}f} to {high:.{places}f} {unit}"


def check_ruler(
    at: Point, room: float, unit: Unit, *, along: Axis, scale: tuple[float, float] = (1.0, 1.0)
) -> Inset:
    """Return a ruler in a strip of ``STRIP`` mm whose lower left is ``at``, without its words.

    It is as long as ``room`` mm of paper allow once the printer's ``scale`` (along x, along y) is
    taken out of it: after printing it reads its nominal length. Its line is one path of two points.
    """
    ruler = _ruler(float(longest(room * (scale[0] if along == "x" else scale[1]), unit)), unit, along)
    start = at.moved(0, LINE) if along == "x" else at.moved(LINE, 0)
    return Inset(
        ruler, start, 1 / scale[0], 1 / scale[1], Rect(0.0, 0.0, ruler.width, ruler.height).grown(0.2)
    )


@lru_cache(maxsize=50)
def _ruler(length: float, unit: Unit, along: Axis) -> Drawing:
    """The ruler in its own frame, its zero at the origin, ticks towards the positive other axis.

    Kept: pages of one paper have the same, and its ticks are the longest path on most of them.
    """

    def at(place: float, up: float) -> Point:
        return Point(place, up) if along == "x" else Point(up, place)

    # All ticks are one comb: a print with many pages would otherwise be mostly ticks.
    comb: list[Point] = []
    step, middle, long = (25.4 / 8, 4, 8) if unit == "in" else (5.0, 2, 10)
    count = round(length / step)
    for i in range(count + 1):
        size = "long" if i % long == 0 or i in (0, count) else "middle" if i % middle == 0 else "short"
        place = length if i == count else i * step
        comb += [at(place, 0), at(place, _TICKS[size]), at(place, 0)]
    far = at(length, _TICKS["long"])
    ticks = Path(tuple(Vertex(*p) for p in comb), closed=False, layer=Layer.FINE)
    return Drawing(far.x, far.y, (line(at(0, 0), at(length, 0), Layer.FINE), ticks))
