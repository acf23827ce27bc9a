"""Unrolling a round tube: places by angle as places on paper that goes right round.

Seen from outside with end 0 at the left: x along the tube from end 0 (over the long point), y upwards, the
angle from A towards B growing downwards. Millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nestkit.geometry.mitre import End
from nestkit.geometry.points import Point
from nestkit.geometry.section import Section


@dataclass(frozen=True, slots=True)
class RoundWrap:
    """Paper right round a round tube, ``girth`` long as measured around; its edges meet at ``seam_deg``."""

    section: Section
    girth: float
    seam_deg: float = 180.0

    @property
    def height(self) -> float:
        """The girth."""
        return self.girth

    def point(self, at: float, at_deg: float) -> Point:
        """Return a place by its angle from A towards B; at the seam, the upper edge."""
        return Point(at, self.girth * (1.0 - (at_deg - self.seam_deg) % 360.0 / 360.0))

    def end_line(self, end: End) -> tuple[Point, ...]:
        """Return where the tube ends, from the lower edge to the upper: of a mitre the developed curve."""
        steps = 4 * end.steps(float(self.section.a) / 2)
        shares = [i / steps for i in range(steps + 1)]
        places = [self.section.at_angle(self.seam_deg - 360.0 * share) for share in shares]
        return tuple(
            Point(end.x(self.section, *place), self.girth * share)
            for share, place in zip(shares, places, strict=True)
        )


def usual_girth(section: Section, fold: float) -> float:
    """Return the length of paper right round a round section, where it was not measured.

    The paper's thickness adds as much as four folds do: a whole turn either way.
    """
    return math.pi * float(section.a) + 4 * fold


def clear_seam(angles: Iterable[float]) -> float:
    """Return the angle in the middle of the widest stretch without a mark, the first of equals.

    >>> clear_seam([0, 180]), clear_seam([0, 90, 180]), clear_seam([])
    (90.0, 270.0, 180.0)
    """
    marks: Sequence[float] = sorted({float(a) % 360.0 for a in angles})
    if not marks:
        return 180.0
    after = [*marks[1:], marks[0] + 360.0]
    gaps = [(b - a, a) for a, b in zip(marks, after, strict=True)]
    widest = max(gap for gap, _ in gaps)
    start = next(a for gap, a in gaps if gap > widest - 1e-9)
    return (start + widest / 2) % 360.0
