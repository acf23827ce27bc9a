"""Closing the gap: all loads that a cheaper cut list could use, and whether a choice of them is one.

Prices at which no stick gives more than it costs leave each load an excess, what it costs beyond what it
gives. A list that gives exactly what is wanted costs its pieces' prices and all its loads' excesses. So a
list within some cost can use no load whose excess alone is more than that cost leaves.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Literal

from nestkit.layout.bars.columns import SCALE, Answer, Column, Columns
from nestkit.layout.bars.knapsack import filled
from nestkit.layout.bars.listing import all_loads
from nestkit.layout.bars.mixes import SCALE as FINE
from nestkit.layout.bars.mixes import Mixes, Row
from nestkit.layout.bars.problem import most_sticks

MOST_LOADS = 3000
"""Loads among which all choices are looked at, at most."""
MOST_PIECES = 10**5
"""Pieces wanted in all, at most, so that sums of prices stay within 63 bits."""


@dataclass(frozen=True, slots=True)
class Closed:
    """A cut list's loads that cost no more than asked for; or none, and whether it is proved that none is."""

    columns: tuple[Column, ...]
    proved: bool


def cheaper(
    columns: Columns,
    answer: Answer,
    wanted: Sequence[int],
    most: Fraction,
    work: int,
    stop: Callable[[], bool],
) -> Closed:
    """Look for a list that costs ``most`` at most, given an answer with good prices, with so much work."""
    nothing_known = Closed((), False)
    if sum(wanted) > MOST_PIECES:
        return nothing_known
    loads = useful_loads(columns, answer, wanted, most)
    if loads is None:
        return nothing_known
    if not loads:
        return Closed((), True)
    verdict = _mixes(columns, loads, wanted, most).solve(work, stop)
    if verdict.times is None:
        return Closed((), verdict.proved)
    found = tuple(load for load, times in zip(loads, verdict.times, strict=True) for _ in range(times))
    return Closed(found, False)


def useful_loads(
    columns: Columns, answer: Answer, wanted: Sequence[int], most: Fraction
) -> list[Column] | None:
    """Return all loads that a list within a cost can use; None if they are many, or prices prove nothing."""
    takes, rooms = columns.measure.takes, columns.measure.rooms
    values = [int(p * SCALE) for p in answer.prices]
    limits = [int(m * SCALE) for m in answer.limits]
    charges = {s: columns.costs[s] * SCALE - limits[s] for s in columns.stocks}
    ratio = Fraction(0)
    for s, charge in charges.items():
        gives = filled(takes, wanted, values, rooms[s]).most
        if gives and charge <= 0:
            return None
        ratio = max(ratio, gives / charge) if gives else ratio
    # Raised by the ratio, no stick gives more than it is charged for. A list is charged its cost and, of each
    # limited stock, the limit's price for no more sticks than there are; left is that without its pieces.
    given = sum(limits[s] * int(most_sticks(columns.problem, s)) for s in columns.stocks if limits[s])
    left = ratio * (most * SCALE - given) - sum(v * n for v, n in zip(values, wanted, strict=True))
    if left < 0:
        return []
    found: list[Column] = []
    for s, charge in charges.items():
        least = ceil(ratio * charge - left)
        some = all_loads(takes, wanted, values, rooms[s], least, MOST_LOADS - len(found))
        if some is None:
            return None
        found += [(s, pieces) for pieces in some]
    return found


def _mixes(columns: Columns, loads: Sequence[Column], wanted: Sequence[int], most: Fraction) -> Mixes:
    """Return the choices among loads; costs are rounded down, so that none is refused by rounding."""
    import numpy

    counts = numpy.zeros((len(wanted), len(loads)), numpy.int64)
    for at, (_, pieces) in enumerate(loads):
        for piece, number in pieces:
            counts[piece, at] = number
    rows = [Row(some, 0, number) for some, number in zip(counts, wanted, strict=True)]
    stocks = [numpy.array([int(s == stock) for s, _ in loads], numpy.int64) for stock in columns.stocks]
    for stock, among in zip(columns.stocks, stocks, strict=True):
        count = columns.problem.sticks[stock].count
        if count is not None:
            sense: Literal[-1] = -1
            rows.append(Row(among, sense, count))
    caps = [min(wanted[piece] // number for piece, number in pieces) for _, pieces in loads]
    costs = [floor(columns.costs[s] * FINE) for s, _ in loads]
    # Of one stock alone the number is the cost: to fix it would only hide by how much each load is too dear.
    return Mixes(costs, rows, caps, stocks if len(stocks) > 1 else [], floor(most * FINE))
