"""A closed outline of straight lines and true arcs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from nestkit.geometry.points import Point, Rect


class Vertex(NamedTuple):
    """A corner of an outline; ``bulge`` shapes the edge that starts here.

    The bulge is the tangent of a quarter of the arc's angle, positive for an arc that runs
    counter-clockwise, 0 for a straight edge: the convention of the DXF reference.
    """

    x: float
    y: float
    bulge: float = 0.0

    @property
    def point(self) -> Point:
        """The corner itself."""
        return Point(self.x, self.y)


class Arc(NamedTuple):
    """A circular arc: centre, radius, start angle and signed sweep, in degrees."""

    centre: Point
    radius: float
    start_deg: float
    sweep_deg: float


def arc_of(start: Point, end: Point, bulge: float) -> Arc:
    """Return the arc between two points with a bulge other than 0."""
    half_x, half_y = (end.x - start.x) / 2, (end.y - start.y) / 2
    # From the chord's middle the centre lies to the left of the chord by this share of half the chord.
    share = (1 - bulge * bulge) / (2 * bulge)
    centre = Point(start.x + half_x - half_y * share, start.y + half_y + half_x * share)
    start_deg = math.degrees(math.atan2(start.y - centre.y, start.x - centre.x))
    return Arc(centre, start.to(centre), start_deg, math.degrees(4 * math.atan(bulge)))


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed loop of vertices, counter-clockwise, the first not repeated at the end."""

    vertices: tuple[Vertex, ...]

    def __post_init__(self) -> None:
        if len(self.vertices) < 2:
            raise ValueError(f"an outline needs two vertices or more, got {len(self.vertices)}")

    def edges(self) -> Iterator[tuple[Vertex, Vertex]]:
        """Yield each edge as its start vertex (with the bulge) and its end vertex."""
        yield from zip(self.vertices, self.vertices[1:] + self.vertices[:1], strict=True)

    @property
    def area(self) -> float:
        """Enclosed area in square millimetres, positive when counter-clockwise."""
        total = 0.0
        for a, b in self.edges():
            total += (a.x * b.y - b.x * a.y) / 2
            if a.bulge:
                angle = 4 * math.atan(a.bulge)
                radius = a.point.to(b.point) / (2 * math.sin(abs(angle) / 2))
                total += radius * radius * (angle - math.sin(angle)) / 2
        return total

    @property
    def length(self) -> float:
        """Length of the way round, arcs included."""
        total = 0.0
        for a, b in self.edges():
            if a.bulge:
                arc = arc_of(a.point, b.point, a.bulge)
                total += arc.radius * math.radians(abs(arc.sweep_deg))
            else:
                total += a.point.to(b.point)
        return total

    @property
    def bounds(self) -> Rect:
        """The upright box around the outline, arcs included."""
        xs = [v.x for v in self.vertices]
        ys = [v.y for v in self.vertices]
        for a, b in self.edges():
            if not a.bulge:
                continue
            arc = arc_of(a.point, b.point, a.bulge)
            for quarter, (dx, dy) in enumerate(((1, 0), (0, 1), (-1, 0), (0, -1))):
                along = math.copysign(1, arc.sweep_deg) * (quarter * 90 - arc.start_deg) % 360
                if along < abs(arc.sweep_deg):
                    xs.append(arc.centre.x + dx * arc.radius)
                    ys.append(arc.centre.y + dy * arc.radius)
        return Rect(min(xs), min(ys), max(xs), max(ys))

    @property
    def is_circle(self) -> bool:
        """Say whether the outline is one full circle (two half arcs)."""
        return len(self.vertices) == 2 and all(abs(abs(v.bulge) - 1) < 1e-12 for v in self.vertices)

    def moved(self, dx: float, dy: float) -> Outline:
        """Return the outline shifted by ``dx, dy``."""
        return Outline(tuple(Vertex(v.x + dx, v.y + dy, v.bulge) for v in self.vertices))

    def turned(self, angle_deg: float) -> Outline:
        """Return the outline turned counter-clockwise about the origin."""
        return Outline(tuple(Vertex(*v.point.turned(angle_deg), v.bulge) for v in self.vertices))

    def mirrored(self, width: float) -> Outline:
        """Return the outline mirrored left to right: x becomes ``width - x``; still counter-clockwise."""
        # The loop runs the other way round, so an edge's bulge moves to its other end.
        # Mirroring and reversing each change the sign of a bulge: together they keep it.
        turned_round = []
        for index in range(len(self.vertices) - 1, -1, -1):
            vertex, before = self.vertices[index], self.vertices[index - 1]
            turned_round.append(Vertex(width - vertex.x, vertex.y, before.bulge))
        return Outline(tuple(turned_round))

    def reversed(self) -> Outline:
        """Return the same loop run the other way round."""
        count = len(self.vertices)
        return Outline(
            tuple(
                Vertex(self.vertices[i].x, self.vertices[i].y, -self.vertices[i - 1].bulge)
                for i in range(count - 1, -1, -1)
            )
        )

    def flattened(self, tolerance: float = 0.005) -> tuple[Point, ...]:
        """Return the outline as points; no chord strays from its arc by more than ``tolerance`` mm."""
        points: list[Point] = []
        for a, b in self.edges():
            points.append(a.point)
            if a.bulge:
                points.extend(_arc_points(arc_of(a.point, b.point, a.bulge), tolerance))
        return tuple(points)


def _arc_points(arc: Arc, tolerance: float) -> Iterator[Point]:
    """Yield the points inside an arc, without its ends."""
    step = 2 * math.acos(max(0.0, 1 - tolerance / arc.radius)) if arc.radius > tolerance else math.pi / 2
    count = max(1, math.ceil(math.radians(abs(arc.sweep_deg)) / step))
    for i in range(1, count):
        angle = math.radians(arc.start_deg + arc.sweep_deg * i / count)
        yield Point(arc.centre.x + arc.radius * math.cos(angle), arc.centre.y + arc.radius * math.sin(angle))
