"""The cheapest choice among listed loads, by branching: whole numbers found, or proved not to be there.

The linear program only proposes prices. What is proved rests on whole numbers alone: for any prices y of the
rows, those of rows with at least >= 0 and with at most <= 0, a choice x with 0 <= x <= u costs at least
y b + sum of u min(0, c - y A); and with c = 0 a sum above 0 says that there is no choice. Prices from the
solver are made whole first, so its rounding can make a bound weaker but not wrong.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any, Literal

from nestkit.layout.linear import quiet_solver

SCALE = 10**12
"""Costs and prices are whole numbers of this part of the dearest stick: finer than the solver's own."""
PROGRAM = 20_000
"""Work of posing a program and taking its answer; a step of the solver is as much as its rows and loads."""
HIGHEST = 16 * SCALE
"""Prices beyond this are cut: any prices prove something, and sums stay within 63 bits."""
NEARLY = 1e-6
TRIED = 4
"""Branches that are tried before one is taken."""
FEW = 0.01
"""How much each open load of a piece, the fewer the better, counts against a fraction near a half."""


@dataclass(frozen=True, slots=True)
class Row:
    """What a choice has to keep: what each load counts comes to a number, or at least (1), at most (-1)."""

    counts: Any
    sense: Literal[0, 1, -1]
    number: int


@dataclass(frozen=True, slots=True)
class Verdict:
    """How often each load, or None; whether it is sure that nothing else is within the cost asked for."""

    times: tuple[int, ...] | None
    proved: bool


@dataclass(frozen=True, slots=True)
class _Node:
    """A part of all choices: the rows it keeps beside the first ones, and how often each load at most."""

    rows: tuple[Row, ...]
    caps: Any


@dataclass(frozen=True, slots=True)
class _Relaxed:
    """What the program says of a node: how often each load, what each costs beyond its worth, what is left.

    ``left`` is by how much the bound stays below the cost asked for.
    """

    times: Any
    excess: Any
    left: int

    @property
    def dear(self) -> Any:
        """Say of each load whether one of it costs more than what is left."""
        return self.excess > self.left


class Mixes:
    """Choices among loads that give all pieces exactly, cost no more than asked for, and keep limits."""

    def __init__(
        self, costs: Sequence[int], rows: Sequence[Row], caps: Sequence[int], stocks: Sequence[Any], most: int
    ) -> None:
        """``costs`` of loads and the ``most`` they may cost together in SCALE, ``caps`` how often each.

        Rows that are equal are those of pieces. ``stocks`` are loads of one stock, as 0 or 1 of each load.
        """
        import numpy

        self.costs = numpy.array(costs, numpy.int64)
        self.first, self.most, self.stocks = tuple(rows), most, stocks
        self.caps = numpy.array(caps, numpy.int64)
        self.gives = numpy.array([r.counts > 0 for r in rows if r.sense == 0], float)
        self.work, self.sure = 0, True
        self._matrix = numpy.array([r.counts for r in rows], numpy.int64)
        self._highs = quiet_solver()
        # Its first bases must stay, or no proof comes with an answer that there is none.
        self._highs.setOptionValue("presolve", "off")
        for cost in costs:
            self._highs.addCol(cost / SCALE, 0.0, float("inf"), 0, [], [])
        self._posed: list[Row] = []
        self._pose(_Node((), self.caps))

    def solve(self, work: int, stop: Callable[[], bool] = lambda: False) -> Verdict:
        """Look at all choices, the likely ones first, until that takes more work, or the user ends it."""
        nodes = [_Node((), self.caps)]
        while nodes:
            if self.work > work or stop():
                return Verdict(None, False)
            node = nodes.pop()
            relaxed = self._relaxed(node)
            if relaxed is None:
                continue
            whole = relaxed.times.round().astype(int)
            if abs(relaxed.times - whole).max(initial=0.0) > NEARLY:
                nodes += self._branches(node, relaxed)
            elif self._keeps(whole):
                return Verdict(tuple(int(n) for n in whole), False)
            else:
                # Whole but for rounding, and yet none: nothing is known of this part.
                self.sure = False
        return Verdict(None, self.sure)

    def _keeps(self, whole: Any) -> bool:
        """Say whether a choice keeps the first rows and the cost, in whole numbers."""
        if int(whole @ self.costs) > self.most or (whole < 0).any():
            return False
        sums = [(int(whole @ row.counts) - row.number, row.sense) for row in self.first]
        return all(rest == 0 if sense == 0 else rest * sense >= 0 for rest, sense in sums)

    def _branches(self, node: _Node, relaxed: _Relaxed) -> list[_Node]:
        """Return the two parts of a node, the likelier last, or what is left when a part is proved empty."""
        best: tuple[float, list[_Node]] | None = None
        node = _Node(node.rows, self._capped(node, relaxed))
        for among, value in islice(self._fractions(node, relaxed), TRIED):
            down = int(value)
            parts = [
                _Node((*node.rows, Row(among, -1, down)), node.caps),
                _Node((*node.rows, Row(among, 1, down + 1)), node.caps),
            ]
            found = [self._relaxed(part) for part in parts]
            open_parts = [
                _Node(part.rows, self._capped(part, one))
                for part, one in zip(parts, found, strict=True)
                if one is not None
            ]
            if len(open_parts) < 2:
                return open_parts
            closed = [int((part.caps == 0).sum()) for part in open_parts]
            score = min(closed) + 0.2 * max(closed)
            if best is None or score > best[0]:
                best = (score, open_parts)
        if best is None:
            self.sure = False
            return []
        return best[1]

    def _capped(self, node: _Node, relaxed: _Relaxed) -> Any:
        import numpy

        return numpy.where(relaxed.dear, 0, node.caps)

    def _fractions(self, node: _Node, relaxed: _Relaxed) -> Iterator[tuple[Any, float]]:
        """Yield sets of loads that are taken a fraction of times together, those to branch on first."""
        import numpy

        times = relaxed.times
        for among in self.stocks:
            value = float(among @ times)
            if abs(value - round(value)) > NEARLY:
                yield among, value
        # Loads that give both of two lengths: whole numbers of them in any choice.
        both = (self.gives * times) @ self.gives.T
        off = numpy.triu(abs(both - both.round()), 1)
        ways = self.gives[:, node.caps > 0].sum(1)
        score = numpy.where(off > NEARLY, 0.5 - off + FEW * numpy.minimum(ways[:, None], ways), numpy.inf)
        for at in numpy.argsort(score, axis=None, kind="stable")[:TRIED]:
            i, j = divmod(int(at), len(both))
            if off[i, j] > NEARLY:
                yield (self.gives[i] * self.gives[j]).astype(numpy.int64), float(both[i, j])
        if not (off > NEARLY).any():
            part = abs(times - times.round())
            for at in numpy.argsort(-part, kind="stable")[:TRIED]:
                if part[at] > NEARLY:
                    alone = numpy.zeros(len(times), numpy.int64)
                    alone[at] = 1
                    yield alone, float(times[at])

    def _relaxed(self, node: _Node) -> _Relaxed | None:
        """Solve the program of a node; None where whole numbers prove that nothing in it will do.

        None too, and no longer ``sure``, where the solver's answer proves nothing.
        """
        import highspy
        import numpy

        self._pose(node)
        self._highs.run()
        steps = int(self._highs.getInfo().simplex_iteration_count)
        self.work += steps * (len(self._posed) + len(self.costs)) + PROGRAM
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            ray = numpy.array(self._highs.getDualRay()[2], float)
            largest = abs(ray).max(initial=0.0) if len(ray) == len(self._posed) else 0.0
            # The solver does not say which way its ray points.
            ways = (ray / largest, -ray / largest) if largest else ()
            self.sure &= any(self._bound(prices, node.caps, free=True)[0] > 0 for prices in ways)
            return None
        solution = self._highs.getSolution()
        bound, excess = self._bound(numpy.array(solution.row_dual), node.caps, free=False)
        if bound > self.most:
            return None
        return _Relaxed(numpy.array(solution.col_value), excess, self.most - bound)

    def _bound(self, prices: Any, caps: Any, *, free: bool) -> tuple[int, Any]:
        """Return the least that choices within caps cost, loads ``free`` or not, and each load's excess."""
        import numpy

        whole = numpy.clip(prices * SCALE, -HIGHEST, HIGHEST).astype(numpy.int64)
        senses = numpy.array([row.sense for row in self._posed])
        whole[whole * senses < 0] = 0
        excess = (0 if free else self.costs) - whole[: len(self.first)] @ self._matrix
        for row, price in zip(self._posed[len(self.first) :], whole[len(self.first) :], strict=True):
            if price:
                excess -= price * row.counts
        bound = sum(int(p) * row.number for p, row in zip(whole, self._posed, strict=True))
        below = numpy.flatnonzero((excess < 0) & (caps > 0))
        # In Python's own numbers, which do not overflow.
        return bound + sum(int(excess[i]) * int(caps[i]) for i in below), excess

    def _pose(self, node: _Node) -> None:
        """Make the program that of a node; rows that it has already stay."""
        import numpy

        rows = [*self.first, *node.rows]
        same = 0
        while same < min(len(rows), len(self._posed)) and rows[same] is self._posed[same]:
            same += 1
        if same < len(self._posed):
            old = numpy.arange(same, len(self._posed), dtype=numpy.int32)
            self._highs.deleteRows(len(old), old)
        for row in rows[same:]:
            where = numpy.flatnonzero(row.counts)
            self._highs.addRow(
                float(row.number) if row.sense >= 0 else -float("inf"),
                float(row.number) if row.sense <= 0 else float("inf"),
                len(where),
                where,
                row.counts[where].astype(float),
            )
        self._posed = rows
        every = numpy.arange(len(self.costs), dtype=numpy.int32)
        upper = numpy.where(node.caps > 0, numpy.inf, 0.0)
        self._highs.changeColsBounds(len(every), every, numpy.zeros(len(every)), upper)
