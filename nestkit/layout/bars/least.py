"""What no cut list can beat, in sticks and in money, from the bound that the search proved."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nestkit.layout.bars.build import BarsBuilt
from nestkit.layout.bars.search import BY_LENGTH
from nestkit.layout.proof import Bound

NONE_WANTED = "nothing has to be cut"


@dataclass(frozen=True, slots=True)
class LeastBars:
    """Bounds on the number of sticks and on their cost."""

    sticks: Bound
    cost: Bound


def least_of(built: BarsBuilt, counted: Fraction, why: str) -> LeastBars:
    """Return both bounds from one on what lists count (see :class:`~nestkit.layout.bars.build.Money`)."""
    problem = built.problem
    if not problem.pieces:
        return LeastBars(Bound(Fraction(0), NONE_WANTED), Bound(Fraction(0), NONE_WANTED))
    sticks = _by_length(built)
    if not any(s.cost for s in built.supplies):
        return LeastBars(sticks, Bound(Fraction(0), "what is on hand costs nothing"))
    cost = Bound(built.money.cost(counted), why)
    prices = {s.cost for s in built.supplies}
    if len(prices) == 1:
        by_cost = Bound(Fraction(-(-cost.value // prices.pop())), why)
        sticks = max(sticks, by_cost, key=lambda b: b.value)
    return LeastBars(sticks, cost)


def _by_length(built: BarsBuilt) -> Bound:
    """Return how many sticks the length of all parts needs, the longest taken first."""
    problem = built.problem
    takes = sum((p.length + problem.kerf) * p.quantity for p in problem.pieces)
    sticks, left = 0, takes
    for stick in sorted(problem.sticks, key=lambda s: -s.usable):
        room = stick.usable + problem.kerf
        needed = -(-left // room) if stick.usable else 0
        used = needed if stick.count is None else min(needed, stick.count)
        sticks, left = sticks + used, left - used * room
        if left <= 0 or stick.count is None:
            break
    return Bound(Fraction(sticks), BY_LENGTH)
