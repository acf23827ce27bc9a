"""Points and boxes in millimetres, y up."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable
from typing import NamedTuple


class Point(NamedTuple):
    """A place in millimetres, x to the right, y up."""

    x: float
    y: float

    def moved(self, dx: float, dy: float) -> Point:
        """Return the point shifted by ``dx, dy``."""
        return Point(self.x + dx, self.y + dy)

    def less(self, other: Point) -> Point:
        """Return the way from another point to this one, as a vector."""
        return Point(self.x - other.x, self.y - other.y)

    def turned(self, angle_deg: float) -> Point:
        """Return the point turned counter-clockwise about the origin; quarter turns are exact."""
        c, s = cos_sin(angle_deg)
        return Point(self.x * c - self.y * s, self.x * s + self.y * c)

    def to(self, other: Point) -> float:
        """Return the distance to another point."""
        return math.hypot(other.x - self.x, other.y - self.y)


class Rect(NamedTuple):
    """An upright box: lower left and upper right corner, in millimetres."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Extent along x."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent along y."""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def grown(self, by: float) -> Rect:
        """Return the box with ``by`` added on every side (negative shrinks)."""
        return Rect(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def meets(self, other: Rect) -> bool:
        """Say whether the two boxes share some area."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )

    def holds(self, other: Rect) -> bool:
        """Say whether the other box lies in this one as a whole; edges may touch."""
        return (
            self.left <= other.left
            and self.bottom <= other.bottom
            and other.right <= self.right
            and other.top <= self.top
        )

    def common(self, other: Rect) -> Rect:
        """Return what the two boxes share; turned inside out where that is nothing."""
        return Rect(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )


def around(boxes: Iterable[Rect]) -> Rect:
    """Return the upright box around one box or more."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return Rect(min(lefts), min(bottoms), max(rights), max(tops))


def middle(points: Collection[Point]) -> Point:
    """Return the mean of one point or more."""
    return Point(sum(p.x for p in points) / len(points), sum(p.y for p in points) / len(points))


def cos_sin(angle_deg: float) -> tuple[float, float]:
    """Return cosine and sine of an angle in degrees, exact at multiples of 90."""
    quarter, rest = divmod(angle_deg, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    angle = math.radians(angle_deg)
    return math.cos(angle), math.sin(angle)
