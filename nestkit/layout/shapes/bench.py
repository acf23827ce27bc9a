"""What the compiled union of sums reads and writes: flat arrays, gathered under names."""

from __future__ import annotations

from typing import NamedTuple

from nestkit.layout.shapes.tables import Floats, Wholes

NODE, HEAD, SORTED = range(3)
"""Columns of ``ends``."""
CHAIN, PATH, RING, ENTRY = range(4)
"""Columns of ``walk``."""
AREA = 4
"""The column of ``piece`` that holds the areas of loops."""


class Parts(NamedTuple):
    """Convex parts of forms, counter-clockwise: corners as rows, where each part and each form begins.

    Of a corner: x, y, the run of the form's border that comes to it and the one that goes on, and 1 if the
    side from it on lies within the form.
    """

    corners: Floats
    part_first: Wholes
    form_first: Wholes


class Asked(NamedTuple):
    """Polygons that are asked for: the two forms, and the matrix of the second one, row by row."""

    forms: Wholes
    turns: Floats


class Found(NamedTuple):
    """Polygons as in ``Polygons``: rows, spans (no rows: not found), boxes."""

    rows: Floats
    spans: Wholes
    boxes: Floats


class Sums(NamedTuple):
    """Room for the sums of one polygon.

    ``side``: their sides, x0, y0, x1, y1, the unit normal to the inside, and 1 if it may be seen: 0 if it
    lies within the polygon for sure. ``first``: where each sum begins. ``order``: the sums that count.
    """

    side: Floats
    first: Wholes
    box: Floats
    order: Wholes


class Bench(NamedTuple):
    """Room for other work on one polygon.

    ``corner``: a part of the second form made ready. ``hide``: from where to where a side is covered, as
    shares of it, and which sides end this, or -1. ``piece``: what is left of sides, x0, y0, x1, y1. ``ends``
    of pieces, twice the piece, 1 more for where it stops: the first end at the same point, a count or a
    piece, an order or a place in the path. ``walk``: the next piece from the same point, the path, the pieces
    of loops, where each loop begins.
    """

    corner: Floats
    hide: Floats
    piece: Floats
    ends: Wholes
    walk: Wholes
