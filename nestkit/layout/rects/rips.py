"""Sheets ripped into well-filled strips, one after the other, with the parts that are hard to lay worth more.

Sheets that take what fits best leave the poor ones to the end. So a part is worth a little more than its area
the larger it is, and more if it lay on poorly filled sheets in the tries before (a sequential correction of
values, after E. A. Mukhacheva, from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from random import Random

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.engine import rips as kernel
from nestkit.layout.rects.engine.arrays import UNIT, Row
from nestkit.layout.rects.engine.rips import COPIES, DEEP, ENTRY, KIND, LAID, LONG, WORK, new_rips
from nestkit.layout.rects.engine.twin import Form, Kernels
from nestkit.layout.rects.greedy import stock_order, worth_trying
from nestkit.layout.rects.space import Laid, Sheets, Space, rectangles, score_of, space_of
from nestkit.layout.stop import Stop

KERNELS = Kernels("rips", (kernel,))
CELLS = 1600
"""Most cells along a sheet: finer steps are rounded, parts up and sheets down."""
MOST_STACKED = 2
"""Copies of a part that may lie one above the other in a strip, where a third stage parts them."""
LARGER_IS_WORTH_MORE = 0.08
"""Most that the power of its area, by which a part is worth, is above one."""
TRIES, MOST_WORK = 12, 4_000_000_000
"""Layouts, and values of tables worked out for all of them: the one that would take more is given up."""
LARGEST_TABLE = 20_000_000
"""Values in a table; with more there is not the memory, nor the time."""
LEAST_ON_A_SHEET = 5
"""With fewer parts on a sheet, on average, strips have too little to choose from."""
SHAKE, LEARN = 0.02, 0.3
"""How much values differ from sheet to sheet by chance, and what the last try counts among all."""


@cache
def compiled() -> Form:
    """Return the functions compiled, from the cache or else at their first call."""
    return KERNELS.compiled()


def worth_ripping(problem: Problem, layout: Layout) -> bool:
    """Say whether strips can fill sheets well: two stages to cut them, and some parts for each sheet."""
    pieces = sum(b.quantity for b in problem.boxes)
    return problem.depth >= 2 and pieces >= LEAST_ON_A_SHEET * len(layout.sheets)


class Ripper:
    """A stock and a direction of its strips, with the kernel's rows; each sheet starts afresh."""

    def __init__(self, space: Space, stock: int, form: Form, *, along_x: bool) -> None:
        self.space, self.stock, self.form, self.along_x = space, stock, form, along_x
        wide, high = space.extent[stock] if along_x else space.extent[stock][::-1]
        unit = -(-max(wide, high, 1) // CELLS)
        stacked = MOST_STACKED if space.problem.depth >= 3 else 1
        entries = []
        for box, sizes in enumerate(space.sizes[stock]):
            for w, h, turn in sizes:
                long, deep = (w, h) if along_x else (h, w)
                for copies in range(1, stacked + 1):
                    entry = (box, -(-long // unit), -(-deep * copies // unit), copies)
                    if entry[LONG] <= wide // unit and entry[DEEP] <= high // unit:
                        entries.append((entry, (long, deep, turn)))
        entries.sort(key=lambda e: (e[0][DEEP], e[0][LONG], e[0][KIND]))
        self.sizes = [size for _, size in entries]
        self.entries = [entry for entry, _ in entries]
        self.cells = wide // unit, high // unit
        self.table = (len(entries) + 1) * (wide // unit + 1)
        self.rows: kernel.Rips

    def begin(self, table: Row) -> None:
        """Take a table to work in, which others use in their turn."""
        problem = self.space.problem
        pieces = sum(b.quantity for b in problem.boxes)
        self.rows = new_rips(self.form.row, self.entries, len(problem.boxes), pieces, *self.cells, table)

    @property
    def work(self) -> int:
        """The values of tables worked out so far."""
        return int(self.rows.counts[WORK])

    def filled(self, left: list[int], values: list[int]) -> Laid:
        """Return what lies on a sheet that is filled from what is left; empty where the saw cannot follow."""
        rows = self.rows
        for kind, (number, value) in enumerate(zip(left, values, strict=True)):
            rows.left[kind], rows.value[kind] = number, value
        self.form.functions["rip"](rows)
        strips: list[list[int]] = []
        for i in range(int(rows.counts[LAID])):
            entry, strip = int(rows.laid[2 * i]), int(rows.laid[2 * i + 1])
            if strip == len(strips):
                strips.append([])
            strips[strip].append(entry)
        laid: Laid = []
        up = 0
        for strip_entries in strips:
            along = deepest = 0
            for entry in strip_entries:
                box, copies = int(rows.entry[entry * ENTRY]), int(rows.entry[entry * ENTRY + COPIES])
                long, deep, turn = self.sizes[entry]
                for n in range(copies):
                    x, y = along, up + n * deep
                    laid.append((box, (x, y, long, deep, turn) if self.along_x else (y, x, deep, long, turn)))
                along += long
                deepest = max(deepest, copies * deep)
            up += deepest
        if self.space.sawable is None or self.space.sawable(rectangles(laid)):
            return laid
        return []


class Ripped:
    """Layouts of ripped sheets, try after try."""

    def __init__(self, problem: Problem, form: Form, *, seed: int) -> None:
        self.problem, self.space = problem, space_of(problem)
        self.rng = Random(seed)
        self.hard = [1.0] * len(problem.boxes)
        self.needed = [b.quantity for b in problem.boxes]
        self.supply = [math.inf if s.count is None else s.count for s in problem.stocks]
        self.rippers = [
            Ripper(self.space, s, form, along_x=along_x)
            for s in range(len(problem.stocks))
            for along_x in (True, False)
            if self.space.sheet_area[s] and problem.first in ("any", "x" if along_x else "y")
        ]

    def __call__(self, best: Layout, stop: Stop, ended: Callable[[], bool] = lambda: False) -> Layout:
        """Return the best of some layouts, or ``best``.

        ``stop`` is asked before each, ``ended`` before each sheet.
        """
        largest = max((r.table for r in self.rippers), default=0)
        if not 0 < largest <= LARGEST_TABLE:
            return best
        table = self.rippers[0].form.row(largest)
        for ripper in self.rippers:
            ripper.begin(table)
        for _ in range(TRIES):
            if stop(score_of(self.problem, best)):
                break
            sheets = self._sheets(lambda: self._worn_out() or ended())
            if sheets is None:
                break
            self._learn(sheets)
            layout = self.space.layout(sheets)
            if score_of(self.problem, layout) < score_of(self.problem, best):
                best = layout
        return best

    def _worn_out(self) -> bool:
        """Say whether the work that is worth while is done."""
        return sum(r.work for r in self.rippers) > MOST_WORK

    def _sheets(self, ended: Callable[[], bool]) -> Sheets | None:
        """Return sheets for all parts, as far as sheets are left; None if ended before."""
        space, whole = self.space, max(self.space.sheet_area)
        power = 1 + LARGER_IS_WORTH_MORE * self.rng.random()
        # Large numbers, so that their rounding to whole ones does not decide.
        worth = [1000 * UNIT * (a / whole) ** power * h for a, h in zip(space.area, self.hard, strict=True)]
        left, free = list(self.needed), list(self.supply)
        order = stock_order(space)
        sheets: Sheets = []
        while any(left):
            if ended():
                return None
            values = [max(1, round(v * (1 + SHAKE * self.rng.random()))) for v in worth]
            area = sum(n * a for n, a in zip(left, space.area, strict=True))
            there = [s for s in order if free[s]]
            likely = worth_trying(space, there, area)
            trials = self._trials(likely, left, values)
            trials = trials or self._trials([s for s in there if s not in likely], left, values)
            if not trials:
                break
            chosen = self._chosen(trials, values, left)
            free[chosen[0]] -= 1
            sheets.append(chosen)
            for box, _ in chosen[1]:
                left[box] -= 1
        return sheets

    def _trials(self, stocks: list[int], left: list[int], values: list[int]) -> Sheets:
        """Return a sheet of each of some stocks, filled along either direction, but for empty ones."""
        rippers = [r for r in self.rippers if r.stock in stocks]
        return [(r.stock, laid) for r in rippers if (laid := r.filled(left, values))]

    def _chosen(self, trials: Sheets, values: list[int], left: list[int]) -> tuple[int, Laid]:
        """Return the sheet that gives most for its price, or one that takes all and costs little more.

        What costs nothing comes first.
        """
        stocks, wanted = self.problem.stocks, sum(left)
        cheapest = min((s.cost for s in stocks if s.cost), default=1)

        def gives(trial: tuple[int, Laid]) -> float:
            stock, laid = trial
            price = float(stocks[stock].cost) or float(cheapest) / UNIT * self.space.sheet_area[stock]
            return sum(values[box] for box, _ in laid) / price

        best = max(trials, key=gives)
        last = [t for t in trials if len(t[1]) == wanted]
        end = min(last, key=lambda t: stocks[t[0]].cost, default=None)
        if end is not None and stocks[end[0]].cost < stocks[best[0]].cost + cheapest:
            return end
        return best

    def _learn(self, sheets: Sheets) -> None:
        """Make parts worth more that lay on poorly filled sheets."""
        space = self.space
        poor = [0.0] * len(self.hard)
        number = [0] * len(self.hard)
        for stock, laid in sheets:
            fill = sum(space.area[box] for box, _ in laid) / space.sheet_area[stock]
            for box, _ in laid:
                poor[box] += 1 / fill
                number[box] += 1
        for box, n in enumerate(number):
            if n:
                self.hard[box] += LEARN * (poor[box] / n - self.hard[box])
