"""What saw cuts must leave whole on a sheet, and whether cuts from edge to edge can do so."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from nestkit.geometry.edge_to_edge import Box, stages_beside
from nestkit.stock.sheet import Sheet
from nestkit.units import grid_down

AXES = {"x": (1,), "y": (0,), "any": (1, 0)}
"""Across which axes (0: x, 1: y) the first cut that parts parts may go, by the direction it runs along."""


def sawn_regions(sheet: Sheet, number: int, kerf: int) -> list[Box]:
    """Return the boxes in grid steps that saw cuts leave whole; regions less than a kerf apart are one."""
    width, height = grid_down(sheet.width), grid_down(sheet.height)
    found: list[Box] = []
    for region in sheet.clear_on(number):
        left, bottom, right, top = region.steps
        box = max(left, 0), max(bottom, 0), min(right, width), min(top, height)
        while near := [b for b in found if _closer(b, box, kerf)]:
            found = [b for b in found if b not in near]
            near.append(box)
            box = (
                min(b[0] for b in near), min(b[1] for b in near),
                max(b[2] for b in near), max(b[3] for b in near),
            )  # fmt: skip
        found.append(box)
    return sorted(found)


def _closer(a: Box, b: Box, kerf: int) -> bool:
    return max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3]) < kerf


def cuts_free(
    parts: Sequence[Box], clear: Sequence[Box], kerf: int, depth: float, first: Sequence[int]
) -> bool:
    """Say whether cuts from edge to edge free parts and leave what is kept clear whole, in grid steps."""
    grown, kept = ([(a, b, c + kerf, d + kerf) for a, b, c, d in rows] for rows in (parts, clear))
    need = min(stages_beside(grown, kept, axis, first) for axis in (0, 1))
    return need <= depth and need < inf
