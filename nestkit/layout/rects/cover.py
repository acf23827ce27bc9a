"""Cheaper sets of sheets out of all that a search has seen: set covering, by the HiGHS solver.

Every sheet seen is a column: the parts on it and what it costs. Columns that together hold every part and
cost less than the best layout are a better layout, once parts that are held twice are taken off.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import Any

from nestkit.layout.linear import prices_of, quiet_solver
from nestkit.layout.problem import Layout
from nestkit.layout.rects.engine.arrays import (
    KIND,
    KNOWN,
    MARK,
    OF_TYPE,
    PART,
    PARTS,
    SEEN_FACTS,
    START,
    USED,
    Seen,
)
from nestkit.layout.rects.engine.state import laid_in
from nestkit.layout.rects.space import Laid, Sheets, Space, rectangles, score_of

NODES = 100
"""Nodes of the tree of whole numbers: a limit that is the same on every machine."""
MOST_COLUMNS, MOST_WHOLE = 20_000, 4000
"""Columns kept from one step to the next, and columns of which whole numbers are taken: the best ones."""
A_SHEET = 1e-4
"""What every sheet counts beside its cost as a share of the dearest: with equal cost fewer are better."""
TINY = 1e-7


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The cover in parts of sheets: its cost, how much of each column is taken, what each lacks.

    No cover by the columns known costs less than ``cost``, and none with a column costs less than ``cost``
    and what that column lacks.
    """

    cost: float
    taken: Any
    lacks: Any


class Cover:
    """The sheets that a search has seen, as columns of a set cover.

    ``sheet`` and ``part`` are arrays of records as in :class:`~nestkit.layout.rects.engine.arrays.Seen`.
    """

    def __init__(self, space: Space, best: Layout) -> None:
        import numpy

        self.space = space
        prices, self.grain = prices_of([s.cost for s in space.problem.stocks])
        """What a cheaper layout is cheaper by at least."""
        self.price = numpy.array(prices) + A_SHEET
        sheets: list[list[int]] = []
        parts: list[list[int]] = []
        for i, s in enumerate(best.sheets):
            laid = space.laid(s)
            sheets.append([s.stock, len(laid), 0, len(parts), -1 - i])
            parts += [[kind, x, y, x + w, y + h] for kind, (x, y, w, h, _) in laid]
        self.sheet = numpy.array(sheets, numpy.int64).reshape(-1, SEEN_FACTS)
        self.part = numpy.array(parts, numpy.int64).reshape(-1, PART)

    def add(self, seen: Seen) -> None:
        """Take in the sheets that a search has seen; one of each content is enough."""
        import numpy

        known, used = int(seen.counts[KNOWN]), int(seen.counts[USED])
        fresh = numpy.array(seen.sheet).reshape(-1, SEEN_FACTS)[:known]
        fresh[:, START] += len(self.part)
        self.sheet = numpy.concatenate([self.sheet, fresh])
        self.part = numpy.concatenate([self.part, numpy.array(seen.part).reshape(-1, PART)[:used]])
        _, first = numpy.unique(self.sheet[:, MARK], return_index=True)
        self._keep(numpy.sort(first))

    def most_for(self, best: Layout) -> float:
        """Return the most that a layout better than ``best`` counts for."""
        paid = sum(self.price[s.stock] for s in best.sheets)
        # Either it costs less, or the same with a sheet less.
        same_price = len(set(self.price)) == 1
        return float(paid) - (self.grain if same_price else 0) - A_SHEET + TINY

    def relaxed(self) -> Relaxed:
        """Return the cover in parts of sheets; of very many columns only the best are kept."""
        import numpy

        highs = self._model(numpy.arange(len(self.sheet)))
        highs.run()
        answer = highs.getSolution()
        taken, lacks = numpy.array(answer.col_value), numpy.array(answer.col_dual)
        if len(lacks) > MOST_COLUMNS:
            best = numpy.sort(numpy.argsort(lacks, kind="stable")[:MOST_COLUMNS])
            self._keep(best)
            taken, lacks = taken[best], lacks[best]
        return Relaxed(highs.getInfo().objective_function_value, taken, lacks)

    def better_than(
        self, best: Layout, relaxed: Relaxed, ended: Callable[[], bool] = lambda: False
    ) -> Layout | None:
        """Return a better layout than ``best``, which has a place for every part; None if none is found.

        ``ended`` says whether the user ended the search.
        """
        import numpy

        most = self.most_for(best)
        if relaxed.cost > most:
            return None
        order = numpy.argsort(relaxed.lacks, kind="stable")[:MOST_WHOLE]
        useful = numpy.sort(order[relaxed.lacks[order] <= most - relaxed.cost + TINY])
        taken = self._whole(useful, most, ended)
        layout = None if taken is None else self._layout(taken)
        if layout is None or score_of(self.space.problem, layout) >= score_of(self.space.problem, best):
            return None
        return layout

    def rounded(self, relaxed: Relaxed, sheets: int, rng: Random) -> tuple[Sheets, list[int]]:
        """Return so many sheets of which the relaxed cover takes much, and the parts on none of them.

        Stocks are of one size here.
        """
        columns = [int(c) for c in relaxed.taken.nonzero()[0]]
        columns.sort(key=lambda c: -relaxed.taken[c] * (0.5 + rng.random()))
        wanted = [b.quantity for b in self.space.problem.boxes]
        found: Sheets = []
        for column in columns:
            if len(found) == sheets:
                break
            stock, laid = self._column(column)
            kept = self._still(wanted, laid)
            if 2 * sum(self.space.area[k] for k, _ in kept) >= sum(self.space.area[k] for k, _ in laid):
                found.append((stock, kept))
                for kind, _ in kept:
                    wanted[kind] -= 1
        found += [(0, [])] * (sheets - len(found))
        return found, [k for k, n in enumerate(wanted) for _ in range(n)]

    def _column(self, column: int) -> tuple[int, Laid]:
        """Return a column's stock and parts."""
        stock, number, _, start, _ = (int(v) for v in self.sheet[column])
        return stock, laid_in(self.space, stock, self.part[start : start + number].ravel(), 0, number)

    def _still(self, wanted: list[int], laid: Laid) -> Laid:
        """Return the parts of a sheet that are still wanted; none where no saw could cut just these."""
        left = list(wanted)
        kept: Laid = []
        for kind, place in laid:
            if left[kind]:
                left[kind] -= 1
                kept.append((kind, place))
        if self.space.sawable is not None and not self.space.sawable(rectangles(kept)):
            # Without what separated them first, parts may ask for another first direction of cutting.
            return []
        return kept

    def _records(self, columns: Any) -> tuple[Any, Any, Any]:
        """Return columns' records of sheets and of parts, and where in these each column's begin."""
        import numpy

        sheet = self.sheet[columns]
        lengths = sheet[:, PARTS]
        starts = numpy.cumsum(lengths) - lengths
        rows = numpy.repeat(sheet[:, START] - starts, lengths) + numpy.arange(lengths.sum())
        return sheet, self.part[rows], starts

    def _keep(self, columns: Any) -> None:
        """Keep some of the columns, by their numbers in rising order."""
        self.sheet, self.part, starts = self._records(columns)
        self.sheet[:, START] = starts

    def _entries(self, columns: Any) -> tuple[Any, Any, Any]:
        """Return starts, rows and values of the columns' entries: how many parts of which kind each holds."""
        import numpy

        sheet, part, _ = self._records(columns)
        owner = numpy.repeat(numpy.arange(len(columns)), sheet[:, PARTS])
        kinds = len(self.space.problem.boxes)
        code, counts = numpy.unique(owner * kinds + part[:, KIND], return_counts=True)
        starts = numpy.searchsorted(code, numpy.arange(len(columns) + 1) * kinds)
        return starts, code % kinds, counts

    def _model(self, columns: Any) -> Any:
        """Return the solver with the relaxed problem: each kind held as often as asked, stocks kept."""
        import highspy
        import numpy

        problem = self.space.problem
        kinds, stock = len(problem.boxes), self.sheet[columns, OF_TYPE]
        starts, rows, values = self._entries(columns)
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = len(columns), kinds
        model.col_cost_ = self.price[stock]
        model.col_lower_ = numpy.zeros(len(columns))
        model.col_upper_ = numpy.full(len(columns), highspy.kHighsInf)
        model.row_lower_ = numpy.array([b.quantity for b in problem.boxes], float)
        model.row_upper_ = numpy.full(kinds, highspy.kHighsInf)
        model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        model.a_matrix_.start_ = starts
        model.a_matrix_.index_ = rows
        model.a_matrix_.value_ = values.astype(float)
        highs = quiet_solver()
        highs.passModel(model)
        for s, one in enumerate(problem.stocks):
            if one.count is not None:
                of_it = numpy.flatnonzero(stock == s)
                highs.addRow(0, one.count, len(of_it), of_it, numpy.ones(len(of_it)))
        return highs

    def _whole(self, useful: Any, most: float, ended: Callable[[], bool]) -> list[int] | None:
        """Return columns, each as often as it is taken, that hold all parts for ``most``; else None."""
        import highspy
        import numpy

        highs = self._model(useful)
        every = numpy.arange(len(useful))
        prices = self.price[self.sheet[useful, OF_TYPE]]
        highs.addRow(-highspy.kHighsInf, most, len(useful), every, prices)
        highs.changeColsIntegrality(
            len(useful), every, numpy.full(len(useful), highspy.HighsVarType.kInteger)
        )
        highs.setOptionValue("mip_max_nodes", NODES)
        highs.setOptionValue("mip_max_improving_sols", 1)

        def interrupt(event: Any) -> None:
            if ended():
                event.interrupt()

        highs.cbMipInterrupt += interrupt
        highs.run()
        # What the solver says of its answer is not enough: the parts held are counted.
        answer = list(highs.getSolution().col_value)
        taken = [int(c) for c, v in zip(useful, answer, strict=False) for _ in range(round(v))]
        return taken or None

    def _layout(self, taken: list[int]) -> Layout | None:
        """Return the layout of columns, parts that are held too often taken off; None if it cannot be one."""
        wanted = [b.quantity for b in self.space.problem.boxes]
        sheets = []
        for column in taken:
            stock, laid = self._column(column)
            kept = self._still(wanted, laid)
            for kind, _ in kept:
                wanted[kind] -= 1
            sheets.append((stock, kept))
        return None if any(wanted) else self.space.layout(sheets)
