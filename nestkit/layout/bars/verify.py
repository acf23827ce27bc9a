"""Whether tubes laid on sticks can be cut as they stand. Trusts no solver and imports none.

Everything is checked anew from the job's own numbers: copies, places, kerf, trims, stock, prices, rests,
bounds. The first thing found wrong is raised.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from nestkit.errors import ToolFault
from nestkit.layout.bars.result import BarsLayout, CutStick
from nestkit.layout.judging import Key, judge_bounds, judge_copies, judge_supply, steps_of
from nestkit.units import grid_down, grid_up


def verify_bars(layout: BarsLayout) -> None:
    """Raise :class:`~nestkit.errors.ToolFault` naming what is wrong; return if nothing is."""
    _verify_copies(layout)
    _verify_stock(layout)
    for stick in layout.sticks:
        _verify_places(layout, stick)
    _verify_bounds(layout)


def _name(stick: CutStick) -> str:
    return f'stick "{stick.stock.name}" {stick.number}'


def _verify_copies(layout: BarsLayout) -> None:
    """Every needed copy is placed or listed as unplaced, once; extras at most once; nothing else."""
    tubes = {t.name: t for t in layout.group.tubes}
    placed = [(p.tube, p.opposite_hand, p.copy) for s in layout.sticks for p in s.parts]
    missing = [(u.tube, u.opposite_hand, u.copy) for u in layout.unplaced]
    for tube, _, _ in (*placed, *missing):
        if tubes.get(tube.name) != tube:
            raise ToolFault(f'"{tube.name}" is not a tube of this group')
    seen = Counter((t.name, hand, copy) for t, hand, copy in placed)
    left = Counter((t.name, hand, copy) for t, hand, copy in missing)
    needed: list[Key] = []
    extras: list[Key] = []
    for tube in tubes.values():
        drawn = tube.as_drawn + tube.spare
        needed += [(tube.name, False, n + 1) for n in range(drawn)]
        if not tube.either_hand:
            needed += [(tube.name, True, n + 1) for n in range(tube.opposite_hand)]
        extras += [(tube.name, False, drawn + n + 1) for n in range(tube.spare_if_room)]
    judge_copies(needed, extras, seen, left)


def _verify_stock(layout: BarsLayout) -> None:
    """Sticks are of the group's bars, within what is on hand, at their price, numbered from 1."""
    stock = {bar.name: bar for bar in layout.group.bars}
    priced = any(bar.price is not None for bar in stock.values())
    if layout.cost_in != ("price" if priced else "m"):
        raise ToolFault(f"the cost is said to be in {layout.cost_in}, which the stock does not bear out")
    used: Counter[tuple[str, bool]] = Counter()
    numbers: dict[str, list[int]] = {}
    for stick in layout.sticks:
        if stock.get(stick.stock.name) != stick.stock:
            raise ToolFault(f'"{stick.stock.name}" is no bar of this group')
        if not stick.parts:
            raise ToolFault(f"{_name(stick)} is used for nothing")
        used[stick.stock.name, stick.on_hand] += 1
        numbers.setdefault(stick.stock.name, []).append(stick.number)
        price = (stick.stock.price or Fraction(0)) if priced else stick.stock.length / 1000
        if stick.cost != (Fraction(0) if stick.on_hand else price):
            raise ToolFault(f"{_name(stick)} is said to cost {stick.cost}, not what the job says")
    judge_supply(stock.values(), used, numbers, kind="bar", piece="stick")
    if layout.cost != sum((s.cost for s in layout.sticks), Fraction(0)):
        raise ToolFault(f"the cost {layout.cost} is not the sum over the sticks")


def _verify_places(layout: BarsLayout, stick: CutStick) -> None:
    """Parts have their length and follow one another between the trims, a kerf between two of them."""
    where, bar = _name(stick), stick.stock
    kerf, trim = grid_up(layout.group.kerf), grid_up(bar.trim)
    end = grid_down(bar.length) - trim
    free_from = trim
    for part in stick.parts:
        name = f'{where}: "{part.tube.name}" {part.copy}'
        start, length = (
            steps_of(part.start, f"{name}: its start"),
            steps_of(part.length, f"{name}: its length"),
        )
        if length != grid_up(part.tube.length):
            raise ToolFault(f"{name} has not the length of its tube")
        if start < free_from:
            raise ToolFault(f"{name} begins before the trim or the cut before it ends")
        if start + length > end:
            raise ToolFault(f"{name} runs into the trim at the end")
        free_from = start + length + kerf
    if steps_of(stick.left, f"{where}: what is left") != max(0, end - free_from):
        raise ToolFault(f"{where}: what is left is not what the parts leave")


def _verify_bounds(layout: BarsLayout) -> None:
    """Bounds stand exactly where all parts are placed, and none is above the result."""
    results = (
        ("sticks", layout.least_sticks, Fraction(len(layout.sticks))),
        ("cost", layout.least_cost, layout.cost),
    )
    judge_bounds(results, complete=not layout.unplaced)
