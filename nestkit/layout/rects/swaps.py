"""The search for a cheaper set of sheets: a few are given up for cheaper ones, or for none.

What then has no place waits in a pool, and room is found for it on all sheets. Sets that a bound rules out
are not tried; of the others those with the most room to spare come first.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations_with_replacement, islice
from math import comb

from nestkit.layout.bounding.demands import demands_of
from nestkit.layout.bounds import view_for
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.search import Search
from nestkit.layout.rects.space import Sheets, score_of
from nestkit.layout.stop import Kept, Stop

MOST_SWAPS = 8000
"""Of so many choices of what is given up and what is taken, the most sheets at once are looked for."""
MOST = 3
AT_ONCE = ((MOST, MOST), (2, 3), (3, 2), (2, 2), (1, 3), (1, 2), (2, 1), (1, 1))
"""Sheets given up, and taken, at once: as many as the choices allow, one for one at the least."""
TRIED, ROUNDS, LONGEST = 6, 2, 32
"""So many swaps are tried first, for so many rounds; then twice as many for twice as long, up to a most."""


@dataclass(frozen=True, slots=True)
class Swap:
    """Stocks of which a sheet each is given up, and of which one each is taken."""

    given: tuple[int, ...]
    taken: tuple[int, ...]


class Swaps:
    """The swaps that a search tries on a layout, and where it stands among them."""

    def __init__(self, search: Search) -> None:
        self.search, self.problem = search, search.problem
        view = view_for(self.problem, boxes_only=True)
        self.demands = [d for d in demands_of(view) if d.need]
        self.sizes = _sizes(self.problem)
        self._best: Layout | None = None
        self._swaps: list[Swap] = []
        self._effort, self._left = 0, 0
        self._waiting: Iterator[Swap] = iter(())

    def __call__(self, best: Layout, stop: Stop, rounds: int) -> Layout:
        """Return the best layout found in about so many rounds, or before ``stop`` ends the search.

        ``stop`` is asked once a round. A swap that was begun is tried to its end; rounds that it takes beyond
        are taken off those of the next call. Called again with what it returned last, the search goes on
        where it was; it ends where no swap is left.
        """
        if best != self._best:
            self._begin(best)
        self._left = min(self._left, 0) + rounds
        asked = Kept(stop)
        while self._swaps and self._left > 0 and not asked.answered:
            swap = next(self._waiting, None)
            if swap is None:
                self._waiting = islice(iter(self._swaps), TRIED << self._effort)
                self._effort += 1
                continue
            long = min(ROUNDS << (self._effort - 1), LONGEST)
            self._left -= long
            found = self._swapped(best, swap, asked, long)
            if found is not None:
                best = found
                self._begin(best)
        return best

    def _begin(self, best: Layout) -> None:
        """Look anew for what is worth while on a layout."""
        self._best, self._swaps = best, self._worth_while(best)
        self._effort, self._waiting = 0, iter(())

    def _worth_while(self, best: Layout) -> list[Swap]:
        """Return the swaps that save something and that no bound rules out, the roomiest first."""
        stocks = self.problem.stocks
        used = Counter(s.stock for s in best.sheets)
        # Of a size the dearest sheets are given up, and the cheapest that are left are taken.
        given = [[s for s in reversed(size) for _ in range(used[s])] for size in self.sizes]
        left = [MOST if s.count is None else min(MOST, s.count - used[i]) for i, s in enumerate(stocks)]
        taken = [[s for s in size for _ in range(left[s])] for size in self.sizes]
        found = []
        for swap in self._chosen(given, taken):
            saved = self._cost(swap.given) - self._cost(swap.taken)
            if (-saved, len(swap.taken)) >= (0, len(swap.given)):
                continue
            after = used + Counter(swap.taken)
            after.subtract(swap.given)
            spare = self._spare(after)
            if spare >= 1:
                found.append((-spare, -saved, swap.given, swap.taken))
        return [Swap(given, taken) for _, _, given, taken in sorted(found)]

    def _chosen(self, given: list[list[int]], taken: list[list[int]]) -> Iterator[Swap]:
        """Yield every choice of sheets to give up and to take, by what there is of each size."""
        used, every = [z for z, g in enumerate(given) if g], range(len(self.sizes))
        most_given, most_taken = _at_once(len(used), len(every))
        for out in _some(used, 1, most_given):
            up = _of(out, given)
            for come in _some(every, 0, most_taken) if up else ():
                instead = _of(come, taken)
                if up and instead is not None and not set(out) & set(come):
                    yield Swap(up, instead)
        # Of one size a cheaper sheet may have been left.
        for z in used:
            if taken[z]:
                yield Swap((given[z][0],), (taken[z][0],))

    def _cost(self, stocks: tuple[int, ...]) -> Fraction:
        return sum((self.problem.stocks[s].cost for s in stocks), Fraction(0))

    def _spare(self, sheets: Counter[int]) -> float:
        """Return the least share that sheets hold of what is demanded; below 1 they cannot hold all parts."""
        least = float("inf")
        for d in self.demands:
            held = sum(n * d.gives[s] for s, n in sheets.items())
            if held < d.need:
                return 0.0
            least = min(least, held / d.need)
        return max(1.0, least)

    def _swapped(self, best: Layout, swap: Swap, stop: Stop, rounds: int) -> Layout | None:
        """Return all parts on the sheets after a swap, None if that is not found."""
        space, score = self.search.space, score_of(self.problem, best)
        sheets: Sheets = [(s.stock, space.laid(s)) for s in best.sheets]
        pool: list[int] = []
        for stock in swap.given:
            (size,) = (size for size in self.sizes if stock in size)
            poorest = min(
                (i for i, (s, _) in enumerate(sheets) if s in size),
                key=lambda i: (sum(space.area[b] for b, _ in sheets[i][1]), i),
            )
            # What lies on another sheet of the size can lie on this one, too.
            leaves = next(i for i, (s, _) in enumerate(sheets) if s == stock)
            sheets[leaves] = sheets[poorest][0], sheets[leaves][1]
            pool += [b for b, _ in sheets.pop(poorest)[1]]
        sheets += [(stock, []) for stock in swap.taken]
        found = self.search.refilled(sheets, pool, rounds, stop=lambda: stop(score))
        return None if found is None else space.layout(found)


def _sizes(problem: Problem) -> list[tuple[int, ...]]:
    """Return the stocks of each size, the cheapest first: what lies on one can lie on all of them."""
    found: dict[object, list[int]] = {}
    for i, s in enumerate(problem.stocks):
        turns = tuple(b.turns[i] for b in problem.boxes)
        found.setdefault((s.width, s.height, s.left, s.right, s.bottom, s.top, turns), []).append(i)
    return [tuple(sorted(size, key=lambda i: (problem.stocks[i].cost, i))) for size in found.values()]


def _at_once(used: int, sizes: int) -> tuple[int, int]:
    """Return how many sheets of so many sizes used are given up at once, and how many of all are taken."""

    def choices(given: int, taken: int) -> int:
        # Choices of up to so many of n kinds, each as often as you like.
        return (comb(used + given, given) - 1) * comb(sizes + taken, taken)

    return next((n for n in AT_ONCE if choices(*n) <= MOST_SWAPS), AT_ONCE[-1])


def _some(sizes: list[int] | range, least: int, most: int) -> Iterator[tuple[int, ...]]:
    """Yield every choice of ``least`` to ``most`` of some sizes."""
    for number in range(least, most + 1):
        yield from combinations_with_replacement(sizes, number)


def _of(chosen: tuple[int, ...], there: list[list[int]]) -> tuple[int, ...] | None:
    """Return a stock for each of the sizes chosen, the first there are of each; None if there are too few."""
    number = Counter(chosen)
    if any(n > len(there[z]) for z, n in number.items()):
        return None
    return tuple(sorted(s for z, n in number.items() for s in there[z][:n]))
