"""Which sums of prices whole sticks can come to: no list costs anything between two of them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from fractions import Fraction
from heapq import heapify, heappop, heappush
from math import ceil, gcd, lcm

from nestkit.layout.bars.problem import Stick

MOST_SUMS = 5000
"""So many sums are listed at most; above them whole steps count, which more and more sums are."""
NEARLY = Fraction(1, 10**6)
"""Of a step: a bound by so little above a sum is that sum."""


class Sums:
    """The sums that sticks can cost, in rising order as far as they are listed."""

    def __init__(self, sticks: Sequence[Stick], costs: Sequence[Fraction]) -> None:
        """``costs`` are what a stick of each stock counts here."""
        whole = lcm(*(c.denominator for c in costs))
        units = [int(c * whole) for c in costs]
        self.step = Fraction(gcd(*units) or 1, whole)
        self._counts = [int(c / self.step) for c in costs]
        self._first = self._of_limited(sticks)
        self._any = sorted({c for c, s in zip(self._counts, sticks, strict=True) if s.count is None and c})
        self._listed: list[int] | None = None

    def _of_limited(self, sticks: Sequence[Stick]) -> list[int] | None:
        """Return the sums of sticks there are so many of; None where those are too many to list."""
        sums = {0}
        for count, stick in zip(self._counts, sticks, strict=True):
            if stick.count and count:
                if len(sums) * (stick.count + 1) > MOST_SUMS:
                    return None
                sums = {s + n * count for s in sums for n in range(stick.count + 1)}
        return sorted(sums)

    def least_from(self, bound: Fraction) -> Fraction:
        """Return the least sum that is no less than a bound."""
        steps = ceil(bound / self.step - NEARLY)
        if steps <= 0 or self._first is None:
            return max(0, steps) * self.step
        if self._listed is None:
            self._listed = self._list(self._first)
        if steps > self._listed[-1]:
            # Beyond the list every step may be a sum; without sticks to buy there is no list that costs more.
            return steps * self.step
        return self._listed[bisect_left(self._listed, steps)] * self.step

    def _list(self, first: list[int]) -> list[int]:
        waiting, seen = list(first), set(first)
        heapify(waiting)
        found: list[int] = []
        while waiting and len(found) < MOST_SUMS:
            least = heappop(waiting)
            found.append(least)
            for count in self._any:
                if least + count not in seen:
                    seen.add(least + count)
                    heappush(waiting, least + count)
        return found
