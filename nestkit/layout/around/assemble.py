"""From filled sheets to a group's layout: copies named, sheets numbered, cuts and offcuts drawn up."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Literal

from nestkit.layout.around.cuts import plan_around
from nestkit.layout.around.plate import Plate
from nestkit.layout.around.scene import Number, Scene, box_of
from nestkit.layout.bounds import Bounds
from nestkit.layout.build import Copy
from nestkit.layout.cuts import saw_plan
from nestkit.layout.cuts_named import named_cuts, offcut_of
from nestkit.layout.offcuts import free_rests, least_side, worth_keeping
from nestkit.layout.reasons import unplaced_of
from nestkit.layout.rects.room import Place
from nestkit.layout.result import Cut, CutSheet, GroupLayout, Offcut, PlacedPart, Unplaced
from nestkit.layout.sawing import Piece
from nestkit.units import grid_down, grid_mm


@dataclass(frozen=True, slots=True)
class Ready:
    """A sheet by its stock in the problem and its number, and what lies on it."""

    stock: int
    number: int
    parts: tuple[PlacedPart, ...]


def readied(scene: Scene, plates: Sequence[Plate]) -> list[Ready]:
    """Return plates with the copies that lie on them: needed ones first, extras last."""
    needed, extras = scene.copies_left([p for plate in plates for p in plate.fixed])
    waiting = [deque([*a, *b]) for a, b in zip(needed, extras, strict=True)]
    found = []
    for plate in plates:
        laid = [part_of(scene, box, place, waiting[box].popleft()) for box, place in plate.laid]
        found.append(Ready(plate.stock, plate.number, (*plate.fixed, *laid)))
    return found


def part_of(scene: Scene, box: int, place: Place, copy: Copy) -> PlacedPart:
    """Return a copy at a place, which is in grid steps of the whole sheet."""
    x, y, _, _, turn = place
    width, height = scene.built.problem.boxes[box].size(turn)
    return PlacedPart(
        copy.panel, copy.number, copy.opposite_hand, grid_mm(x), grid_mm(y), turn, grid_mm(width),
        grid_mm(height),
    )  # fmt: skip


def renumbered(scene: Scene, sheets: Sequence[Ready]) -> list[Ready]:
    """Return sheets of which those with nothing of their own have the lowest numbers, in the job's order."""
    found = []
    for index, supply in enumerate(scene.built.supplies):
        sheet = supply.sheet
        special = scene.special[sheet.name]
        own = sorted((s for s in sheets if s.stock == index), key=lambda s: s.number)
        number = 0 if supply.on_hand else sheet.on_hand
        for ready in own:
            if ready.number in special:
                found.append(ready)
                continue
            number += 1
            while number in special:
                number += 1
            found.append(Ready(index, number, ready.parts))
    order = {s.name: i for i, s in enumerate(scene.group.sheets)}
    return sorted(found, key=lambda s: (order[scene.built.supplies[s.stock].sheet.name], s.number))


def assembled(
    scene: Scene,
    sheets: Sequence[Ready],
    bounds: Bounds,
    engine: Literal["plain", "compiled"],
    *,
    true_shapes: bool,
) -> GroupLayout:
    """Return the layout of a group; bounds are left out while a part has no place. It is not verified."""
    cut = tuple(_sheet(scene, ready, true_shapes=true_shapes) for ready in renumbered(scene, sheets))
    unplaced = _unplaced(scene, cut)
    known = Bounds(None, None) if unplaced else bounds
    cost = sum((s.cost for s in cut), Fraction(0))
    return GroupLayout(
        scene.group, scene.built.cost_in, cut, unplaced, cost, known.sheets, known.cost, engine
    )


def _sheet(scene: Scene, ready: Ready, *, true_shapes: bool) -> CutSheet:
    supply, problem = scene.built.supplies[ready.stock], scene.built.problem
    parts = tuple(sorted(ready.parts, key=lambda p: (p.y, p.x)))
    offcuts, cuts = _cut_up(scene, (supply.sheet.name, ready.number), parts, true_shapes=true_shapes)
    cost = problem.stocks[ready.stock].cost
    return CutSheet(supply.sheet, ready.number, supply.on_hand, cost, parts, offcuts, cuts)


def _cut_up(
    scene: Scene, number: Number, parts: Sequence[PlacedPart], *, true_shapes: bool
) -> tuple[tuple[Offcut, ...], tuple[Cut, ...]]:
    """Return a sheet's offcuts, which no region meets, and under a saw its cuts."""
    problem, clear = scene.built.problem, scene.clear(*number)
    stock = next(s for s in scene.group.sheets if s.name == number[0])
    sheet = Piece(0, 0, grid_down(stock.width), grid_down(stock.height))
    if not problem.edge_to_edge:
        pieces = [Piece(*box_of(p)) for p in parts]
        if true_shapes:
            # Shapely is loaded only by jobs that need it.
            from nestkit.layout.shapes.covered import covered

            pieces = covered(parts)
        rests = free_rests(sheet, [*pieces, *(Piece(*box) for box in clear)], problem.gap)
        return tuple(offcut_of(r) for r in rests), ()
    # Parts beside which a region lies are apart by the kerf alone.
    plan_of = partial(plan_around, clear=clear) if clear else partial(saw_plan, gap=problem.kerf)
    plan = plan_of(
        sheet,
        [Piece(*box_of(p)) for p in parts],
        kerf=problem.kerf,
        first=problem.first,
        prefer=problem.prefer,
        least_rest=least_side(),
        depth=problem.depth,
    )
    return tuple(offcut_of(r) for r in worth_keeping(plan.rests)), named_cuts(plan)


def _unplaced(scene: Scene, sheets: Sequence[CutSheet]) -> tuple[Unplaced, ...]:
    """Return the needed copies without a place, in job order, each with the reason."""
    needed, _ = scene.copies_left([p for s in sheets for p in s.parts])
    return unplaced_of(scene.group, [c for row in needed for c in row])
