"""The outlines that a job file can ask for: rectangles, discs, slots, polygons, notched plates."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect, cos_sin

QUARTER_BULGE = math.tan(math.pi / 8)
"""Bulge of a quarter circle."""

ORIGIN = Point(0.0, 0.0)

CornerName = Literal["bottom left", "bottom right", "top right", "top left"]
SideName = Literal["bottom", "right", "top", "left"]


def rectangle(
    width: float, height: float, *, radius: float = 0.0, chamfer: float = 0.0, at: Point = ORIGIN
) -> Outline:
    """Return a rectangle with its lower left corner ``at``; all corners rounded or chamfered alike.

    Raises ``ValueError`` when radius or chamfer is more than half the shorter side.
    """
    corners = [Point(0, 0), Point(width, 0), Point(width, height), Point(0, height)]
    return corners_cut(corners, radius=radius, chamfer=chamfer).moved(*at)


def box_outline(box: Rect) -> Outline:
    """Return the outline of an upright box."""
    left, bottom, right, top = box
    return Outline((Vertex(left, bottom), Vertex(right, bottom), Vertex(right, top), Vertex(left, top)))


def corners_cut(corners: Sequence[Point], *, radius: float = 0.0, chamfer: float = 0.0) -> Outline:
    """Return the polygon through ``corners`` (counter-clockwise), every corner rounded or chamfered.

    ``chamfer`` is the leg taken off along both edges. Raises ``ValueError`` when an edge is too
    short for what is taken from its two ends.
    """
    if not radius and not chamfer:
        return Outline(tuple(Vertex(p.x, p.y) for p in corners))
    return mixed_corners([(p, radius, chamfer) for p in corners])


def mixed_corners(corners: Sequence[tuple[Point, float, float]]) -> Outline:
    """Return a polygon whose corners each have their own radius or chamfer leg (0 leaves it sharp).

    Raises ``ValueError`` when an edge is too short for what is taken from its two ends.
    """
    count = len(corners)
    taken = [_taken(corners, i) for i in range(count)]
    vertices: list[Vertex] = []
    for i, (corner, radius, _) in enumerate(corners):
        before, after = corners[i - 1][0], corners[(i + 1) % count][0]
        if taken[i] + taken[(i + 1) % count] > corner.to(after) + 1e-9:
            raise ValueError("the edge is too short for the radius or chamfer at its ends")
        if not taken[i]:
            vertices.append(Vertex(corner.x, corner.y))
            continue
        start, end = _towards(corner, before, taken[i]), _towards(corner, after, taken[i])
        turn = _turn(before, corner, after)
        vertices.append(Vertex(start.x, start.y, math.tan(turn / 4) if radius else 0.0))
        vertices.append(Vertex(end.x, end.y))
    return Outline(_without_repeats(vertices))


def disc(diameter: float, *, centre: Point | None = None) -> Outline:
    """Return a full circle of two half arcs; without a centre it stands on both axes."""
    r = diameter / 2
    c = centre if centre is not None else Point(r, r)
    return Outline((Vertex(c.x - r, c.y, 1.0), Vertex(c.x + r, c.y, 1.0)))


def slot(centre: Point, length: float, width: float, angle_deg: float = 0.0) -> Outline:
    """Return a slot with round ends; ``length`` is overall, ``angle_deg`` counter-clockwise from right.

    Raises ``ValueError`` when it is not longer than wide.
    """
    if length <= width:
        raise ValueError("a slot is longer than it is wide; a round hole is meant")
    half, r = (length - width) / 2, width / 2
    ends = (
        Vertex(-half, -r),
        Vertex(half, -r, 1.0),
        Vertex(half, r),
        Vertex(-half, r, 1.0),
    )
    c, s = cos_sin(angle_deg)
    return Outline(
        tuple(Vertex(centre.x + v.x * c - v.y * s, centre.y + v.x * s + v.y * c, v.bulge) for v in ends)
    )


def _taken(corners: Sequence[tuple[Point, float, float]], i: int) -> float:
    """Length that radius or chamfer takes from both edges at a corner."""
    corner, radius, chamfer = corners[i]
    if not radius:
        return chamfer
    turn = _turn(corners[i - 1][0], corner, corners[(i + 1) % len(corners)][0])
    if math.pi - abs(turn) < 1e-6:
        raise ValueError("a corner folds back on itself and cannot be rounded")
    return radius * abs(math.tan(turn / 2))


def _turn(before: Point, corner: Point, after: Point) -> float:
    """Angle in radians by which the way turns at a corner, positive to the left."""
    a = math.atan2(corner.y - before.y, corner.x - before.x)
    b = math.atan2(after.y - corner.y, after.x - corner.x)
    return math.remainder(b - a, 2 * math.pi)


def _towards(start: Point, end: Point, length: float) -> Point:
    share = length / start.to(end)
    return Point(start.x + (end.x - start.x) * share, start.y + (end.y - start.y) * share)


def _without_repeats(vertices: list[Vertex]) -> tuple[Vertex, ...]:
    """Drop straight edges of no length: a radius of half the side leaves one between its arcs."""
    kept = [
        v
        for v, after in zip(vertices, vertices[1:] + vertices[:1], strict=True)
        if v.bulge or v.point.to(after.point) > 1e-9
    ]
    return tuple(kept)
