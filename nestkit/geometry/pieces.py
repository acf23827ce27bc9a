"""The pieces of an outline's line, straight or true arcs, and how far they are from points and each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from nestkit.geometry.outline import Outline, arc_of
from nestkit.geometry.points import Point, Rect


@dataclass(frozen=True, slots=True)
class Line:
    """A straight piece of an outline."""

    start: Point
    end: Point

    def nearest(self, p: Point) -> Point:
        """Return the point of the piece nearest to ``p``."""
        dx, dy = self.end.x - self.start.x, self.end.y - self.start.y
        square = dx * dx + dy * dy
        share = ((p.x - self.start.x) * dx + (p.y - self.start.y) * dy) / square if square else 0.0
        share = min(1.0, max(0.0, share))
        return Point(self.start.x + share * dx, self.start.y + share * dy)

    def direction(self, at_end: bool) -> Point:
        """Return the unit vector of travel at the start or the end."""
        length = self.start.to(self.end)
        return Point((self.end.x - self.start.x) / length, (self.end.y - self.start.y) / length)

    def angle_from(self, p: Point) -> float:
        """Return the angle in radians that the piece sweeps as seen from ``p``."""
        ax, ay, bx, by = self.start.x - p.x, self.start.y - p.y, self.end.x - p.x, self.end.y - p.y
        return math.atan2(ax * by - ay * bx, ax * bx + ay * by)

    def critical(self, other: Line | Bow) -> Iterator[Point]:
        """Yield the points of the piece where the distance to another piece can be least."""
        yield self.start
        yield self.end
        if isinstance(other, Bow):
            yield self.nearest(other.centre)

    @property
    def box(self) -> Rect:
        """The upright box around the piece."""
        (ax, ay), (bx, by) = self.start, self.end
        return Rect(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


@dataclass(frozen=True, slots=True)
class Bow:
    """A piece that is an arc, at most a full turn; ``sweep`` in radians, positive counter-clockwise."""

    start: Point
    end: Point
    centre: Point
    radius: float
    start_angle: float
    sweep: float

    def holds(self, angle: float) -> bool:
        """Say whether the arc passes through a direction from its centre."""
        along = math.copysign(1.0, self.sweep) * (angle - self.start_angle) % math.tau
        return along <= abs(self.sweep)

    def nearest(self, p: Point) -> Point:
        """Return the point of the piece nearest to ``p``."""
        dx, dy = p.x - self.centre.x, p.y - self.centre.y
        away = math.hypot(dx, dy)
        if away > 0.0 and self.holds(math.atan2(dy, dx)):
            share = self.radius / away
            return Point(self.centre.x + dx * share, self.centre.y + dy * share)
        return self.start if self.start.to(p) <= self.end.to(p) else self.end

    def direction(self, at_end: bool) -> Point:
        """Return the unit vector of travel at the start or the end."""
        p = self.end if at_end else self.start
        turn = math.copysign(1.0, self.sweep) / self.radius
        return Point(-(p.y - self.centre.y) * turn, (p.x - self.centre.x) * turn)

    def angle_from(self, p: Point) -> float:
        """Return the angle in radians that the piece sweeps as seen from ``p``."""
        ax, ay, bx, by = self.start.x - p.x, self.start.y - p.y, self.end.x - p.x, self.end.y - p.y
        cross = ax * by - ay * bx
        chord = math.atan2(cross, ax * bx + ay * by)
        # Between chord and arc the arc passes on the other side of the point than the chord does,
        # which is one whole turn's difference. On the chord itself both signs mean half a turn.
        sign = math.copysign(1.0, self.sweep)
        if cross == 0.0:
            return sign * abs(chord)
        if cross * sign < 0.0 and p.to(self.centre) < self.radius:
            return chord + sign * math.tau
        return chord

    def critical(self, other: Line | Bow) -> Iterator[Point]:
        """Yield the points of the piece where the distance to another piece can be least."""
        yield self.start
        yield self.end
        if isinstance(other, Line):
            yield self.nearest(other.nearest(self.centre))
            return
        dx, dy = other.centre.x - self.centre.x, other.centre.y - self.centre.y
        for angle in (math.atan2(dy, dx), math.atan2(-dy, -dx)):
            if self.holds(angle):
                yield Point(
                    self.centre.x + self.radius * math.cos(angle),
                    self.centre.y + self.radius * math.sin(angle),
                )

    @property
    def box(self) -> Rect:
        """A box around the piece, roomy: that of the whole circle."""
        (cx, cy), r = self.centre, self.radius
        return Rect(cx - r, cy - r, cx + r, cy + r)


Piece = Line | Bow


def pieces_of(outline: Outline) -> tuple[Piece, ...]:
    """Return an outline's pieces in order; straight ones of no length are left out."""
    pieces: list[Piece] = []
    for a, b in outline.edges():
        if a.bulge:
            arc = arc_of(a.point, b.point, a.bulge)
            angle, sweep = math.radians(arc.start_deg), math.radians(arc.sweep_deg)
            pieces.append(Bow(a.point, b.point, arc.centre, arc.radius, angle, sweep))
        elif a.point != b.point:
            pieces.append(Line(a.point, b.point))
    return tuple(pieces)


def gap_between(a: Rect, b: Rect) -> float:
    """Return the distance between two upright boxes, 0 when they touch or overlap."""
    dx = max(0.0, a.left - b.right, b.left - a.right)
    dy = max(0.0, a.bottom - b.top, b.bottom - a.top)
    return math.hypot(dx, dy)


def piece_distance(a: Piece, b: Piece) -> float:
    """Return the least distance between two pieces, 0 where they touch or cross."""
    if crosses(a, b):
        return 0.0
    # Off the ends, the shortest way between two pieces stands square on both, so it runs through
    # the centre of each that is an arc: a handful of points holds the nearest one.
    there = min(p.to(b.nearest(p)) for p in a.critical(b))
    back = min(p.to(a.nearest(p)) for p in b.critical(a))
    return min(there, back)


def crosses(a: Piece, b: Piece) -> bool:
    """Say whether two pieces cross or touch."""
    if isinstance(a, Line):
        return _line_meets_line(a, b) if isinstance(b, Line) else _line_meets_bow(a, b)
    return _line_meets_bow(b, a) if isinstance(b, Line) else _bows_meet(a, b)


def _line_meets_line(a: Line, b: Line) -> bool:
    def side(line: Line, p: Point) -> float:
        (sx, sy), (ex, ey) = line.start, line.end
        return (ex - sx) * (p.y - sy) - (ey - sy) * (p.x - sx)

    # Touching ends and lines that lie on each other are found by the distances of the end points.
    return side(a, b.start) * side(a, b.end) < 0.0 and side(b, a.start) * side(b, a.end) < 0.0


def _line_meets_bow(line: Line, bow: Bow) -> bool:
    dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
    fx, fy = line.start.x - bow.centre.x, line.start.y - bow.centre.y
    a, half_b, c = dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - bow.radius * bow.radius
    under = half_b * half_b - a * c
    if under < 0.0:
        return False
    for root in (math.sqrt(under), -math.sqrt(under)):
        share = (root - half_b) / a
        if 0.0 <= share <= 1.0 and bow.holds(math.atan2(fy + share * dy, fx + share * dx)):
            return True
    return False


def _bows_meet(a: Bow, b: Bow) -> bool:
    dx, dy = b.centre.x - a.centre.x, b.centre.y - a.centre.y
    away = math.hypot(dx, dy)
    if away == 0.0 or away > a.radius + b.radius or away < abs(a.radius - b.radius):
        return False
    along = (away * away + a.radius * a.radius - b.radius * b.radius) / (2 * away)
    across = math.sqrt(max(0.0, a.radius * a.radius - along * along))
    for side in (across, -across):
        x = a.centre.x + (along * dx - side * dy) / away
        y = a.centre.y + (along * dy + side * dx) / away
        if a.holds(math.atan2(y - a.centre.y, x - a.centre.x)) and b.holds(
            math.atan2(y - b.centre.y, x - b.centre.x)
        ):
            return True
    return False
