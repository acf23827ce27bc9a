"""Remove and refill with several sizes, prices and limited counts of sheets.

A move empties some room on a few sheets, lays what came out again, and opens new sheets for what
finds no place, each of a kind drawn by price and size. Then each sheet touched becomes the cheapest
kind that holds what lies on it. Parts for which no sheet is left wait in a pool.
"""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.filling import Filling, fill, in_order, sort_keys
from nestkit.layout.rects.greedy import Greedy, stock_order
from nestkit.layout.rects.refill import take_out, work_a_round
from nestkit.layout.rects.space import Laid, Space, rectangles, score_of, space_of
from nestkit.layout.stop import Rounds, Score, Stop

HOT, COLD, CYCLE = 0.3, 0.01, 1000
FULLNESS = 0.3
"""How much of a sheet's price a full one is worth over an empty one."""
A_SHEET = 0.02
"""What every sheet counts beside its price, as a share of the dearest: fewer sheets are better."""


class _Search:
    """The state of one search: sheets, stock left, parts without a sheet."""

    def __init__(self, space: Space, layout: Layout, rng: Random) -> None:
        self.space = space
        self.rng = rng
        self.sheets = [Filling(space, s.stock, space.laid(s)) for s in layout.sheets]
        self.pool = [b for b, n in enumerate(layout.left_over) for _ in range(n)]
        self.keys = sort_keys(space)
        self.order = stock_order(space)
        stocks = space.problem.stocks
        self.free = [math.inf if s.count is None else float(s.count) for s in stocks]
        for sheet in self.sheets:
            self.free[sheet.stock] -= 1
        dearest = float(max((s.cost for s in stocks), default=0)) or 1.0
        self.price = [float(s.cost) / dearest + A_SHEET for s in stocks]
        # The cheapest kind first, for the exchange of a sheet against one that does as well.
        self.cheap = sorted(self.order, key=lambda s: (self.price[s], space.sheet_area[s], s))
        whole = max(space.sheet_area, default=1) or 1
        self.missing = [3 + a / whole for a in space.area]
        self.moves = 0

    def value(self, sheets: list[Filling]) -> float:
        """Return what sheets count for: their price, less for the full ones."""
        return sum(self.price[s.stock] * (1 - FULLNESS * s.fill**2) for s in sheets)

    def score(self) -> Score:
        """Return what the present state is worth."""
        stocks = self.space.problem.stocks
        cost = sum((stocks[s.stock].cost for s in self.sheets), Fraction(0))
        return len(self.pool), cost, len(self.sheets)

    def move(self) -> int:
        """Try one change and keep it or not; return the work it took."""
        rng = self.rng
        count = min(len(self.sheets), 1 + (rng.random() < 0.75) + (rng.random() < 0.33))
        picked = sorted(rng.sample(range(len(self.sheets)), count))
        old = [self.sheets[i] for i in picked]
        free = list(self.free)
        fresh, out = [], list(self.pool)
        for sheet in old:
            kept, removed = take_out(sheet, rng)
            out += removed
            if kept.laid:
                fresh.append(kept)
            else:
                free[kept.stock] += 1
        work = len(out) + sum(len(f.laid) for f in fresh)
        noise = 0.6 * rng.random() if rng.random() < 0.8 else 0.0
        order = in_order(out, rng.choice(self.keys), noise, rng)
        rule, spread = rng.randrange(4), rng.random() < 0.5
        before = self.value(old) + sum(self.missing[b] for b in self.pool)
        temperature = HOT * (COLD / HOT) ** ((self.moves % CYCLE) / CYCLE)
        self.moves += 1
        allowed = before - temperature * 0.1 * math.log(max(rng.random(), 1e-12))
        rest = self._lay(fresh, order, rule, spread, free, allowed)
        if rest is None:
            return work
        fresh = [self._cheapest(f, free) for f in fresh]
        if self.value(fresh) + sum(self.missing[b] for b in rest) <= allowed:
            gone = set(picked)
            self.sheets = [s for i, s in enumerate(self.sheets) if i not in gone] + fresh
            self.pool = rest
            self.free = free
        return work

    def _lay(
        self,
        fresh: list[Filling],
        order: list[int],
        rule: int,
        spread: bool,
        free: list[float],
        allowed: float,
    ) -> list[int] | None:
        """Lay parts on the sheets and on new ones; None once the sheets count more than ``allowed``."""
        rest = fill(fresh, order, rule, spread) or []
        area = self.space.area
        out: list[int] = []
        while rest:
            wanted = sum(area[b] for b in rest)
            kind = self._draw(rest[0], wanted, free)
            if kind is None:
                # No sheet is left for this part, nor for those of its kind.
                out += [b for b in rest if b == rest[0]]
                rest = [b for b in rest if b != rest[0]]
                continue
            sheet = Filling(self.space, kind)
            free[kind] -= 1
            rest = fill([sheet], rest, rule, spread=False) or []
            fresh.append(sheet)
            if self.value(fresh) > allowed + self.price[kind]:
                return None
        return out

    def _draw(self, box: int, wanted: int, free: list[float]) -> int | None:
        """Return a kind of sheet that holds a box: cheap for the area it can give, shaken."""
        best, least = None, math.inf
        for s in self.order:
            if free[s] >= 1 and self.space.sizes[s][box]:
                rate = self.price[s] / min(self.space.sheet_area[s], wanted) * (0.6 + 0.8 * self.rng.random())
                if rate < least:
                    best, least = s, rate
        return best

    def _cheapest(self, sheet: Filling, free: list[float]) -> Filling:
        """Return the sheet as the cheapest kind left that holds what lies on it."""
        right = max(r[2] for r in rectangles(sheet.laid))
        top = max(r[3] for r in rectangles(sheet.laid))
        for s in self.cheap:
            if self.price[s] >= self.price[sheet.stock]:
                return sheet
            width, height = self.space.extent[s]
            if free[s] >= 1 and width >= right and height >= top:
                laid = self._turned_for(s, sheet.laid)
                if laid is not None:
                    free[s] -= 1
                    free[sheet.stock] += 1
                    return Filling(self.space, s, laid)
        return sheet

    def _turned_for(self, stock: int, laid: Laid) -> Laid | None:
        """Return what lies on a sheet with the turns for another stock, None where its grain forbids it."""
        found: Laid = []
        for box, (x, y, w, h, _) in laid:
            turn = next((t for a, b, t in self.space.sizes[stock][box] if (a, b) == (w, h)), None)
            if turn is None:
                return None
            found.append((box, (x, y, w, h, turn)))
        return found


class Several:
    """Cheap sheets of several sizes and counts, with the saw's test as a filter where it applies."""

    name = "several"

    def supports(self, problem: Problem) -> bool:
        """Say whether the solver can lay this problem: always."""
        return True

    def __call__(self, problem: Problem, *, seed: int, stop: Stop, start: Layout | None = None) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``start`` if that is better."""
        best = start or Greedy()(problem, seed=seed, stop=Rounds(100))
        space = space_of(problem)
        # What fits no sheet would only be carried along.
        hopeless = [0 if any(rows[b] for rows in space.sizes) else n for b, n in enumerate(best.left_over)]
        known = Layout(best.sheets, tuple(n - h for n, h in zip(best.left_over, hopeless, strict=True)))
        if not known.sheets:
            return best
        search = _Search(space, known, Random(seed))
        top = search.score()
        budget = work_a_round(problem)
        while not stop(score_of(problem, best)):
            work = 0
            while work < budget:
                work += 1 + search.move()
                if search.score() < top:
                    top = search.score()
                    best = space.layout([(s.stock, s.laid) for s in search.sheets])
        return best
