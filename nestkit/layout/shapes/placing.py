"""From pieces that a solver laid to copies on sheets: on millionths of a millimetre, and rests worked out."""

from __future__ import annotations

import math
from collections import deque
from fractions import Fraction
from typing import Literal

from nestkit.errors import ToolFault
from nestkit.geometry.points import Rect
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import Group
from nestkit.layout.bounds import Bounds
from nestkit.layout.build import Copy, Supply, cost_of
from nestkit.layout.cuts_named import offcut_of
from nestkit.layout.offcuts import free_rests
from nestkit.layout.reasons import unplaced_of
from nestkit.layout.result import CutSheet, Degrees, GroupLayout, PlacedPart
from nestkit.layout.sawing import Piece
from nestkit.layout.shapes.build import BuiltShapes
from nestkit.layout.shapes.covered import covered
from nestkit.layout.shapes.problem import Laid, ShapesLayout
from nestkit.layout.shapes.settled import settled
from nestkit.parts.lying import fills_box, rounded_up
from nestkit.parts.panel import Panel
from nestkit.units import grid_down, grid_mm, grid_up

FINE = 10**6
"""Places are whole millionths of a millimetre, as layout.json has them."""
DEGREE = 10**9
NUDGE = Fraction(2, FINE)
"""What rounding may take a part over the border is taken back."""


def placed_layout(
    built: BuiltShapes, laid: ShapesLayout, bounds: Bounds, engine: Literal["plain", "compiled"]
) -> GroupLayout:
    """Return a layout of pieces as one of copies: those asked for first, spares after them, extras last.

    Raises :class:`~nestkit.errors.ToolFault` where there are more pieces than copies. The result is not
    verified.
    """
    waiting = [deque(copies) for copies in built.copies]
    numbers: dict[str, int] = {}
    sheets = []
    for plate in laid.plates:
        supply = built.supplies[plate.plate]
        numbers[supply.sheet.name] = number = numbers.get(supply.sheet.name, 0) + 1
        parts = []
        for piece in plate.pieces:
            if not waiting[piece.kind]:
                raise ToolFault("a layout has more pieces of a kind than there are copies")
            parts.append(placed_part(built, supply, piece, waiting[piece.kind].popleft()))
        sheets.append(_sheet(built, supply, number, tuple(parts)))
    missing = zip(waiting, laid.left, strict=True)
    unplaced = unplaced_of(built.group, [c for queue, left in missing for c in list(queue)[:left]])
    known = Bounds(None, None) if unplaced else bounds
    cost = sum((s.cost for s in sheets), Fraction(0))
    return GroupLayout(
        built.group, built.cost_in, tuple(sheets), unplaced, cost, known.sheets, known.cost, engine
    )


def _sheet(built: BuiltShapes, supply: Supply, number: int, parts: tuple[PlacedPart, ...]) -> CutSheet:
    still = tuple(sorted(settled(parts, built.group.gap), key=lambda p: (p.y, p.x)))
    cost = cost_of(supply, built.cost_in)
    rests = free_rests(
        Piece(0, 0, grid_down(supply.sheet.width), grid_down(supply.sheet.height)),
        covered(still),
        grid_up(built.group.gap),
    )
    return CutSheet(
        supply.sheet, number, supply.on_hand, cost, still, tuple(offcut_of(rest) for rest in rests), ()
    )


def placed_part(built: BuiltShapes, supply: Supply, piece: Laid, copy: Copy) -> PlacedPart:
    """Return the copy that a piece on a sheet is, in its place."""
    panel, turn = copy.panel, turn_of(piece.turn_deg)
    box = _box_of(panel, turn, copy.opposite_hand, mirrored=piece.mirrored)
    width, height = (
        (grid_mm(grid_up(panel.width)), grid_mm(grid_up(panel.height)))
        if turn % 90 == 0
        else (rounded_up(box.width), rounded_up(box.height))
    )
    if turn % 180 == 90:
        width, height = height, width
    low, high = _room(built, supply, box, (width, height), exact=turn % 90 == 0)
    x = _held(float(low[0]) + piece.x + box.left, low[0], high[0])
    y = _held(float(low[1]) + piece.y + box.bottom, low[1], high[1])
    mirrored = copy.opposite_hand != piece.mirrored
    return PlacedPart(panel, copy.number, mirrored, x, y, turn, width, height)


def place_of(group: Group, part: PlacedPart, copy: Copy) -> tuple[float, float]:
    """Return the place of the piece that a copy is where it lies: what :func:`placed_part` makes of it."""
    mirrored = part.opposite_hand != copy.opposite_hand
    box = _box_of(part.panel, part.turn, copy.opposite_hand, mirrored=mirrored)
    left, bottom = (float(grid_mm(grid_up(m))) for m in (group.margin.left, group.margin.bottom))
    return float(part.x) - left - box.left, float(part.y) - bottom - box.bottom


def _box_of(panel: Panel, turn: Degrees, opposite: bool, *, mirrored: bool) -> Rect:
    """Return the box of a copy of that hand about its shape's origin, mirrored if so said, then turned."""
    shape = panel.outline
    if turn % 90 == 0 and fills_box(panel):
        shape = rectangle(*(float(grid_mm(grid_up(s))) for s in (panel.width, panel.height)))
    elif opposite:
        shape = shape.mirrored(float(panel.width))
    return (shape.mirrored(0.0) if mirrored else shape).turned(float(turn)).bounds


def turn_of(angle_deg: float) -> Degrees:
    """Return an angle as layout.json has it: a whole number for quarter turns, else nine decimals."""
    turn = Fraction(round(angle_deg * DEGREE), DEGREE) % 360
    return int(turn) if turn % 90 == 0 else turn


def _room(
    built: BuiltShapes, supply: Supply, box: Rect, size: tuple[Fraction, Fraction], *, exact: bool
) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
    """Return the lowest and the highest place for the lower left of a box inside the margins."""
    margin, sheet = built.group.margin, supply.sheet
    low = grid_mm(grid_up(margin.left)), grid_mm(grid_up(margin.bottom))
    right = grid_mm(grid_down(sheet.width) - grid_up(margin.right))
    top = grid_mm(grid_down(sheet.height) - grid_up(margin.top))
    across, up = size if exact else (Fraction(box.width), Fraction(box.height))
    return low, (right - across, top - up)


def _held(value: float, low: Fraction, high: Fraction) -> Fraction:
    """Return a place as a whole number of millionths, not over the border by rounding alone."""
    place = Fraction(round(value * FINE), FINE)
    if low - NUDGE <= place < low:
        return low
    if high < place <= high + NUDGE:
        return Fraction(math.floor(high * FINE), FINE)
    return place
