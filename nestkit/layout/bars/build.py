"""From a group of tubes and bars to a problem of lengths, and what its numbers stand for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import gcd, lcm
from typing import Literal

from nestkit.job.model import BarGroup
from nestkit.layout.bars.problem import LengthProblem, Piece, Stick
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar
from nestkit.units import grid_down, grid_up

MOST_COUNTED = 10**7
"""Sticks are counted beside the cost as long as both together stay below this many of its smallest steps."""


@dataclass(frozen=True, slots=True)
class TubeCopy:
    """One copy of a tube: its number counts from 1 per tube and hand."""

    tube: Tube
    number: int
    opposite_hand: bool


@dataclass(frozen=True, slots=True)
class BarSupply:
    """Where a stick of the problem comes from: a bar of the job, on hand or to be bought; what one costs."""

    bar: Bar
    on_hand: bool
    cost: Fraction


@dataclass(frozen=True, slots=True)
class Money:
    """How a cost counts in the problem: ``step`` is the smallest, ``weight`` of it outweigh all sticks.

    A stick counts as its cost in steps, times ``weight``, and one more for itself, so that of two lists of
    one cost that with fewer sticks counts less. With ``weight`` 0 only the cost counts.
    """

    step: Fraction
    weight: int

    def count(self, cost: Fraction) -> Fraction:
        """Return what a stick of some cost counts."""
        return cost / self.step * self.weight + 1 if self.weight else cost

    def cost(self, counted: Fraction) -> Fraction:
        """Return the least cost that a sum of counts, or a bound on one, leaves possible."""
        if not self.weight:
            return counted
        # The sticks of any list worth looking at count for less than one weight together.
        return (-(-(counted - self.weight + 1) // self.weight)) * self.step


@dataclass(frozen=True, slots=True)
class BarsBuilt:
    """A problem and what its numbers mean.

    ``copies[p]`` are the copies that piece ``p`` stands for, in the order in which they are to find a place;
    ``extras`` are those laid only if there is room, in job order.
    """

    problem: LengthProblem
    supplies: tuple[BarSupply, ...]
    copies: tuple[tuple[TubeCopy, ...], ...]
    extras: tuple[TubeCopy, ...]
    cost_in: Literal["price", "m"]
    money: Money


def bars_cost_unit(group: BarGroup) -> Literal["price", "m"]:
    """Return what the group's sticks are counted in: their price, or metres without prices."""
    return "price" if any(bar.price is not None for bar in group.bars) else "m"


def bar_supplies(group: BarGroup) -> tuple[BarSupply, ...]:
    """Return the sticks of a group: of each bar first what is on hand, then what can be bought."""
    priced = bars_cost_unit(group) == "price"
    found = []
    for bar in group.bars:
        if bar.on_hand:
            found.append(BarSupply(bar, True, Fraction(0)))
        if bar.buy:
            found.append(BarSupply(bar, False, (bar.price or Fraction(0)) if priced else bar.length / 1000))
    return tuple(found)


def length_problem_of(group: BarGroup) -> BarsBuilt:
    """Return the length problem of a group, in grid steps: parts, kerf and trim rounded up, bars down."""
    supplies = bar_supplies(group)
    kinds: dict[int, tuple[list[TubeCopy], list[TubeCopy]]] = {}
    extras: list[TubeCopy] = []
    for tube in group.tubes:
        rows = tube.numbered(one_hand=tube.either_hand)
        asked, spares, more = ([TubeCopy(tube, n, opposite) for n, opposite in row] for row in rows)
        extras += more
        if asked or spares:
            kind = kinds.setdefault(grid_up(tube.length), ([], []))
            kind[0].extend(asked)
            kind[1].extend(spares)
    lengths = sorted(kinds, reverse=True)
    pieces = tuple(Piece(length, len(kinds[length][0]) + len(kinds[length][1])) for length in lengths)
    kerf = grid_up(group.kerf)
    plain = tuple(
        Stick(grid_down(s.bar.length), grid_up(s.bar.trim), s.bar.on_hand if s.on_hand else None, s.cost)
        for s in supplies
    )
    money = _money(LengthProblem(pieces, plain, kerf))
    problem = LengthProblem(pieces, tuple(replace(s, cost=money.count(s.cost)) for s in plain), kerf)
    copies = tuple((*kinds[length][0], *kinds[length][1]) for length in lengths)
    return BarsBuilt(problem, supplies, copies, tuple(extras), bars_cost_unit(group), money)


def _money(problem: LengthProblem) -> Money:
    """Return how costs count: where stock differs in what it costs, sticks do beside them."""
    costs = [stick.cost for stick in problem.sticks]
    whole = lcm(*(cost.denominator for cost in costs))
    units = [int(cost * whole) for cost in costs]
    step, most = gcd(*units), _most_worth_looking_at(problem)
    if len(set(units)) == 1 or not step or max(units) // step * most * (most + 1) > MOST_COUNTED:
        return Money(Fraction(1), 0)
    return Money(Fraction(step, whole), most + 1)


def _most_worth_looking_at(problem: LengthProblem) -> int:
    """Return how many sticks a list has at most that has no two of one stock whose parts one could give."""
    takes = sum((p.length + problem.kerf) * p.quantity for p in problem.pieces)
    shortest = min(p.length for p in problem.pieces) if problem.pieces else 0
    rooms = [s.usable + problem.kerf for s in problem.sticks if s.usable >= shortest]
    if not rooms:
        return 0
    # Of one stock all but one are more than half full.
    return min(sum(p.quantity for p in problem.pieces), 2 * takes // min(rooms) + len(rooms))
