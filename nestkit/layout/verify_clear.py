"""Whether parts keep clear of regions, and copies lie where they are held. Trusts no solver."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from nestkit.layout.result import PlacedPart
from nestkit.parts.lying import body_at, is_box
from nestkit.stock.keep_clear import KeepClear
from nestkit.units import GRID_PER_MM, grid_mm, grid_up

SLIP = 1e-5
"""Millimetres by which true outlines may miss."""


def keeps_clear(parts: Sequence[PlacedPart], regions: Sequence[KeepClear], kerf: Fraction) -> bool:
    """Say whether the cut around every part stays off the regions, where any path can be cut."""
    return all(meets_none(part, regions, kerf) for part in parts)


def meets_none(part: PlacedPart, regions: Sequence[KeepClear], kerf: Fraction) -> bool:
    """Say whether a part keeps the kerf from regions: an upright box to the last digit."""
    sides = (part.x, part.y, part.x + part.width, part.y + part.height)
    left, bottom, right, top = (side * GRID_PER_MM for side in sides)
    near = [r for r in regions if r.nearer_than(grid_up(kerf), (left, bottom, right, top))]
    if not near or is_box(part.panel, part.turn):
        return not near
    # Its box is near a region, its true outline need not be.
    from nestkit.geometry.clearance import Body, too_near

    body = body_at(part.panel, part.turn, (part.x, part.y), opposite_hand=part.opposite_hand)
    least = float(grid_mm(grid_up(kerf)))
    return not any(too_near([body, Body(region.outline())], least, SLIP) for region in near)
