"""Areas and distances by shapely: the one place that imports it."""

from __future__ import annotations

from collections.abc import Iterable

import shapely
from shapely.geometry import Polygon

from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point

TOLERANCE = 0.001
"""Millimetres by which a chord may stray from its arc in a region."""


def region(outline: Outline, openings: Iterable[Outline] = ()) -> Polygon:
    """Return the area inside an outline, less its openings, arcs flattened to 0.001 mm."""
    return Polygon(outline.flattened(TOLERANCE), [o.flattened(TOLERANCE) for o in openings])


def is_simple(outline: Outline) -> bool:
    """Say whether an outline encloses one area without crossing or touching itself."""
    return bool(shapely.is_valid(region(outline)))


def distance_to_edge(outline: Outline, point: Point) -> float:
    """Return the distance from a point to the outline's line, negative when the point is outside."""
    area = region(outline)
    place = shapely.Point(point)
    away = float(area.exterior.distance(place))
    return away if area.covers(place) else -away


def clearance(a: Outline, b: Outline) -> float:
    """Return the least distance between two outlined areas, 0 when they touch or overlap."""
    return float(region(a).distance(region(b)))


def inside(inner: Outline, outer: Outline) -> bool:
    """Say whether one outlined area lies in another; touching its line counts as inside."""
    return bool(region(outer).buffer(2 * TOLERANCE).covers(region(inner)))
