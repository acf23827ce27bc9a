"""The search over layouts of rectangles: the engine's moves, round after round, until a rule ends it.

With sheets of one size that do not run out, one is emptied into a pool and room is found for it on the
others; when the pool is empty a sheet is saved, and the next is emptied. With several sizes, prices or
counts, what comes off a few sheets is laid on others, and new ones are opened for the rest.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.engine import arrays as at
from nestkit.layout.rects.engine.state import most_parts, pieces_of, sheets_in, shop_of, state_of
from nestkit.layout.rects.engine.twin import Form
from nestkit.layout.rects.space import Laid, Sheets, rectangles, score_of, space_of
from nestkit.layout.stop import Stop

WORK = {"plain": (300, 2, 16_000), "compiled": (0, 2000, 60_000)}
"""A round ends after so many parts laid: a number, more for each part of the problem, and the most."""

EMPTYING_HEAT, EXCHANGE_HEAT = (0.006, 0.0005), (0.03, 0.001)
EMPTYING_CYCLE, EXCHANGE_CYCLE = {"plain": 2000, "compiled": 10_000}, {"plain": 1000, "compiled": 20_000}
"""Moves over which the heat falls."""
EMPTYING_FULLNESS, EXCHANGE_FULLNESS = 50, 300
"""What a full sheet is worth over an empty one, in thousandths of a sheet."""
PRESSING = {"plain": 100, "compiled": 500}
"""Moves after which parts without a place weigh more."""
A_SHEET = 20_000
"""What every sheet counts beside its price, in parts of UNIT: fewer sheets are better."""
LARGEST_SUM = 1 << 50
LONGEST, MOST_PIECES = 1 << 30, 1 << 20
MOST_SAWN = 60
COOL = 60
"""Share of the cycle, in hundredths, that is over where a search goes on from good sheets."""
LEAST_FILL = 60
"""Sheets filled less than this, in hundredths of the mean, are of no use to other layouts."""
MEMORY = 20_000, 400_000
"""Sheets that are remembered, and parts on them in all."""


@dataclass(frozen=True, slots=True)
class Switches:
    """Ingredients of the search that can be turned off, to measure what each is worth."""

    weights: bool = True
    fullness: bool = True
    windows: bool = True
    cover: bool = True
    rips: bool = True


EVERYTHING = Switches()


def one_size(problem: Problem) -> bool:
    """Say whether all stocks are alike but for count and cost."""
    first = problem.stocks[0] if problem.stocks else None
    return (
        first is not None
        and all(
            (s.width, s.height, s.left, s.right, s.bottom, s.top)
            == (first.width, first.height, first.left, first.right, first.bottom, first.top)
            for s in problem.stocks
        )
        and all(len(set(b.turns)) == 1 for b in problem.boxes)
    )


def sheets_at_most(problem: Problem) -> float:
    """Return how many sheets there are, infinite where they can be bought."""
    return sum(math.inf if s.count is None else s.count for s in problem.stocks)


def can_empty(problem: Problem, layout: Layout) -> bool:
    """Say whether emptying sheet after sheet is all that can make a layout better."""
    return one_size(problem) and not any(layout.left_over) and len(layout.sheets) <= sheets_at_most(problem)


def can_run_compiled(problem: Problem) -> bool:
    """Say whether all numbers of a problem are small enough for the compiled engine's arithmetic."""
    longest = max((side for size in space_of(problem).extent for side in size), default=0)
    return pieces_of(problem) < MOST_PIECES and longest <= LONGEST


def too_slow_in_plain(problem: Problem, layout: Layout) -> bool:
    """Say whether the saw's test takes too long in plain Python for as many parts as lie on a sheet."""
    return problem.edge_to_edge and any(len(s.placed) > MOST_SAWN for s in layout.sheets)


class Search:
    """One form of the engine at work on one problem; remembers the sheets that it has seen."""

    def __init__(self, problem: Problem, form: Form, *, seed: int, switches: Switches = EVERYTHING) -> None:
        self.problem, self.form, self.seed, self.switches = problem, form, seed, switches
        self.space = space_of(problem)
        self.most = most_parts(self.space)
        self.stocks = list(range(len(problem.stocks)))
        pieces = pieces_of(problem)
        least, each, most = WORK[form.name]
        self.work = min(most, least + each * pieces)
        kinds, types = len(problem.boxes), len(problem.stocks) + 1
        self.hand = at.new_hand(form.row, kinds, types, self.most, pieces)
        self._starts = 0
        self._last: Layout | None = None
        self._state: at.State
        self._shop: at.Shop
        remembered = MEMORY if switches.cover and form.name == "compiled" else (0, 0)
        self.seen = at.new_seen(form.row, *remembered)

    def __call__(self, best: Layout, stop: Stop) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``best``.

        Called again with what it returned last, it goes on where it was.
        """
        if not best.sheets:
            return best
        emptying = can_empty(self.problem, best)
        if best != self._last:
            self._state, self._shop = self._start_emptying(best) if emptying else self._start_exchange(best)
        while not stop(score_of(self.problem, best)):
            if emptying and len(best.sheets) == 1:
                break
            best = self._emptied(best) if emptying else self._exchanged(best)
        self._last = best
        return best

    def go_on_from(self, best: Layout, sheets: Sheets, pool: list[int]) -> None:
        """Let the search for less than ``best`` go on from these sheets and parts without a place."""
        shop = self._emptying_shop()
        state = state_of(self.space, shop, self.form.row, sheets, pool, self._next_seed(), self.most)
        # Where heat would only stir up what the sheets are good for.
        state.counts[at.MOVES] = EMPTYING_CYCLE[self.form.name] * COOL // 100
        self._state, self._shop, self._last = state, shop, best

    def forget(self) -> at.Seen:
        """Return the sheets that the search accepted, and begin to remember anew."""
        seen, self.seen = self.seen, at.new_seen(self.form.row, *MEMORY)
        return seen

    def on_smaller(self, sheets: Sheets, number: int, extent: tuple[int, int], rounds: int) -> Sheets | None:
        """Return all parts on the same sheets with one of them cut down to ``extent``; None if not found."""
        space, types = self.space, len(self.stocks)
        width, height = extent
        stock, laid = sheets[number]
        kept = [(b, p) for b, p in laid if p[0] + p[2] <= width and p[1] + p[3] <= height]
        if space.sawable is not None and not space.sawable(rectangles(kept)):
            kept = []
        inside = [*sheets[:number], (types, kept), *sheets[number + 1 :]]
        pool = [b for b, p in laid if (b, p) not in kept]
        found = self.refilled(inside, pool, rounds, (stock, extent))
        if found is None:
            return None
        return [(stock if i == number else s, laid) for i, (s, laid) in enumerate(found)]

    def refilled(
        self,
        sheets: Sheets,
        pool: list[int],
        rounds: int,
        *more: tuple[int, tuple[int, int]],
        stop: Callable[[], bool] = lambda: False,
    ) -> Sheets | None:
        """Return sheets that hold what lies there and a pool of parts besides; None if that is not found.

        ``more`` are types of sheets beside the problem's stocks, each a stock in another size. ``stop`` is
        asked once a round.
        """
        shop = self._emptying_shop(*more)
        state = state_of(self.space, shop, self.form.row, sheets, pool, self._next_seed(), self.most)
        for _ in range(rounds):
            if not state.counts[at.POOL] or stop():
                break
            self.form.functions["refill_all"](shop, state, self.hand, self.seen, self.work)
        if state.counts[at.POOL]:
            return None
        return sheets_in(self.space, state, [*self.stocks, *(stock for stock, _ in more)], self.most)

    def _next_seed(self) -> int:
        """Return a seed that no other start of this search has."""
        self._starts += 1
        return self.seed * 1_000_003 + self._starts

    def _emptying_shop(self, *more: tuple[int, tuple[int, int]]) -> at.Shop:
        """Return the engine's view of the problem for the search that empties sheets."""
        return self._shop_for(EMPTYING_HEAT, EMPTYING_FULLNESS, EMPTYING_CYCLE[self.form.name], 1, *more)

    def _shop_for(
        self,
        heat: tuple[float, float],
        fullness: int,
        cycle: int,
        sheets: int,
        *more: tuple[int, tuple[int, int]],
    ) -> at.Shop:
        """Return the engine's view of the problem; ``more`` are types beside: a stock in another size."""
        problem, on = self.problem, self.switches
        costs = [s.cost for s in problem.stocks]
        stocks = [*self.stocks, *(stock for stock, _ in more)]
        dearest = max(costs) or Fraction(1)
        coin = lcm(*(c.denominator for c in costs))
        # Prices with very long fractions are rounded; the layout's true cost decides in the end.
        scale = min(Fraction(coin), LARGEST_SUM / (dearest * max(1, sheets)))
        return shop_of(
            self.space,
            self.form.row,
            extents=[self.space.extent[s] for s in self.stocks] + [extent for _, extent in more],
            stocks=stocks,
            price=[int(at.UNIT * costs[s] / dearest) + A_SHEET for s in stocks],
            money=[int(costs[s] * scale) for s in stocks],
            heat=heat,
            rule={
                at.KINDS: len(problem.boxes),
                at.MOST_PARTS: self.most,
                at.SAW: int(problem.edge_to_edge),
                at.DEPTH: int(problem.depth) if problem.depth < math.inf else 1 << 30,
                at.FIRST: ("any", "x", "y").index(problem.first),
                at.FULLNESS: fullness if on.fullness else 0,
                at.PRESS: PRESSING[self.form.name] if on.weights else 0,
                at.WINDOWS: int(on.windows),
                at.CYCLE: cycle,
                at.MOST_SHEETS: sheets,
            },
        )

    def _start_emptying(self, best: Layout) -> tuple[at.State, at.Shop]:
        """Take the parts of the poorest sheet into a pool."""
        space, area = self.space, self.space.area
        parts = sum(a * b.quantity for a, b in zip(area, self.problem.boxes, strict=True))
        mean = at.UNIT * parts // (len(best.sheets) * space.sheet_area[0])
        self.seen.counts[at.LEAST] = mean * LEAST_FILL // 100
        shop = self._emptying_shop()
        sheets = [(s.stock, space.laid(s)) for s in best.sheets]
        poorest = min(range(len(sheets)), key=lambda i: (sum(area[b] for b, _ in sheets[i][1]), i))
        pool = [b for b, _ in sheets.pop(poorest)[1]]
        return state_of(space, shop, self.form.row, sheets, pool, self._next_seed(), self.most), shop

    def _emptied(self, best: Layout) -> Layout:
        """Return the layout after a round: one with a sheet less, or the same."""
        state = self._state
        self.form.functions["refill_all"](self._shop, state, self.hand, self.seen, self.work)
        if state.counts[at.POOL]:
            return best
        sheets = sheets_in(self.space, state, self.stocks, self.most)
        best = self.space.layout(by_price(self.problem, [laid for _, laid in sheets]))
        self._state, self._shop = self._start_emptying(best)
        return best

    def _start_exchange(self, best: Layout) -> tuple[at.State, at.Shop]:
        """Take the sheets as they are; parts that have none wait in a pool."""
        space = self.space
        # What fits no sheet would only be carried along.
        left = [n if any(rows[b] for rows in space.sizes) else 0 for b, n in enumerate(best.left_over)]
        pool = [b for b, n in enumerate(left) for _ in range(n)]
        room = 2 * len(best.sheets) + 20
        shop = self._shop_for(EXCHANGE_HEAT, EXCHANGE_FULLNESS, EXCHANGE_CYCLE[self.form.name], room)
        sheets = [(s.stock, space.laid(s)) for s in best.sheets]
        return state_of(
            space, shop, self.form.row, sheets, pool, self._next_seed(), self.most, room=room
        ), shop

    def _exchanged(self, best: Layout) -> Layout:
        """Return the layout after a round: one that leaves less over or costs less, or the same."""
        state, counts = self._state, self._state.counts
        self.form.functions["exchange_all"](self._shop, state, self.hand, self.seen, self.work)
        found = int(counts[at.POOL]), int(counts[at.PAID]), int(counts[at.SHEETS])
        to_beat = int(counts[at.BEST_POOL]), int(counts[at.BEST_PAID]), int(counts[at.BEST_SHEETS])
        if found >= to_beat:
            return best
        counts[at.BEST_POOL], counts[at.BEST_PAID], counts[at.BEST_SHEETS] = found
        layout = self.space.layout(sheets_in(self.space, state, self.stocks, self.most))
        return layout if score_of(self.problem, layout) < score_of(self.problem, best) else best


def by_price(problem: Problem, sheets: list[Laid]) -> Sheets:
    """Give sheets of one size their stock, the cheapest first and what is on hand before all."""
    order = sorted(range(len(problem.stocks)), key=lambda s: (problem.stocks[s].cost, s))
    supply: list[int] = []
    for s in order:
        count = problem.stocks[s].count
        supply += [s] * (len(sheets) - len(supply) if count is None else count)
    return list(zip(supply, sheets, strict=False))
