"""The sheets of which nothing is asked, laid by true shapes beside those that are laid by boxes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from nestkit.layout.around.assemble import Ready
from nestkit.layout.around.rest import is_plain, numbers_for, plain_count
from nestkit.layout.around.scene import HandKey, Scene, hand_of
from nestkit.layout.bounds import Bounds
from nestkit.layout.efforts import Effort
from nestkit.layout.result import CutSheet, GroupLayout
from nestkit.layout.shapes.build import BuiltShapes, laid_by_boxes, problems_of
from nestkit.layout.shapes.lay_out import ShapesSolver
from nestkit.layout.shapes.placing import placed_layout
from nestkit.layout.shapes.problem import Least
from nestkit.parts.panel import Panel

_Copy = tuple[HandKey, int]


def rest_by_shape(
    scene: Scene,
    sheets: Sequence[Ready],
    solver: ShapesSolver,
    *,
    seed: int,
    effort: Effort,
    stop: Callable[[], bool],
) -> list[Ready]:
    """Return sheets of which the plain ones are laid by true shapes, where that saves cost or sheets.

    Copies that have no place yet are tried too.
    """
    plain = [s for s in sheets if is_plain(scene, s.stock, s.number) and not any(p.held for p in s.parts)]
    others = [s for s in sheets if s not in plain]
    taken = [(s.stock, s.number) for s in sheets]
    best, least = list(sheets), _worth(scene, plain, _missing(scene, sheets))
    laid = {_named(p.panel, p.opposite_hand, p.copy) for s in others for p in s.parts}
    for built in problems_of(scene.group):
        part = _without(scene, built, laid, taken)
        if not part.problem.plates or not part.copies:
            continue
        start = laid_by_boxes(part, _as_layout(scene, plain)) if plain else None
        found = solver(
            part.problem, seed=seed, effort=effort, stop=stop, on_event=lambda layout: None, start=start,
            least=Least(),
        )  # fmt: skip
        placed = placed_layout(part, found, Bounds(None, None), "plain")
        rows = _ready(scene, placed, [(s.stock, s.number) for s in others])
        worth = _worth(scene, rows, len(placed.unplaced))
        if worth < least:
            best, least = [*others, *rows], worth
    return best


def _named(panel: Panel, opposite: bool, copy: int) -> _Copy:
    return hand_of(panel, opposite), copy


def _worth(scene: Scene, sheets: Sequence[Ready], missing: int) -> tuple[int, Fraction, int]:
    stocks = scene.built.problem.stocks
    return missing, sum((stocks[s.stock].cost for s in sheets), Fraction(0)), len(sheets)


def _missing(scene: Scene, sheets: Sequence[Ready]) -> int:
    """Return how many needed copies lie on no sheet."""
    laid = {_named(p.panel, p.opposite_hand, p.copy) for s in sheets for p in s.parts}
    boxes = zip(scene.built.problem.boxes, scene.built.copies, strict=True)
    needed = [c for box, copies in boxes for c in copies[: box.quantity]]
    return sum(_named(c.panel, c.opposite_hand, c.number) not in laid for c in needed)


def _without(
    scene: Scene, built: BuiltShapes, laid: set[_Copy], taken: Sequence[tuple[int, int]]
) -> BuiltShapes:
    """Return a problem of those copies that are not laid elsewhere, on plain sheets."""
    kinds, copies = [], []
    for kind, own in zip(built.problem.kinds, built.copies, strict=True):
        rows = own[: kind.count], own[kind.count :]
        needed, extras = (
            [c for c in row if _named(c.panel, c.opposite_hand, c.number) not in laid] for row in rows
        )
        if needed or extras:
            kinds.append(replace(kind, count=len(needed), extras=len(extras)))
            copies.append((*needed, *extras))
    number = {(s.sheet.name, s.on_hand): i for i, s in enumerate(scene.built.supplies)}
    plates, supplies = [], []
    for plate, supply in zip(built.problem.plates, built.supplies, strict=True):
        there = plain_count(scene, number[supply.sheet.name, supply.on_hand], taken)
        if there != 0:
            plates.append(replace(plate, count=there))
            supplies.append(supply)
    problem = replace(built.problem, kinds=tuple(kinds), plates=tuple(plates))
    return replace(built, problem=problem, copies=tuple(copies), supplies=tuple(supplies))


def _as_layout(scene: Scene, sheets: Sequence[Ready]) -> GroupLayout:
    """Return sheets as a layout, for its places only."""
    rows = []
    for ready in sheets:
        supply = scene.built.supplies[ready.stock]
        cost = scene.built.problem.stocks[ready.stock].cost
        rows.append(CutSheet(supply.sheet, ready.number, supply.on_hand, cost, ready.parts, (), ()))
    return GroupLayout(scene.group, scene.built.cost_in, tuple(rows), (), Fraction(0), None, None)


def _ready(scene: Scene, layout: GroupLayout, taken: Sequence[tuple[int, int]]) -> list[Ready]:
    number = {(s.sheet.name, s.on_hand): i for i, s in enumerate(scene.built.supplies)}
    stocks = [number[s.stock.name, s.on_hand] for s in layout.sheets]
    numbers = numbers_for(scene, taken, stocks)
    return [
        Ready(stock, n, sheet.parts) for stock, n, sheet in zip(stocks, numbers, layout.sheets, strict=True)
    ]
