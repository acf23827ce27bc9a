"""What no layout of true shapes can beat, by their areas with the room that the gap leaves free around them.

Parts a gap apart stay apart when each is grown by half of it, and lie on the sheet's room grown as much. A
part of area A grows to A + L r + pi r^2 at least, L being the length around its convex hull: its boundary is
never shorter than that of its hull (Steiner's formula for the hull, integrated from 0 to r).
"""

from __future__ import annotations

import math

from nestkit.job.model import Group
from nestkit.layout.bounding.covering import Demand
from nestkit.layout.bounding.demands import demands_of
from nestkit.layout.bounding.hulls import hull_length, least_side_of, open_area
from nestkit.layout.bounding.in_words import AREA_WHY, BARE_AREA_WHY
from nestkit.layout.bounds import Bounds, bounds_by, view_for
from nestkit.layout.build import problem_of
from nestkit.layout.proof import Bound
from nestkit.parts.panel import Panel
from nestkit.units import GRID_PER_MM, grid_mm, grid_up

SLIP = 2e-5
"""Millimetres by which outlines may be nearer than the gap and over the border: twice what is allowed."""


def bounds_by_area(group: Group, known: Bounds) -> Bounds:
    """Return bounds that hold for every layout of a group, each at least as strong as the one known."""
    built = problem_of(group)
    problem = built.problem
    reach = max(0.0, float(grid_mm(grid_up(group.gap))) - SLIP) / 2
    least_side = least_side_of(group.panels)
    need = sum(
        _grown(copy.panel, reach, least_side)
        for box, copies in zip(problem.boxes, built.copies, strict=True)
        for copy in copies[: box.quantity]
    )
    gives = tuple(_room(*stock.usable, reach) for stock in problem.stocks)
    if not need or not gives:
        return known
    view = view_for(problem, boxes_only=False)
    area = Demand(need, gives, AREA_WHY if reach else BARE_AREA_WHY)
    found = bounds_by(view, [area, *demands_of(view)])
    return Bounds(_stronger(known.sheets, found.sheets), _stronger(known.cost, found.cost))


def _stronger(one: Bound | None, two: Bound | None) -> Bound | None:
    """Return the higher of two bounds; None, for what cannot be laid at all, is higher than any."""
    if one is None or two is None:
        return None
    return two if two.value > one.value else one


def _grown(panel: Panel, reach: float, least_side: float) -> int:
    """Return the least area in square grid steps that a part takes with its share of the gaps."""
    area = panel.outline.area - open_area(panel, least_side)
    area += hull_length(panel.outline) * reach + math.pi * reach**2
    return max(0, math.floor(area * (1 - 1e-12) * GRID_PER_MM**2))


def _room(width: int, height: int, reach: float) -> int:
    """Return the area of a room grown as its parts are, its corners round."""
    w, h = (max(0, side) / GRID_PER_MM + SLIP for side in (width, height))
    area = w * h + 2 * (w + h) * reach + math.pi * reach**2
    return math.ceil(area * (1 + 1e-12) * GRID_PER_MM**2)
