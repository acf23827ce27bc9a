"""Sheets laid by true shapes around what is fixed, begun with how they are laid by boxes."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial

from nestkit.layout.around.assemble import Ready
from nestkit.layout.around.marked import Marked, marked_problem, started
from nestkit.layout.around.rest import numbers_for
from nestkit.layout.around.scene import Scene, copy_key
from nestkit.layout.efforts import Effort
from nestkit.layout.result import GroupLayout
from nestkit.layout.shapes.build import problems_of
from nestkit.layout.shapes.lay_out import ShapesSolver, with_turns
from nestkit.layout.shapes.placing import placed_part
from nestkit.layout.shapes.problem import Least, ShapesLayout
from nestkit.layout.shapes.settled import settled


def better_by_shape_around(
    scene: Scene,
    sheets: Sequence[Ready],
    bare: GroupLayout,
    solver: ShapesSolver,
    *,
    seed: int,
    effort: Effort,
    stop: Callable[[], bool],
) -> list[Ready]:
    """Return the better of sheets as they are and as true shapes fill them, by parts, cost and number.

    ``bare`` is the group laid without marks: what that costs is not looked for below. Sheets that are of no
    kind of the problem at hand and hold copies stay as they are.
    """
    best, worth = list(sheets), _worth(scene, sheets)
    for built in problems_of(scene.group):
        stocks = {scene.built.supplies.index(s) for s in built.supplies}
        others = [s for s in sheets if s.stock not in stocks and any(p.held for p in s.parts)]
        marked = marked_problem(scene, built, {copy_key(p) for s in others for p in s.parts})
        if not any(kind.count for kind in marked.built.problem.kinds) or stop():
            continue
        start = None
        own = [s for s in sheets if s not in others]
        if all(s.stock in stocks for s in own):
            marked, start = started(marked, own)
        least = _least(scene, bare, others)
        solved = partial(
            solver, seed=seed, effort=effort, stop=stop, on_event=lambda layout: None, least=least
        )
        for laid in with_turns(marked.built.problem, solved, start, least, stop):
            found = [*others, *_ready(scene, marked, laid, others)]
            if _worth(scene, found) < worth:
                best, worth = found, _worth(scene, found)
    return best


def _worth(scene: Scene, sheets: Sequence[Ready]) -> tuple[int, Fraction, int]:
    """Return what decides between layouts, the least the best: copies without a place, cost, sheets."""
    stocks = scene.built.problem.stocks
    needed, _ = scene.copies_left([p for s in sheets for p in s.parts])
    return sum(map(len, needed)), sum((stocks[s.stock].cost for s in sheets), Fraction(0)), len(sheets)


def _least(scene: Scene, bare: GroupLayout, others: Sequence[Ready]) -> Least:
    """Return what the sheets beside others are to reach: nothing where parts have no place without marks."""
    if bare.unplaced:
        return Least()
    stocks = scene.built.problem.stocks
    cost = bare.cost - sum((stocks[s.stock].cost for s in others), Fraction(0))
    return Least(max(cost, Fraction(0)), max(len(bare.sheets) - len(others), 0))


def _ready(scene: Scene, marked: Marked, laid: ShapesLayout, others: Sequence[Ready]) -> list[Ready]:
    """Return plates as sheets: copies asked for first, extras last, the held ones in their places."""
    built = marked.built
    waiting = [deque(copies) for copies in built.copies]
    rows = []
    for plate in laid.plates:
        supply, number = built.supplies[plate.plate], marked.numbers[plate.plate]
        held = scene.held.get((supply.sheet.name, number), ()) if number is not None else ()
        parts = [placed_part(built, supply, p, waiting[p.kind].popleft()) for p in plate.pieces]
        rows.append((marked.stocks[plate.plate], number, settled([*held, *parts], scene.group.gap)))
    taken = [(s.stock, s.number) for s in others] + [(s, n) for s, n, _ in rows if n is not None]
    plain = iter(numbers_for(scene, taken, [s for s, n, _ in rows if n is None]))
    return [Ready(s, next(plain) if n is None else n, parts) for s, n, parts in rows]
