"""Sheets on which copies are held and regions kept clear, as plates with what is fixed on them."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from nestkit.job.model import Group
from nestkit.layout.around.assemble import Ready
from nestkit.layout.around.scene import CopyKey, Scene, copy_key
from nestkit.layout.build import Copy, Supply
from nestkit.layout.result import PlacedPart
from nestkit.layout.shapes.build import BuiltShapes, openings_for_parts, part_shape
from nestkit.layout.shapes.outwards import shape_of
from nestkit.layout.shapes.placing import place_of
from nestkit.layout.shapes.problem import Fixed, Kind, Laid, LaidPlate, Plate, Shape, ShapesLayout
from nestkit.stock.keep_clear import KeepClear
from nestkit.units import grid_mm, grid_up

ROUNDED = 2e-6
"""Millimetres that are kept from a region besides: places are rounded to millionths after."""


@dataclass(frozen=True, slots=True)
class Marked:
    """A problem of true shapes around what is fixed, and what its kinds of plates are.

    Each has its stock in the scene's problem, and a number where it is one sheet of which something of its
    own is asked.
    """

    built: BuiltShapes
    stocks: tuple[int, ...]
    numbers: tuple[int | None, ...]

    def plate_of(self, ready: Ready) -> int:
        """Return the kind of plate that a sheet is."""
        kinds = list(zip(self.stocks, self.numbers, strict=True))
        own = (ready.stock, ready.number)
        return kinds.index(own) if own in kinds else kinds.index((ready.stock, None))


def marked_problem(scene: Scene, built: BuiltShapes, laid: Collection[CopyKey]) -> Marked:
    """Return a problem without the copies that are laid elsewhere or held, around all that is fixed."""
    taken = {*laid, *(copy_key(p) for parts in scene.held.values() for p in parts)}
    kinds, copies = [], []
    for kind, own in zip(built.problem.kinds, built.copies, strict=True):
        rows = own[: kind.count], own[kind.count :]
        needed, extras = ([c for c in row if copy_key(c) not in taken] for row in rows)
        if needed or extras:
            kinds.append(replace(kind, count=len(needed), extras=len(extras)))
            copies.append((*needed, *extras))
    plates: list[Plate] = []
    what: list[tuple[Supply, int, int | None]] = []
    for plate, supply in zip(built.problem.plates, built.supplies, strict=True):
        stock = scene.built.supplies.index(supply)
        for number, one in _plates(scene, plate, supply, len(plates)):
            plates.append(one)
            what.append((supply, stock, number))
    problem = replace(built.problem, kinds=tuple(kinds), plates=tuple(plates))
    supplies = tuple(supply for supply, _, _ in what)
    found = replace(built, problem=problem, copies=tuple(copies), supplies=supplies)
    return Marked(found, tuple(stock for _, stock, _ in what), tuple(number for _, _, number in what))


def _plates(scene: Scene, plate: Plate, supply: Supply, first: int) -> list[tuple[int | None, Plate]]:
    """Return the kinds of plates of a supply: those like any other, then each of which more is asked.

    ``first`` is the number of the first of them among all.
    """
    sheet = supply.sheet
    special, held = scene.special[sheet.name], scene.held_numbers(sheet.name)
    own = sorted(n for n in special if (n <= sheet.on_hand) is supply.on_hand)
    count = sheet.on_hand - len(own) if supply.on_hand else None
    found: list[tuple[int | None, Plate]] = []
    if count != 0:
        found.append((None, replace(plate, count=count, fixed=_fixed(scene, supply, 0))))
    before: list[tuple[int, int]] = []
    for n, number in enumerate(own):
        one = replace(plate, count=1, fixed=_fixed(scene, supply, number))
        if not supply.on_hand and number not in held:
            # Sheets are bought one after the other: none but those that hold copies comes before its turn.
            one = replace(one, after=((first, number - sheet.on_hand - 1 - n), *before))
            before.append((first + len(found), 1))
        found.append((number, one))
    return found


def _fixed(scene: Scene, supply: Supply, number: int) -> tuple[Fixed, ...]:
    """Return what is fixed on a sheet by its number, on all by 0."""
    group, name = scene.group, supply.sheet.name
    kerf = float(grid_mm(grid_up(group.way.kerf))) + ROUNDED
    regions = (
        Fixed(_region_shape(group, r), 0.0, 0.0, apart=kerf, region=True)
        for r in supply.sheet.clear_on(number)
    )
    return (*regions, *(_held(group, part) for part in scene.held.get((name, number), ())))


def _region_shape(group: Group, region: KeepClear) -> Shape:
    """Return a region in the frame of the sheet's room: a box as it is in grid steps, a disc in tangents."""
    if region.disc:
        ring = shape_of(region.outline()).outer
    else:
        left, bottom, right, top = (float(grid_mm(side)) for side in region.steps)
        ring = ((left, bottom), (right, bottom), (right, top), (left, top))
    x, y = (float(grid_mm(grid_up(m))) for m in (group.margin.left, group.margin.bottom))
    return Shape(tuple((a - x, b - y) for a, b in ring))


def _held(group: Group, part: PlacedPart) -> Fixed:
    made = [p for p in group.panels if p.made]
    shape = part_shape(part.panel, part.opposite_hand, openings_for_parts(part.panel, made, group.gap))
    x, y = place_of(group, part, Copy(part.panel, part.copy, part.opposite_hand))
    return Fixed(shape, x, y, float(part.turn))


def started(marked: Marked, sheets: Sequence[Ready]) -> tuple[Marked, ShapesLayout]:
    """Return sheets as a layout of pieces, and the problem with the angles that these lie at.

    What is held is no piece, and what has no place there is left.
    """
    built = marked.built
    kind_of = {copy_key(c): (k, c) for k, copies in enumerate(built.copies) for c in copies}
    kinds = list(built.problem.kinds)
    laid = [0] * len(kinds)
    plates = []
    for ready in sheets:
        pieces = []
        for part in (p for p in ready.parts if not p.held):
            k, copy = kind_of[copy_key(part)]
            turn = float(part.turn)
            x, y = place_of(built.group, part, copy)
            pieces.append(Laid(k, x, y, turn, part.opposite_hand != copy.opposite_hand))
            kinds[k] = _with_turn(kinds[k], turn)
            laid[k] += 1
        plates.append(LaidPlate(marked.plate_of(ready), tuple(pieces)))
    left = tuple(max(0, kind.count - n) for kind, n in zip(kinds, laid, strict=True))
    problem = replace(built.problem, kinds=tuple(kinds))
    return replace(marked, built=replace(built, problem=problem)), ShapesLayout(tuple(plates), left)


def _with_turn(kind: Kind, turn: float) -> Kind:
    return kind if turn in kind.turns else replace(kind, turns=(*kind.turns, turn))
