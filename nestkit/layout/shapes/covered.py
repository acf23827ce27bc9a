"""What of a sheet its parts cover, as upright boxes: what is left between them can be kept."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

import shapely

from nestkit.geometry.clearance import COARSE, Body
from nestkit.geometry.overlay import common
from nestkit.layout.result import PlacedPart
from nestkit.layout.sawing import Piece
from nestkit.layout.shapes.lying import body_of
from nestkit.units import GRID_PER_MM

SLABS, SLABS_OF_ALL = 8, 240
"""A part is cut into so many slabs at most, all parts of a sheet together into about so many."""
NOISE = Fraction(1, 10_000)
"""Grid steps that floats are out by."""
FULL = 0.97
"""A part that fills this much of its box is taken for it."""


def covered(parts: Sequence[PlacedPart]) -> list[Piece]:
    """Return boxes, in grid steps, that hold all parts: slabs of those that leave much of their own box."""
    if not parts:
        return []
    slabs = max(1, min(SLABS, SLABS_OF_ALL // len(parts)))
    return [box for part in parts for box in _boxes(part, body_of(part), slabs)]


def _boxes(part: PlacedPart, body: Body, slabs: int) -> list[Piece]:
    box, area = body.outline.bounds, shapely.Polygon(body.coarse.exterior)
    # An outline may cross itself by less than chords stray: its box will do.
    if slabs == 1 or not area.is_valid or area.area >= FULL * box.width * box.height:
        return [_whole(part.x, part.y, part.x + part.width, part.y + part.height)]
    stray = Fraction(COARSE) if body.round else Fraction(0)
    # A part that is tall is cut across, one that is wide is cut along.
    tall = box.height >= box.width
    found = []
    for i in range(slabs):
        low, high = i / slabs, (i + 1) / slabs
        if tall:
            cut = (box.left, box.bottom + low * box.height, box.right, box.bottom + high * box.height)
        else:
            cut = (box.left + low * box.width, box.bottom, box.left + high * box.width, box.top)
        slab = common(area, shapely.box(*cut))
        for bounds in (piece.bounds for piece in shapely.get_parts(slab)):
            left, bottom, right, top = map(Fraction, bounds)
            found.append(_whole(left - stray, bottom - stray, right + stray, top + stray))
    return found


def _whole(left: Fraction, bottom: Fraction, right: Fraction, top: Fraction) -> Piece:
    """Return the box of whole grid steps around a box; what a float is out by makes no step."""
    low = (math.floor(v * GRID_PER_MM + NOISE) for v in (left, bottom))
    high = (math.ceil(v * GRID_PER_MM - NOISE) for v in (right, top))
    return Piece(*low, *high)
