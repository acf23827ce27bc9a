"""Areas of outlines by shapely; distances between them are in ``clearance``.

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


def outside(outlines: Sequence[Outline], room: Rect) -> list[int]:
    """Return the indices of the outlined areas that are not wholly in a box."""
    box = shapely.box(*room)
    return [i for i, o in enumerate(outlines) if not box.covers(region(o))]
