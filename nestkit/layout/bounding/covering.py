"""The cheapest whole numbers of sheets that have room enough by every measure."""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

NODES = 1500
"""States looked at before the best bound so far is returned."""
CHILDREN = 4
"""What a state may lead to on average; where it leads to more, fewer are looked at."""


@dataclass(frozen=True, slots=True)
class Demand:
    """A measure: what all parts need of it, and what one sheet of each stock can give.

    ``why`` is its reason; {0} stands for the amount of sheets needed, {1} for a number that is too few.
    """

    need: int
    gives: tuple[int, ...]
    why: str

    def ratio(self) -> float:
        """Return the need in the most giving of sheets."""
        most = max(self.gives, default=0)
        return self.need / most if most else float("inf")

    def exceeded(self) -> int:
        """Return the greatest whole number of the most giving of sheets that do not suffice."""
        most = max(self.gives, default=0)
        return -(-self.need // most) - 1 if most else 0


@dataclass(frozen=True, slots=True)
class Covered:
    """The least cost, and the sheets of each stock that cost it; without these, a bound below it."""

    cost: Fraction
    sheets: tuple[int, ...] | None


def cheapest(
    demands: list[Demand], costs: list[Fraction], counts: list[int | None], nodes: int = NODES
) -> Fraction | None:
    """Return the least cost of whole numbers of sheets that meet every demand, or a bound below it.

    None where the sheets that there are do not suffice. Exact unless the search takes more than ``nodes``
    states; then the value returned is still one that nothing can beat.
    """
    found = cheapest_sheets(demands, costs, counts, nodes)
    return None if found is None else found.cost


def cheapest_sheets(
    demands: list[Demand], costs: list[Fraction], counts: list[int | None], nodes: int = NODES
) -> Covered | None:
    """Return the cheapest whole numbers of sheets that meet every demand; see :func:`cheapest`."""
    scale = lcm(*(c.denominator for c in costs)) if costs else 1
    prices = [int(c * scale) for c in costs]
    grain = gcd(*prices) or 1
    order = sorted(range(len(costs)), key=lambda s: (prices[s] / max(1, max(d.gives[s] for d in demands)), s))
    ranked = [
        [
            sorted(order[j:], key=lambda s: prices[s] / d.gives[s] if d.gives[s] else float("inf"))
            for d in demands
        ]
        for j in range(len(order) + 1)
    ]

    def bound(j: int, needs: tuple[int, ...]) -> int | None:
        worst = 0
        for d, need, row in zip(demands, needs, ranked[j], strict=True):
            paid = 0
            for s in row:
                if need <= 0 or not d.gives[s]:
                    break
                count = counts[s]
                if count is None or need <= count * d.gives[s]:
                    paid += -(-prices[s] * need // d.gives[s])
                    need = 0
                else:
                    paid += count * prices[s]
                    need -= count * d.gives[s]
            if need > 0:
                return None
            worst = max(worst, paid)
        return worst

    start = tuple(d.need for d in demands)
    first = bound(0, start)
    if first is None:
        return None
    nothing: tuple[int, ...] = ()
    heap = [(-(-first // grain) * grain, 0, 0, start, 0, nothing)]
    serial = 0
    left = nodes * CHILDREN
    while left > 0:
        if not heap:
            return None
        low, _, j, needs, paid, taken = heapq.heappop(heap)
        if all(n <= 0 for n in needs) or j == len(order):
            by_stock = dict(zip(order, taken, strict=False))
            return Covered(Fraction(low, scale), tuple(by_stock.get(s, 0) for s in range(len(costs))))
        s = order[j]
        wanted = max(
            (-(-n // d.gives[s]) for n, d in zip(needs, demands, strict=True) if n > 0 and d.gives[s]),
            default=0,
        )
        count = counts[s]
        most = wanted if count is None else min(wanted, count)
        left -= most + 1
        for n in range(most + 1):
            rest = tuple(max(0, need - n * d.gives[s]) for need, d in zip(needs, demands, strict=True))
            more = bound(j + 1, rest)
            if more is not None:
                serial -= 1
                total = paid + n * prices[s]
                low_here = max(low, -(-(total + more) // grain) * grain)
                heapq.heappush(heap, (low_here, serial, j + 1, rest, total, (*taken, n)))
    return Covered(Fraction(heap[0][0], scale), None) if heap else None
