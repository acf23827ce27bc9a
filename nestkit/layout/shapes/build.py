"""From a group of panels and sheets to problems of true shapes, and which copies their pieces are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.geometry.outline import Outline, Vertex
from nestkit.job.model import Group
from nestkit.layout.bounding.hulls import least_side_of
from nestkit.layout.build import Copy, Supply, copies_of, cost_of, cost_unit, supplies_of
from nestkit.layout.result import GroupLayout
from nestkit.layout.shapes.outwards import shape_of
from nestkit.layout.shapes.problem import Kind, Laid, LaidPlate, Plate, Shape, ShapesLayout, ShapesProblem
from nestkit.parts.lying import fills_box
from nestkit.parts.panel import Panel, allowed_turns
from nestkit.units import grid_down, grid_mm, grid_up

STRAY = 0.5
"""Millimetres by which chords may stray where only the longest way across an opening is asked for."""
SAME = 1e-9
NEARLY = 0.95
"""A part that fills this much of its box is laid by it, unless it may lie at any angle."""


@dataclass(frozen=True, slots=True)
class BuiltShapes:
    """A problem and what its numbers mean.

    ``copies[k]`` are the copies that pieces of kind ``k`` are, the needed ones first in the order in which
    they are to find a place; the last ``kinds[k].extras`` are those laid only if there is room.
    """

    group: Group
    problem: ShapesProblem
    supplies: tuple[Supply, ...]
    copies: tuple[tuple[Copy, ...], ...]
    cost_in: Literal["price", "m2"]


def uses_shapes(group: Group) -> bool:
    """Say whether true shapes may lie closer than boxes: any path can be cut, and some part is no box."""
    if group.way.edge_to_edge or group.off_a_roll:
        return False
    made = [p for p in group.panels if p.made]
    return any(p.turn == "any" or _leaves_room(p) or openings_for_parts(p, made, group.gap) for p in made)


def _leaves_room(panel: Panel) -> bool:
    """Say whether a part leaves more of its box than rounded or cut corners do."""
    return panel.outline.area < NEARLY * float(panel.width * panel.height)


def openings_for_parts(panel: Panel, panels: Sequence[Panel], gap: Fraction) -> tuple[Outline, ...]:
    """Return the openings of a panel in which some panel might lie, the gap around it."""
    room = 2 * float(gap)
    found = []
    for opening in panel.openings:
        box = opening.outline.bounds
        points = opening.outline.flattened(STRAY)
        across = min(box.width, box.height)
        longest = max(a.to(b) for a in points for b in points) + 2 * STRAY
        if any(
            least_side_of([p]) + room <= across and float(max(p.width, p.height)) + room <= longest
            for p in panels
        ):
            found.append(opening.outline)
    return tuple(found)


def problems_of(group: Group) -> tuple[BuiltShapes, ...]:
    """Return the problems of a group, one for all sheets on which the same turns are allowed.

    Turns are those of a piece on any sheet, so sheets whose grain runs another way are a problem of their
    own.
    """
    made = [p for p in group.panels if p.made]
    by_turns: dict[tuple[tuple[int, ...], ...], list[Supply]] = {}
    for supply in supplies_of(group):
        turns = tuple(allowed_turns(p.turn, p.grain, supply.sheet.grain) for p in made)
        by_turns.setdefault(turns, []).append(supply)
    return tuple(_problem(group, made, turns, tuple(supplies)) for turns, supplies in by_turns.items())


def _problem(
    group: Group, panels: list[Panel], turns: tuple[tuple[int, ...], ...], supplies: tuple[Supply, ...]
) -> BuiltShapes:
    cost_in = cost_unit(group)
    gap = float(grid_mm(grid_up(group.gap)))
    grained = any(s.sheet.grain != "none" for s in supplies)
    found: dict[tuple[Shape, tuple[int, ...], bool, bool], list[list[Copy]]] = {}
    for panel, may_turn in zip(panels, turns, strict=True):
        free = panel.turn == "any" and not (grained and panel.grain != "none")
        over = panel.faces == "alike" and not panel.marks
        for row, copies in enumerate(copies_of(panel)):
            for opposite in sorted({c.opposite_hand for c in copies}):
                shape = part_shape(panel, opposite, openings_for_parts(panel, panels, group.gap))
                rows = found.setdefault((shape, may_turn, free, over), [[], [], []])
                rows[row] += [c for c in copies if c.opposite_hand == opposite]
    kinds = tuple(
        Kind(shape, len(asked) + len(spares), tuple(map(float, may)), free, over, len(extras))
        for (shape, may, free, over), (asked, spares, extras) in found.items()
    )
    order = tuple((*asked, *spares, *extras) for asked, spares, extras in found.values())
    plates = tuple(_plate(group, s, cost_in) for s in supplies)
    return BuiltShapes(group, ShapesProblem(kinds, plates, gap), supplies, order, cost_in)


def laid_by_boxes(built: BuiltShapes, boxes: GroupLayout) -> ShapesLayout | None:
    """Return a layout of boxes as one of true shapes; None where sheets of another problem are used."""
    number = {(s.sheet.name, s.on_hand): n for n, s in enumerate(built.supplies)}
    kind_of = {
        (c.panel.name, c.number, c.opposite_hand): k for k, copies in enumerate(built.copies) for c in copies
    }
    margin = built.group.margin
    left, bottom = (float(grid_mm(grid_up(m))) for m in (margin.left, margin.bottom))
    plates = []
    laid = [0] * len(built.copies)
    for sheet in boxes.sheets:
        if (sheet.stock.name, sheet.on_hand) not in number:
            return None
        pieces = []
        for part in sheet.parts:
            kind = kind_of[part.panel.name, part.copy, part.opposite_hand]
            ring = built.problem.kinds[kind].shape.outer
            box = Outline(tuple(Vertex(x, y) for x, y in ring)).turned(float(part.turn)).bounds
            x, y = float(part.x) - left - box.left, float(part.y) - bottom - box.bottom
            pieces.append(Laid(kind, x, y, float(part.turn)))
            laid[kind] += 1
        plates.append(LaidPlate(number[sheet.stock.name, sheet.on_hand], tuple(pieces)))
    left_over = tuple(max(0, k.count - n) for k, n in zip(built.problem.kinds, laid, strict=True))
    return ShapesLayout(tuple(plates), left_over)


def part_shape(panel: Panel, opposite: bool, openings: tuple[Outline, ...]) -> Shape:
    """Return the shape of a panel of either hand, with those of its openings that parts may lie in."""

    def shown(outline: Outline) -> Outline:
        return outline.mirrored(float(panel.width)) if opposite else outline

    shape = shape_of(shown(panel.outline), map(shown, openings))
    if not fills_box(panel):
        return shape
    # What is finer than the grid is made up to it, as where boxes are laid.
    width, height = (float(grid_mm(grid_up(side))) for side in (panel.width, panel.height))
    return Shape(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)), shape.openings)


def _plate(group: Group, supply: Supply, cost_in: Literal["price", "m2"]) -> Plate:
    margin, sheet = group.margin, supply.sheet
    # A part whose box is finer than the grid reaches up to a step further than its outline.
    step = int(any(not _on_grid(p) for p in group.panels))
    width = grid_down(sheet.width) - grid_up(margin.left) - grid_up(margin.right) - step
    height = grid_down(sheet.height) - grid_up(margin.bottom) - grid_up(margin.top) - step
    return Plate(
        float(grid_mm(width)),
        float(grid_mm(height)),
        cost_of(supply, cost_in),
        supply.sheet.on_hand if supply.on_hand else None,
    )


def _on_grid(panel: Panel) -> bool:
    """Say whether an outline is as large as its box, whose sides are whole steps of the grid."""
    box = panel.outline.bounds
    sides = (panel.width, box.width), (panel.height, box.height)
    return all(abs(float(grid_mm(grid_up(side))) - drawn) < SAME for side, drawn in sides)
