"""From fractions of sticks to whole ones: dives that round what the program takes, and whole numbers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from math import floor
from random import Random
from typing import Protocol

from nestkit.layout.bars.columns import Answer, Column, Columns
from nestkit.layout.bars.problem import LengthProblem, Load
from nestkit.layout.bars.sums import Sums

COPY = 1000
"""Steps that stand for one copy or stick in a quick list that ends a dive."""
GROW_AGAIN = 40
"""Rounds of pricing after each step of a dive."""
SURE = 0.75
"""A column taken so much more than whole times is rounded up with the others that are."""
AT_ONCE = 0.1
"""Share of the columns in use that are rounded up at once at most."""
FEW_COLUMNS = 6
"""Columns for each piece among which whole numbers are looked for."""
NODES = 400
"""Nodes in which whole numbers are looked for, after each round of dives."""


class Sought(Protocol):
    """What dives need to know of the search that they are part of, and tell it."""

    wanted: list[int]
    bound: Fraction
    sums: Sums
    rng: Random

    def raised(self, bound: Fraction) -> Fraction:
        """Return the least sum of prices that is no less than a bound."""

    def value(self) -> Fraction:
        """Return what the best list costs."""

    def cost(self, loads: Sequence[Load]) -> Fraction:
        """Return what loads cost."""

    def free(self, loads: Sequence[Load]) -> list[float]:
        """Return how many sticks of each stock are left beside some loads."""

    def met(self) -> bool:
        """Say whether nothing better can be found."""

    def completed(self, wanted: list[int], loads: list[Load]) -> None:
        """Keep loads, with quick ones for what is still wanted, if they are better than the best."""


class Diver:
    """Looks for better lists among columns, and for more columns on the way."""

    def __init__(self, search: Sought, columns: Columns) -> None:
        self.search, self.columns = search, columns

    def dive(self, noise: float) -> None:
        """Round what the relaxed program takes, ask for the rest, and so on; keep what is better."""
        search, columns = self.search, self.columns
        wanted, loads = list(search.wanted), list[Load]()
        spent = Fraction(0)
        while any(wanted):
            columns.ask(wanted, search.free(loads))
            _, answer = columns.grown(wanted, partial(self._will_do, spent), GROW_AGAIN)
            search.completed(wanted, loads)
            columns.work += COPY * (sum(wanted) + len(loads))
            if answer is None or search.raised(spent + Fraction(answer.cost)) >= search.value():
                break
            new = self._rounded(answer, wanted, noise)
            if not new:
                break
            loads += new
            spent += search.cost(new)
        else:
            search.completed(wanted, loads)
        columns.ask(search.wanted, search.free([]))

    def _will_do(self, spent: Fraction, bound: Fraction, relaxed: float) -> bool:
        """Say whether nothing cheaper than what is spent and a relaxed cost can be hoped for."""
        return self.search.raised(spent + Fraction(relaxed)) <= self.search.bound

    def _rounded(self, answer: Answer, wanted: list[int], noise: float) -> list[Load]:
        """Take the whole part of what the answer takes, else its largest fractions; make ``wanted`` less."""
        # Sticks for nothing may be in use without giving anything that is still wanted.
        times = [
            (x, c)
            for x, c in zip(answer.times, self.columns.columns, strict=True)
            if x > 1e-6 and any(wanted[p] for p, _ in c[1])
        ]
        new: list[Load] = []
        for x, column in times:
            for _ in range(floor(x + 1e-6)):
                new += taken(column, wanted)
        if new:
            return new
        rng = self.search.rng
        ranked = sorted(
            ((x * (1 - noise + 2 * noise * rng.random()), i) for i, (x, _) in enumerate(times)),
            key=lambda r: (-r[0], r[1]),
        )
        most = max(1, int(AT_ONCE * len(ranked)))
        for place, (x, i) in enumerate(ranked[:most]):
            if place == 0 or x >= SURE:
                new += taken(times[i][1], wanted)
        return new

    def whole(self, stop: Callable[[], bool]) -> None:
        """Look for whole numbers of good columns, beside most of what the program takes of each in whole."""
        search, columns = self.search, self.columns
        if search.met():
            return
        wanted, loads = list(search.wanted), list[Load]()
        answer = columns.relaxed()
        if answer is None:
            return
        for x, column in zip(answer.times, columns.columns, strict=True):
            for _ in range(floor(x + 1e-6) - 1):
                loads += taken(column, wanted)
        spent = search.cost(loads)
        few = Columns(columns.problem, columns.measure, columns.costs)
        for column in sorted(columns.columns, key=lambda c: columns.excess(c, answer))[
            : FEW_COLUMNS * len(search.wanted)
        ]:
            few.add(*column)
        few.ask(wanted, search.free(loads))
        most = float(search.value() - search.sums.step - spent) + 1e-6
        for column in few.whole(most, NODES, stop):
            loads += taken(column, wanted)
        search.completed(wanted, loads)


def taken(column: Column, wanted: list[int]) -> list[Load]:
    """Return a column as a load of what is still wanted of it, if anything; ``wanted`` gets less."""
    stick, pieces = column
    some = tuple((p, min(n, wanted[p])) for p, n in pieces if wanted[p])
    for p, n in some:
        wanted[p] -= n
    return [Load(stick, some)] if some else []


def less(problem: LengthProblem, free: list[float]) -> LengthProblem:
    """Return a problem with so many sticks left of each stock."""
    sticks = tuple(
        s if s.count is None else replace(s, count=int(n)) for s, n in zip(problem.sticks, free, strict=True)
    )
    return replace(problem, sticks=sticks)
