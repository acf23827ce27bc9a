"""Areas and distances of outlines by shapely: the one place that imports it.

It serves as a second opinion: what nestkit works out in its own arithmetic is held against it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import shapely
from shapely.geometry import Polygon

from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Rect

TOLERANCE = 0.001
"""Millimetres by which a chord may stray from its arc in a region."""


def region(outline: Outline, openings: Iterable[Outline] = ()) -> Polygon:
    """Return the area inside an outline, less its openings, arcs flattened to 0.001 mm."""
    return Polygon(outline.flattened(TOLERANCE), [o.flattened(TOLERANCE) for o in openings])


def is_simple(outline: Outline) -> bool:
    """Say whether an outline encloses one area without crossing or touching itself."""
    return bool(shapely.is_valid(region(outline)))


def nearer_than(outlines: Sequence[Outline], least: float) -> list[tuple[int, int, float]]:
    """Return the pairs of outlined areas that are nearer than ``least`` mm, by index, with their distance.

    Areas that overlap are 0 apart; with ``least`` 0 only those that overlap are returned. Two areas
    whose arcs face each other count as up to 0.002 mm further apart than they are.
    """
    areas = [region(o) for o in outlines]
    found = []
    tree = shapely.STRtree(areas)
    for i, j in tree.query(areas, predicate="dwithin", distance=least).T.tolist():
        if i < j:
            away = float(areas[i].distance(areas[j]))
            if away < least or (away == 0 and areas[i].intersection(areas[j]).area > TOLERANCE):
                found.append((i, j, away))
    return sorted(found)


def outside(outlines: Sequence[Outline], room: Rect) -> list[int]:
    """Return the indices of the outlined areas that are not wholly in a box."""
    box = shapely.box(*room)
    return [i for i, o in enumerate(outlines) if not box.covers(region(o))]
