"""Whether a layout of true shapes can be made as it stands. Trusts no solver and imports none.

What :mod:`nestkit.layout.verify` says of copies, stock, prices and bounds holds here too. Places are judged
on the panels' own outlines with their true arcs, mirrored, turned and moved as layout.json has it.
Distances are shapely's where edges are straight, by exact formulas where an arc is near; 1e-5 mm may lack.
What lies as an upright box is judged to the last digit. The first thing found wrong is raised.
"""

from __future__ import annotations

from fractions import Fraction

from nestkit.errors import ToolFault
from nestkit.geometry.clearance import Body, too_near
from nestkit.geometry.points import Rect
from nestkit.geometry.shapes import box_outline
from nestkit.layout.result import CutSheet, GroupLayout, PlacedPart
from nestkit.layout.shapes.lying import body_of, lies_as_box
from nestkit.layout.verify import near_pairs, verify_lists
from nestkit.layout.verify_marks import verify_clear
from nestkit.parts.panel import Panel, allowed_turns
from nestkit.stock.sheet import Sheet
from nestkit.units import grid_down, grid_mm, grid_up

SLIP = 1e-5
"""Millimetres by which true outlines may miss."""
MILLIONTHS, BILLIONTHS = 10**6, 10**9
"""Places have six decimals, turns nine."""


def verify_shapes(layout: GroupLayout) -> None:
    """Raise :class:`~nestkit.errors.ToolFault` naming what is wrong; return if nothing is."""
    group = layout.group
    if group.way.edge_to_edge or group.off_a_roll:
        raise ToolFault("true shapes are laid where cuts run from edge to edge, or off a roll")
    verify_lists(layout)
    gap = grid_mm(grid_up(group.gap))
    for sheet in layout.sheets:
        for part in sheet.parts:
            _verify_turn(sheet, part)
            _verify_written(sheet, part)
        bodies = [body_of(p) for p in sheet.parts]
        for part, body in zip(sheet.parts, bodies, strict=True):
            _verify_inside(layout, sheet, part, body)
        _verify_boxes_apart(sheet, gap)
        for i, j, away in too_near(bodies, float(gap), SLIP):
            one, other = _named(sheet, sheet.parts[i]), _named(sheet, sheet.parts[j])
            raise ToolFault(f"{one} and {other} overlap or are nearer than the gap: {away:.6f} mm")
        _verify_rests(sheet, bodies, float(gap))
        verify_clear(layout, sheet)


def _name(sheet: CutSheet) -> str:
    return f'sheet "{sheet.stock.name}" {sheet.number}'


def _named(sheet: CutSheet, part: PlacedPart) -> str:
    return f'{_name(sheet)}: "{part.panel.name}" {part.copy}'


def _verify_turn(sheet: CutSheet, part: PlacedPart) -> None:
    """A part is turned as turn and grain allow; one with no grain to keep and turn "any" by any angle."""
    if not 0 <= part.turn < 360:
        raise ToolFault(
            f"{_named(sheet, part)} is turned by {part.turn} degrees, not by less than a whole turn"
        )
    if _any_turn(part.panel, sheet.stock):
        return
    if part.turn not in allowed_turns(part.panel.turn, part.panel.grain, sheet.stock.grain):
        turned = f"{_named(sheet, part)} is turned by {float(part.turn):g} degrees"
        raise ToolFault(f"{turned}, which turn and grain do not allow")


def _any_turn(panel: Panel, stock: Sheet) -> bool:
    return panel.turn == "any" and "none" in (panel.grain, stock.grain)


def _verify_written(sheet: CutSheet, part: PlacedPart) -> None:
    """Places have at most six decimals and turns nine, so that what is judged is what is written."""
    numbers = (part.x * MILLIONTHS, part.y * MILLIONTHS, part.turn * BILLIONTHS)
    if any(Fraction(n).denominator != 1 for n in numbers):
        raise ToolFault(f"{_named(sheet, part)} has a place or a turn finer than can be written")


def _verify_inside(layout: GroupLayout, sheet: CutSheet, part: PlacedPart, body: Body) -> None:
    """A part has the size of its panel as it lies, and lies inside the border."""
    margin, name, box = layout.group.margin, _named(sheet, part), body.outline.bounds
    room = (
        grid_mm(grid_up(margin.left)),
        grid_mm(grid_up(margin.bottom)),
        grid_mm(grid_down(sheet.stock.width) - grid_up(margin.right)),
        grid_mm(grid_down(sheet.stock.height) - grid_up(margin.top)),
    )
    over = _over(tuple(map(Fraction, box)), room, Fraction(SLIP))
    if part.turn % 90 == 0:
        size = grid_mm(grid_up(part.panel.width)), grid_mm(grid_up(part.panel.height))
        right_size = (part.width, part.height) == (size[::-1] if part.turn % 180 else size)
        over = over or _over((part.x, part.y, part.x + part.width, part.y + part.height), room, Fraction(0))
    else:
        right_size = max(abs(float(part.width) - box.width), abs(float(part.height) - box.height)) <= SLIP
    if not right_size:
        raise ToolFault(f"{name} has not the size of its panel")
    if over:
        raise ToolFault(f"{name} lies over the sheet's border")


def _over(box: tuple[Fraction, ...], room: tuple[Fraction, ...], slip: Fraction) -> bool:
    low = any(a < b - slip for a, b in zip(box[:2], room[:2], strict=True))
    return low or any(a > b + slip for a, b in zip(box[2:], room[2:], strict=True))


def _verify_boxes_apart(sheet: CutSheet, gap: Fraction) -> None:
    """Parts that are upright boxes keep the gap to the last digit, but for those in openings of others."""
    rows = []
    for part in sheet.parts:
        if lies_as_box(part):
            x, y = part.x * MILLIONTHS, part.y * MILLIONTHS
            far = x + part.width * MILLIONTHS, y + part.height * MILLIONTHS
            rows.append(((int(x), int(y), int(far[0]), int(far[1])), _named(sheet, part)))
    for (a, name), (b, other) in near_pairs(rows, int(gap * MILLIONTHS)):
        raise ToolFault(f"{name} and {other} overlap or are nearer than the gap: {a}, {b}")


def _verify_rests(sheet: CutSheet, bodies: list[Body], gap: float) -> None:
    """Offcuts lie on the sheet, apart from each other and at least the gap away from every part."""
    where = _name(sheet)
    if sheet.cuts:
        raise ToolFault(f"{where}: saw cuts in a layout that is not sawn")
    rests = []
    for o in sheet.offcuts:
        if min(o.x, o.y) < 0 or o.x + o.width > sheet.stock.width or o.y + o.height > sheet.stock.height:
            raise ToolFault(f"{where}: an offcut hangs over the sheet")
        box = Rect(*(float(v) for v in (o.x, o.y, o.x + o.width, o.y + o.height)))
        rests.append(Body(box_outline(box)))
    if too_near(rests, 0.0, SLIP):
        raise ToolFault(f"{where}: two offcuts overlap")
    for i, j, _ in too_near([*bodies, *rests], gap, SLIP):
        if i < len(bodies) <= j:
            name = _named(sheet, sheet.parts[i])
            raise ToolFault(f"{where}: offcut {j - len(bodies) + 1} is nearer to {name} than the gap")
