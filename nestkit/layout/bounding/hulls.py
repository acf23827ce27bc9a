"""What of its box a part surely fills, so that bounds hold for true outlines too."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from nestkit.geometry.distances import boundary
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.layout.problem import Hull
from nestkit.parts.panel import Panel
from nestkit.units import GRID_PER_MM

SLACK = 1e-6
"""Outlines are floats; what is derived from them is taken this much (mm) smaller."""
FINE = 500
"""An arc is measured by points that stray from it by one in so many of the outline's size."""
GRID, HALVINGS = 5, 12
"""Points a side at which the largest disc inside is looked for, and how often the step is halved."""
DIAGONAL = ((1, 1), (1, -1), (-1, 1), (-1, -1))


def hull_of(panel: Panel, least_side: float) -> Hull | None:
    """Return what a part surely fills of its box; None if that is all of it, in quarter turns.

    ``least_side`` is the smallest side of any part: an opening as wide as that might hold one.
    """
    width, height = float(panel.width), float(panel.height)
    area = panel.outline.area - open_area(panel, least_side)
    if panel.turn != "any" and area > width * height - SLACK:
        return None
    grid_area = max(0, math.floor((area - SLACK) * GRID_PER_MM**2))
    hollow = area < panel.outline.area
    if panel.turn == "any":
        return _free(panel.outline, grid_area, hollow=hollow)
    return Hull(grid_area, () if hollow else _cores(panel.outline, width, height))


def least_side_of(panels: Sequence[Panel]) -> float:
    """Return the smallest width in mm that any of the panels can have, turned as it may be; 0 for none."""
    sides = [_least_width(p.outline) if p.turn == "any" else float(min(p.width, p.height)) for p in panels]
    return min(sides, default=0.0)


def hull_length(outline: Outline) -> float:
    """Return the length of the line around the convex region around an outline, or somewhat less."""
    corners = _hull(_points(outline))
    return sum(a.to(b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True))


def _free(outline: Outline, area: int, *, hollow: bool) -> Hull:
    """Return what an outline surely fills at every angle.

    A disc in it stays a disc however it is turned, and holds an upright square. The box around it is as
    wide as the strip between two of its tangents, so never less than the narrowest of these.
    """
    points = _hull(_points(outline))
    longest = max(a.to(b) for a in points for b in points)
    side = 0 if hollow else _steps(_inner_disc(outline) * math.sqrt(2))
    cores = ((side, side),) if side else ()
    return Hull(area, cores, _steps(_least_width(outline)), _steps(longest))


@lru_cache(maxsize=256)
def _least_width(outline: Outline) -> float:
    """Return the least distance of two parallel lines with the outline between them, or somewhat less."""
    points = _hull(_points(outline))
    return max(2 * _inner_disc(outline), _narrowest(points))


def _points(outline: Outline) -> list[Point]:
    """Return points of an outline: the region between them is part of the one between its own."""
    box = outline.bounds
    return list(outline.flattened(max(box.width, box.height) / FINE))


def _hull(points: list[Point]) -> list[Point]:
    """Return the corners of the convex region around points, counter-clockwise."""
    found: list[Point] = []
    for row in (sorted(set(points)), sorted(set(points), reverse=True)):
        start = len(found)
        for p in row:
            while len(found) >= start + 2 and _left_of(found[-2], found[-1], p) <= 0:
                found.pop()
            found.append(p)
        found.pop()
    return found


def _left_of(a: Point, b: Point, p: Point) -> float:
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)


def _narrowest(corners: list[Point]) -> float:
    """Return the least width of a convex region: along one of its sides lies one of the two lines."""
    sides = zip(corners, corners[1:] + corners[:1], strict=True)
    return min(max(_left_of(a, b, p) for p in corners) / a.to(b) for a, b in sides)


@lru_cache(maxsize=256)
def _inner_disc(outline: Outline) -> float:
    """Return the radius of a disc inside an outline, nearly the largest; any is true wherever it is found."""
    line, box = boundary(outline), outline.bounds
    at = [
        Point(box.left + box.width * i / (GRID + 1), box.bottom + box.height * j / (GRID + 1))
        for i in range(1, GRID + 1)
        for j in range(1, GRID + 1)
    ]
    radius, best = max((line.depth(p), p) for p in at)
    step = max(box.width, box.height) / GRID
    for _ in range(HALVINGS):
        around = [best.moved(x * step, y * step) for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1), *DIAGONAL)]
        found, there = max((line.depth(p), p) for p in around)
        if found > radius:
            radius, best = found, there
        else:
            step /= 2
    return max(0.0, radius)


def open_area(panel: Panel, least_side: float) -> float:
    """Return the area of openings and holes that another part might lie in."""
    total = 0.0
    for opening in panel.openings:
        box = opening.outline.bounds
        if min(box.width, box.height) >= least_side:
            total += opening.outline.area
    return total + sum(math.pi * h.dia**2 / 4 for h in panel.holes if h.dia >= least_side)


def _cores(outline: Outline, width: float, height: float) -> tuple[tuple[int, int], ...]:
    """Return boxes inside a convex outline that reach across its whole width, and its whole height."""
    if not _convex(outline):
        return ()
    corners = outline.vertices
    found = []
    low, high = _common([v.y for v in corners if v.x < SLACK], [v.y for v in corners if v.x > width - SLACK])
    if high > low:
        found.append((_steps(width), _steps(high - low)))
    low, high = _common([v.x for v in corners if v.y < SLACK], [v.x for v in corners if v.y > height - SLACK])
    if high > low:
        found.append((_steps(high - low), _steps(height)))
    return tuple(found)


def _common(one: list[float], two: list[float]) -> tuple[float, float]:
    """Return the stretch that two opposite sides have in common."""
    if not one or not two:
        return 0.0, 0.0
    return max(min(one), min(two)), min(max(one), max(two))


def _steps(length: float) -> int:
    return max(0, math.floor((length - SLACK) * GRID_PER_MM))


def _convex(outline: Outline) -> bool:
    """Say whether an outline never turns inwards, by its corners and the bulges of its arcs."""
    corners = outline.vertices
    if len(corners) < 3 or any(v.bulge < 0 for v in corners):
        return False
    for i, b in enumerate(corners):
        a, c = corners[i - 1], corners[(i + 1) % len(corners)]
        if (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x) < -SLACK:
            return False
    return True
