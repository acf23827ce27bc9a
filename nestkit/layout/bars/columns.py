"""Column generation: loads of sticks, the linear program over them, and the bound that its prices prove.

The program is that of P. C. Gilmore and R. E. Gomory, "A linear programming approach to the cutting-stock
problem", Operations Research 9, 1961; the bound from prices that are not yet best is that of A. A. Farley,
"A note on bounding a class of linear programming problems", Operations Research 38, 1990 (both from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from nestkit.layout.bars.knapsack import CELLS, Filled, filled, listed_fillings
from nestkit.layout.bars.problem import LengthProblem, Measure, most_sticks
from nestkit.layout.linear import quiet_solver

SCALE = 10**9
"""Prices of pieces are whole numbers of this part of the dearest stick."""
NEARLY = 1e-7
PROGRAM = 10**6
"""Steps that stand for solving the program once."""
SMOOTH = 0.6
"""How much of the prices with the best bound so far goes into those that the next loads are looked for by."""

Column = tuple[int, tuple[tuple[int, int], ...]]
"""A stock, and how many of which pieces a stick of it gives."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The program's answer: its cost, how often each column, prices of pieces, and of stocks.

    A price in ``limits`` is what one stick more would save, as a number below 0; 0 where any can be bought.
    """

    cost: float
    times: tuple[float, ...]
    prices: tuple[float, ...]
    limits: tuple[float, ...]


class Columns:
    """Loads of sticks as columns of a linear program, and the search for more of them."""

    def __init__(self, problem: LengthProblem, measure: Measure, costs: Sequence[Fraction]) -> None:
        """``costs`` are what sticks count, as shares of the dearest.

        ``work`` counts the steps of all searches for loads, for those who have to end some day.
        """
        self.problem, self.measure = problem, measure
        self.costs = tuple(costs)
        self.stocks = [s for s, room in enumerate(measure.rooms) if room]
        self.columns: list[Column] = []
        self._known: set[Column] = set()
        self.work = 0
        self._many: set[int] = set()
        self._limited = [s for s in self.stocks if problem.sticks[s].count is not None]
        self._highs = self._rows()

    def _rows(self) -> Any:
        import highspy

        highs = quiet_solver()
        for piece in self.problem.pieces:
            highs.addRow(float(piece.quantity), highspy.kHighsInf, 0, [], [])
        for s in self._limited:
            highs.addRow(-highspy.kHighsInf, most_sticks(self.problem, s), 0, [], [])
        return highs

    def add(self, stick: int, pieces: tuple[tuple[int, int], ...]) -> bool:
        """Add a column unless it is known; say whether it was new."""
        import highspy

        column = (stick, pieces)
        if column in self._known:
            return False
        self._known.add(column)
        self.columns.append(column)
        rows, values = [p for p, _ in pieces], [float(n) for _, n in pieces]
        if stick in self._limited:
            rows.append(len(self.problem.pieces) + self._limited.index(stick))
            values.append(1.0)
        self._highs.addCol(float(self.costs[stick]), 0.0, highspy.kHighsInf, len(rows), rows, values)
        return True

    def ask(self, wanted: Sequence[int], free: Sequence[float]) -> None:
        """Ask for so many of each piece from now on, with so many sticks of each stock left."""
        import highspy

        for piece, number in enumerate(wanted):
            self._highs.changeRowBounds(piece, float(number), highspy.kHighsInf)
        for i, s in enumerate(self._limited):
            self._highs.changeRowBounds(len(self.problem.pieces) + i, -highspy.kHighsInf, float(free[s]))

    def relaxed(self) -> Answer | None:
        """Return the answer in fractions of sticks, None if the columns cannot give what is asked for."""
        import highspy

        self._highs.run()
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        solution, pieces = self._highs.getSolution(), len(self.problem.pieces)
        dual = [float(d) for d in solution.row_dual]
        limits = dict(zip(self._limited, dual[pieces:], strict=True))
        return Answer(
            float(self._highs.getInfo().objective_function_value),
            tuple(float(x) for x in solution.col_value),
            tuple(max(0.0, d) for d in dual[:pieces]),
            tuple(min(0.0, limits.get(s, 0.0)) for s in range(len(self.costs))),
        )

    def excess(self, column: Column, answer: Answer) -> float:
        """Return by how much a column costs more than what it gives is worth by an answer's prices."""
        stick, pieces = column
        worth = sum(answer.prices[p] * n for p, n in pieces)
        return float(self.costs[stick]) - answer.limits[stick] - worth

    def grown(
        self,
        wanted: Sequence[int],
        enough: Callable[[Fraction, float], bool],
        rounds: int,
        first: tuple[float, ...] | None = None,
    ) -> tuple[Fraction, Answer | None]:
        """Add columns until none helps, ``enough`` says so of bound and relaxed cost, or rounds are over.

        ``first`` are prices thought to be near the best ones. Return the best bound on what giving all that
        is wanted costs, and the last answer.
        """
        best, centre = Fraction(0), first
        answer = self.relaxed()
        for _ in range(rounds):
            if answer is None or enough(best, answer.cost):
                break
            prices = answer.prices
            if centre is not None:
                prices = tuple(SMOOTH * c + (1 - SMOOTH) * p for c, p in zip(centre, prices, strict=True))
            bound, new = self._priced(prices, answer, wanted)
            if bound > best:
                best, centre = bound, prices
            if not new and prices is not answer.prices:
                # Loads that are good by the mixed prices may bring nothing by the true ones.
                bound, new = self._priced(answer.prices, answer, wanted)
                if bound > best:
                    best, centre = bound, answer.prices
            if not new:
                break
            answer = self.relaxed()
        return best, answer

    def _priced(
        self, prices: Sequence[float], answer: Answer, wanted: Sequence[int]
    ) -> tuple[Fraction, bool]:
        """Look for the best load of each stock by some prices; return their bound, and whether one helps."""
        values = [int(p * SCALE) for p in prices]
        limit = [int(m * SCALE) for m in answer.limits]
        ratio, new = Fraction(0), False
        for s in self.stocks:
            costs = self.costs[s] * SCALE - limit[s]
            load = self._best_load(s, wanted, values, int(costs))
            for copies in (load.copies, *load.others):
                new = self._helps(s, copies, answer) or new
            if costs > 0:
                ratio = max(ratio, Fraction(load.most) / costs)
            elif load.most:
                return Fraction(0), new
        if not ratio:
            return Fraction(0), new
        # Prices that no stick is worth more than it costs: those asked, made less by the worst of them.
        worth = sum(v * n for v, n in zip(values, wanted, strict=True)) / ratio
        given = sum((limit[s] * int(most_sticks(self.problem, s)) for s in self._limited), 0)
        return (worth + given) / SCALE, new

    def _best_load(self, stick: int, wanted: Sequence[int], values: Sequence[int], above: int) -> Filled:
        """Return the load worth most by some values, others above a worth; ``work`` counts what that took."""
        room, takes = self.measure.rooms[stick], self.measure.takes
        self.work += len(takes) * min(room, CELLS) + PROGRAM
        if stick not in self._many:
            listed = listed_fillings(takes, wanted, values, room, above)
            if listed is not None:
                return listed
            # There were too many to list once, and there will be again.
            self._many.add(stick)
        return filled(takes, wanted, values, room, above)

    def _helps(self, stick: int, copies: Sequence[int], answer: Answer) -> bool:
        """Add a load if the program's own prices say that it helps; say whether it was added."""
        column = (stick, tuple((p, n) for p, n in enumerate(copies) if n))
        return self.excess(column, answer) < -NEARLY and self.add(*column)

    def whole(self, most: float, nodes: int, ended: Callable[[], bool]) -> list[Column]:
        """Return columns that give all that is asked for at no more than ``most``; none if not found."""
        import highspy
        import numpy

        every = numpy.arange(len(self.columns))
        self._highs.addRow(
            -highspy.kHighsInf, most, len(every), every, [float(self.costs[s]) for s, _ in self.columns]
        )
        self._highs.changeColsIntegrality(
            len(every), every, numpy.full(len(every), highspy.HighsVarType.kInteger)
        )
        self._highs.setOptionValue("mip_max_nodes", nodes)
        self._highs.setOptionValue("mip_max_improving_sols", 1)

        def interrupt(event: Any) -> None:
            if ended():
                event.interrupt()

        self._highs.cbMipInterrupt += interrupt
        self._highs.run()
        # What the solver says of its answer is not enough: whoever takes it counts the pieces.
        answer = list(self._highs.getSolution().col_value)
        return [c for c, v in zip(self.columns, answer, strict=False) for _ in range(round(v))]
