"""Remove and refill, one sheet size: fewer sheets by emptying one into a pool and finding room for it.

All sheets are sound at all times; only the pool of parts without a place is wrong. Each move empties
some room on a few sheets, lays what came out together with the pool, and keeps the result if the
pool got lighter, or by chance. When the pool is empty, one sheet is saved, and the next is emptied.
"""

from __future__ import annotations

import math
from random import Random

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.filling import Filling, fill, in_order, sort_keys
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.space import Laid, Space, rectangles, score_of, space_of
from nestkit.layout.stop import Rounds, Stop

WORK_A_ROUND, MOST_WORK = 150, 8000
"""A round of the search ends after this many parts laid, and two more for each part of the problem."""

HOT, COLD, CYCLE = 0.02, 0.002, 2000
FULLNESS = 0.05
"""How much a well filled sheet beside a poor one is worth against area in the pool."""


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


def work_a_round(problem: Problem) -> int:
    """Return after how many parts laid a round of a search ends."""
    return min(MOST_WORK, WORK_A_ROUND + 2 * sum(b.quantity for b in problem.boxes))


def take_out(sheet: Filling, rng: Random) -> tuple[Filling, list[int]]:
    """Return a copy of a sheet with some parts gone, and these: all, a random share, or a window."""
    draw = rng.random()
    laid = sheet.laid
    if draw < 0.35 or len(laid) < 2:
        kept: Laid = []
        out = [b for b, _ in laid]
    elif draw < 0.7:
        share = rng.random()
        kept, out = [], []
        for b, place in laid:
            if rng.random() < share:
                out.append(b)
            else:
                kept.append((b, place))
    else:
        width, height = sheet.space.extent[sheet.stock]
        x1, y1 = rng.randrange(width), rng.randrange(height)
        x2, y2 = x1 + 1 + width * rng.random() / 2, y1 + 1 + height * rng.random() / 2
        kept, out = [], []
        for b, place in laid:
            x, y, w, h, _ = place
            if x < x2 and x + w > x1 and y < y2 and y + h > y1:
                out.append(b)
            else:
                kept.append((b, place))
    space = sheet.space
    if space.sawable is not None and not space.sawable(rectangles(kept)):
        # Without what separated them first, parts may ask for another first direction of cutting.
        kept, out = [], [b for b, _ in laid]
    return Filling(space, sheet.stock, kept), out


class _Search:
    """The state of one search: sheets, pool, weights."""

    def __init__(self, space: Space, sheets: list[Filling], pool: list[int], rng: Random) -> None:
        self.space = space
        self.sheets = sheets
        self.pool = pool
        self.rng = rng
        self.keys = sort_keys(space)
        whole = max(space.sheet_area)
        self.share = [a / whole for a in space.area]
        self.weight = [1.0] * len(space.area)
        self.cost = [s * w for s, w in zip(self.share, self.weight, strict=True)]
        self.moves = 0

    def empty_one(self) -> None:
        """Take the least filled sheet away; its parts join the pool."""
        poorest = min(range(len(self.sheets)), key=lambda i: (self.sheets[i].area, i))
        self.pool += [b for b, _ in self.sheets.pop(poorest).laid]

    def move(self) -> int:
        """Try one change and keep it or not; return the work it took."""
        rng = self.rng
        count = min(len(self.sheets), 1 + (rng.random() < 0.75) + (rng.random() < 0.33))
        picked = sorted(rng.sample(range(len(self.sheets)), count))
        fresh, out = [], list(self.pool)
        for i in picked:
            sheet, removed = take_out(self.sheets[i], rng)
            fresh.append(sheet)
            out += removed
        work = len(out) + sum(len(f.laid) for f in fresh)
        noise = 0.6 * rng.random() if rng.random() < 0.8 else 0.0
        order = in_order(out, rng.choice(self.keys), noise, rng)
        old = sum(self.cost[b] for b in self.pool)
        temperature = HOT * (COLD / HOT) ** ((self.moves % CYCLE) / CYCLE)
        self.moves += 1
        # The fate of the move is drawn first, so that a hopeless one can be given up on the way.
        allowed = old - temperature * math.log(max(rng.random(), 1e-12))
        before = sum(self.sheets[i].fill ** 2 for i in picked)
        rest = fill(fresh, order, rng.randrange(4), rng.random() < 0.5, self.cost, allowed + FULLNESS * count)
        if rest is not None:
            gain = FULLNESS * (sum(f.fill**2 for f in fresh) - before)
            if sum(self.cost[b] for b in rest) - gain <= allowed:
                for i, sheet in zip(picked, fresh, strict=True):
                    self.sheets[i] = sheet
                self.pool = rest
        if self.moves % 100 == 0:
            self._press()
        return work

    def _press(self) -> None:
        """Make what stays in the pool heavier, so that the search turns to it."""
        for b in set(self.pool):
            self.weight[b] *= 1.05
        if max(self.weight) > 4:
            self.weight = [max(1.0, 0.7 * w) for w in self.weight]
        self.cost = [s * w for s, w in zip(self.share, self.weight, strict=True)]


class Refill:
    """Fewer sheets of one size, with the saw's test as a filter where it applies."""

    name = "refill"

    def supports(self, problem: Problem) -> bool:
        """Say whether the solver can lay this problem: one size of sheet, enough of them."""
        return one_size(problem)

    def __call__(self, problem: Problem, *, seed: int, stop: Stop, start: Layout | None = None) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``start`` if that is better."""
        best = start or Greedy()(problem, seed=seed, stop=Rounds(48))
        if any(best.left_over) or len(best.sheets) < 2:
            return best
        space = space_of(problem)
        sheets = [Filling(space, s.stock, space.laid(s)) for s in best.sheets]
        search = _Search(space, sheets, [], Random(seed))
        search.empty_one()
        budget = work_a_round(problem)
        while True:
            work = 0
            while work < budget:
                work += 1 + search.move()
                if search.pool:
                    continue
                best = space.layout(by_price(problem, [s.laid for s in search.sheets]))
                if len(best.sheets) == 1:
                    return best
                search.empty_one()
                break
            if stop(score_of(problem, best)):
                return best


def by_price(problem: Problem, sheets: list[Laid]) -> list[tuple[int, Laid]]:
    """Give sheets of one size their stock, the cheapest first and what is on hand before all."""
    order = sorted(range(len(problem.stocks)), key=lambda s: (problem.stocks[s].cost, s))
    supply: list[int] = []
    for s in order:
        count = problem.stocks[s].count
        supply += [s] * (len(sheets) - len(supply) if count is None else count)
    return list(zip(supply, sheets, strict=False))
