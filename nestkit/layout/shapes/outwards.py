"""Outlines with arcs as straight-edged rings that never make a part smaller than it is.

Where material lies inside an arc its tangents are taken, where it lies outside its chords. Tangents meet the
arc where it is furthest along x and y, so that the box around a part stays as it is in quarter turns.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from nestkit.geometry.outline import Arc, Outline, arc_of
from nestkit.geometry.points import Point
from nestkit.layout.shapes.problem import Ring, Shape

TOLERANCE, FINEST = 0.05, 1e-4
"""Millimetres by which rings may stray from arcs, and the finest that is tried where they would cross."""
SHARE, MOST = 5e-4, 0.25
"""The edge of a larger part may stray by this share of its longer side, but by so many mm at most."""
WIDEST = math.pi / 4
"""However small an arc is, no edge takes more of it than this."""
ON_LINE = 1e-9
"""A corner that is no further in mm from the line through its neighbours is left out."""


def shape_of(outline: Outline, openings: Iterable[Outline] = ()) -> Shape:
    """Return an outline with openings as a shape.

    One whose rings cross even when they are finest is taken for the box around it.
    """
    inner, bounds = tuple(openings), outline.bounds
    edge = min(MOST, max(TOLERANCE, SHARE * max(bounds.width, bounds.height)))
    tolerance = TOLERANCE
    while tolerance >= FINEST:
        shape = Shape(
            grown_ring(outline, edge),
            tuple(shrunk_ring(o, tolerance)[::-1] for o in inner),
        )
        if _sound(shape):
            return shape
        edge, tolerance = edge / 4, tolerance / 4
    return Shape(
        (
            (bounds.left, bounds.bottom),
            (bounds.right, bounds.bottom),
            (bounds.right, bounds.top),
            (bounds.left, bounds.top),
        )
    )


def grown_ring(outline: Outline, tolerance: float) -> Ring:
    """Return a counter-clockwise ring around an outline, nowhere further from it than ``tolerance`` mm."""
    return _ring(outline, tolerance, grow=True)


def shrunk_ring(outline: Outline, tolerance: float) -> Ring:
    """Return a counter-clockwise ring within an outline, nowhere further from it than ``tolerance`` mm."""
    return _ring(outline, tolerance, grow=False)


def _sound(shape: Shape) -> bool:
    import shapely

    return bool(shapely.is_valid(shapely.Polygon(shape.outer, shape.openings)))


def _ring(outline: Outline, tolerance: float, *, grow: bool) -> Ring:
    points: list[Point] = []
    for a, b in outline.edges():
        points.append(a.point)
        if a.bulge:
            arc = arc_of(a.point, b.point, a.bulge)
            points += _corners(arc, tolerance, around=(a.bulge > 0) == grow)
    return tuple((p.x, p.y) for p in _without_straight(points))


def _corners(arc: Arc, tolerance: float, *, around: bool) -> Iterator[Point]:
    """Yield corners between an arc's ends: of its tangents, or else of its chords."""
    widest = 2 * math.acos(arc.radius / (arc.radius + tolerance))
    if not around:
        widest = 2 * math.acos(max(0.0, 1 - tolerance / arc.radius))
    start, *ends = _split(arc)
    for end in ends:
        count = max(1, math.ceil(abs(end - start) / min(widest, WIDEST)))
        step = (end - start) / count
        for i in range(count):
            if around:
                yield _at(arc, start + (i + 0.5) * step, arc.radius / math.cos(step / 2))
            elif i < count - 1 or end != ends[-1]:
                yield _at(arc, start + (i + 1) * step, arc.radius)
        start = end


def _split(arc: Arc) -> list[float]:
    """Return an arc's ends, and the angles between at which it is furthest along an axis, in radians."""
    low, high = sorted((arc.start_deg, arc.start_deg + arc.sweep_deg))
    within = [90.0 * k for k in range(math.floor(low / 90) + 1, math.ceil(high / 90))]
    # A rest of an arc too short to see would only make two corners of one.
    angles = [low, *(a for a in within if min(a - low, high - a) > 1e-7), high]
    return [math.radians(a) for a in (angles if arc.sweep_deg > 0 else angles[::-1])]


def _at(arc: Arc, angle: float, radius: float) -> Point:
    return Point(arc.centre.x + radius * math.cos(angle), arc.centre.y + radius * math.sin(angle))


def _without_straight(points: list[Point]) -> list[Point]:
    """Return the corners at which a ring turns."""
    kept: list[Point] = []
    for i, p in enumerate(points):
        before, after = kept[-1] if kept else points[-1], points[(i + 1) % len(points)]
        length = before.to(after)
        off = (after.x - before.x) * (p.y - before.y) - (after.y - before.y) * (p.x - before.x)
        along = (after.x - before.x) * (p.x - before.x) + (after.y - before.y) * (p.y - before.y)
        if length and abs(off) <= ON_LINE * length and 0.0 <= along <= length * length:
            continue
        kept.append(p)
    return kept
