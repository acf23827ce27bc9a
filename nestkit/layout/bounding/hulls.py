"""What of its box a part surely fills, so that bounds hold for true outlines too."""

from __future__ import annotations

import math

from nestkit.geometry.outline import Outline
from nestkit.layout.problem import Hull
from nestkit.parts.panel import Panel
from nestkit.units import GRID_PER_MM

SLACK = 1e-6
"""Outlines are floats; what is derived from them is taken this much (mm) smaller."""


def hull_of(panel: Panel, least_side: float) -> Hull | None:
    """Return what a part surely fills of its box; None if that is all of it, in quarter turns.

    ``least_side`` is the smallest side of any part: an opening as wide as that might hold one.
    """
    width, height = float(panel.width), float(panel.height)
    area = panel.outline.area - _open_area(panel, least_side)
    if panel.turn != "any" and area > width * height - SLACK:
        return None
    grid_area = max(0, math.floor((area - SLACK) * GRID_PER_MM**2))
    hollow = area < panel.outline.area
    cores = () if panel.turn == "any" or hollow else _cores(panel.outline, width, height)
    return Hull(grid_area, cores)


def _open_area(panel: Panel, least_side: float) -> float:
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
