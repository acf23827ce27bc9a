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

from nestkit.layout.bounding.demands import demands_of
from nestkit.layout.bounds import view_for
from nestkit.layout.problem import Layout
from nestkit.layout.rects.search import Search
from nestkit.layout.rects.space import Laid, Sheets, score_of
from nestkit.layout.stop import Kept, Stop

FEW, SOME = 6, 12
"""With so many stocks up to three sheets are given up at once, or two; with more there are too many ways."""
TRIED, ROUNDS = 6, 2
"""Of the swaps so many are tried first, for so many rounds; then twice as many for twice as long."""


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
        self.demands = demands_of(view)
        self._best: Layout | None = None
        self._effort = 0
        self._waiting: Iterator[Swap] = iter(())

    def __call__(self, best: Layout, stop: Stop, rounds: int) -> Layout:
        """Return the best layout found in about so many rounds, or before ``stop`` ends the search.

        ``stop`` is asked once a round. A swap that was begun is tried to its end. Called again with what it
        returned last, the search goes on where it was; it ends where no swap is left.
        """
        if best != self._best:
            self._effort, self._waiting = 0, iter(())
        self._best = best
        swaps = self._worth_while(best)
        asked = Kept(stop)
        while swaps and rounds > 0 and not asked.answered:
            swap = next(self._waiting, None)
            if swap is None:
                self._waiting = islice(iter(swaps), TRIED << self._effort)
                self._effort += 1
                continue
            long = ROUNDS << (self._effort - 1)
            rounds -= long
            found = self._swapped(self._best, swap, asked, long)
            if found is not None:
                self._best, self._effort, self._waiting = found, 0, iter(())
                swaps = self._worth_while(found)
        return self._best

    def _worth_while(self, best: Layout) -> list[Swap]:
        """Return the swaps that save something and that no bound rules out, the roomiest first."""
        stocks = self.problem.stocks
        costs = [s.cost for s in stocks]
        used = Counter(s.stock for s in best.sheets)
        demands = [d for d in self.demands if d.need]
        found: list[tuple[float, Fraction, Swap]] = []
        most = 3 if len(stocks) <= FEW else 2 if len(stocks) <= SOME else 1
        for given in _some(sorted(used), 1, most):
            if any(n > used[s] for s, n in Counter(given).items()):
                continue
            paid = sum((costs[s] for s in given), Fraction(0))
            for taken in _some(range(len(stocks)), 0, most):
                saved = paid - sum((costs[s] for s in taken), Fraction(0))
                if set(given) & set(taken) or (-saved, len(taken)) >= (0, len(given)):
                    continue
                after = used + Counter(taken)
                after.subtract(given)
                if any((c := stocks[s].count) is not None and n > c for s, n in after.items()):
                    continue
                held = [sum(n * d.gives[s] for s, n in after.items()) for d in demands]
                if all(h >= d.need for h, d in zip(held, demands, strict=True)):
                    spare = min((h / d.need for h, d in zip(held, demands, strict=True)), default=1.0)
                    found.append((-spare, -saved, Swap(given, taken)))
        return [swap for _, _, swap in sorted(found, key=lambda f: (f[0], f[1], f[2].given, f[2].taken))]

    def _swapped(self, best: Layout, swap: Swap, stop: Stop, rounds: int) -> Layout | None:
        """Return all parts on the sheets after a swap, None if that is not found."""
        space, score = self.search.space, score_of(self.problem, best)
        sheets: Sheets = [(s.stock, space.laid(s)) for s in best.sheets]
        given: list[tuple[int, Laid]] = []
        for stock in swap.given:
            poorest = min(
                (i for i, (s, _) in enumerate(sheets) if s == stock),
                key=lambda i: (sum(space.area[b] for b, _ in sheets[i][1]), i),
            )
            given.append(sheets.pop(poorest))
        pool = [b for _, laid in given for b, _ in laid]
        sheets += [(stock, []) for stock in swap.taken]
        found = self.search.refilled(sheets, pool, rounds, stop=lambda: stop(score))
        return None if found is None else space.layout(found)


def _some(stocks: list[int] | range, least: int, most: int) -> Iterator[tuple[int, ...]]:
    """Yield every choice of ``least`` to ``most`` of some stocks."""
    for number in range(least, most + 1):
        yield from combinations_with_replacement(stocks, number)
