"""Pieces drawn together to exact contact, by linear programs over the lines that keep them apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from nestkit.layout.linear import quiet_solver
from nestkit.layout.shapes.engine import Model
from nestkit.layout.shapes.tables import Floats, Live, Wholes

TOLERANCE = 1e-9
"""Of the programs, in steps of the fields."""


@dataclass
class Lines:
    """Room for the lines between pieces, made larger when it does not do."""

    pairs: Wholes
    lines: Floats

    @classmethod
    def room(cls, number: int) -> Lines:
        """Return room for so many lines."""
        return cls(np.zeros((number, 2), np.int64), np.zeros((number, 3)))

    def read(self, model: Model, live: Live, reach: float) -> tuple[Wholes, Floats]:
        """Return the lines between pieces that could meet."""
        number = model.call("contacts")(model.tables, live, reach, self.pairs, self.lines)
        while number > len(self.pairs):
            larger = Lines.room(2 * len(self.pairs))
            self.pairs, self.lines = larger.pairs, larger.lines
            number = model.call("contacts")(model.tables, live, reach, self.pairs, self.lines)
        return self.pairs[:number], self.lines[:number]


class Compactor:
    """Shortens the strip of a layout, or parts pieces that overlap a little."""

    def __init__(self, model: Model, live: Live) -> None:
        self._model, self._live, self._moving = model, live, live.moving
        self._lines = Lines.room(64 * len(live.x))
        self._highs = quiet_solver()
        for name, value in (
            ("presolve", "off"),
            ("primal_feasibility_tolerance", TOLERANCE),
            ("dual_feasibility_tolerance", 1e-8),
        ):
            self._highs.setOptionValue(name, value)

    def shorten(self, *, reach: float, tries: int = 12) -> float | None:
        """Move the pieces of a strip (plate 0) by programs that make it short; return its length.

        None where pieces cannot be parted by moves of up to ``reach`` each time; they are then left as they
        were last. The plate's width is not changed.
        """
        live, h = self._live, self._model.tables.step
        length = self.length()
        parted = False
        for _ in range(tries):
            answer = self._program(reach, length)
            if answer is None:
                return None
            moves, shorter = answer
            self._move(moves * h)
            self._inside(length - shorter * h)
            gain = length - self.length()
            length = self.length()
            if parted and gain < 1e-4 * h:
                break
            parted = True
        self._model.call("deepen_all")(self._model.tables, live)
        return length if float(live.depth.max()) == 0.0 else None

    def length(self) -> float:
        """Return how far the pieces reach."""
        return float(np.max(self._moving.x + self._model.tables.box[self._moving.state, 2]))

    def _move(self, by: Floats) -> None:
        """Move the pieces; for what is fixed programs have moves too, of nothing."""
        live = self._moving
        live.x[:] += by[0 : 2 * len(live.x) : 2]
        live.y[:] += by[1 : 2 * len(live.x) : 2]

    def _inside(self, length: Any) -> None:
        """Take pieces back that the program's tolerance put over an edge: of a strip, or of their plates."""
        live, box = self._moving, self._model.tables.box[self._moving.state]
        live.x[:] = np.maximum(np.minimum(live.x, length - box[:, 2]), -box[:, 0])
        live.y[:] = np.maximum(np.minimum(live.y, live.high[live.plate] - box[:, 3]), -box[:, 1])

    def part(self, *, reach: float, tries: int = 8) -> bool:
        """Part pieces on plates that overlap a little; say whether they lie apart after."""
        live, h = self._live, self._model.tables.step
        for _ in range(tries):
            answer = self._program(reach, None)
            if answer is None:
                return False
            moves, _ = answer
            self._move(moves * h)
            self._inside(live.wide[self._moving.plate])
            self._model.call("deepen_all")(self._model.tables, live)
            if float(live.depth.max()) == 0.0:
                return True
        return False

    def _program(self, reach: float, length: float | None) -> tuple[Floats, float] | None:
        """Return the moves and the shortening that a program finds, in steps; None where there are none.

        Without a length plates stay as they are, and the second is the overlap that is left.
        """
        live, h = self._live, self._model.tables.step
        pairs, lines = self._lines.read(self._model, live, reach)
        n, rows, moving = len(live.x), len(pairs), len(live.order)
        box = self._model.tables.box[live.state]
        most = reach / h
        low, high = np.full(2 * n + 1, -most), np.full(2 * n + 1, most)
        low[0:-1:2] = np.maximum(-most, (-box[:, 0] - live.x) / h)
        low[1:-1:2] = np.maximum(-most, (-box[:, 1] - live.y) / h)
        high[1:-1:2] = np.minimum(most, (live.high[live.plate] - box[:, 3] - live.y) / h)
        i, j = 2 * pairs[:, 0], 2 * pairs[:, 1]
        columns = [np.stack([i, i + 1, j, j + 1], axis=1)]
        values = [np.concatenate([-lines[:, :2], lines[:, :2]], axis=1)]
        at_least, at_most = [-lines[:, 2] / h], [np.full(rows, np.inf)]
        if length is None:
            high[0:-1:2] = np.minimum(most, (live.wide[live.plate] - box[:, 2] - live.x) / h)
            low[-1], high[-1] = 0.0, np.inf
            columns[0] = np.column_stack([columns[0], np.full(rows, 2 * n)])
            values[0] = np.column_stack([values[0], np.ones(rows)])
        else:
            columns.append(np.stack([np.arange(moving) * 2, np.full(moving, 2 * n)], axis=1))
            values.append(np.ones((moving, 2)))
            at_least.append(np.full(moving, -np.inf))
            at_most.append(((length - live.x - box[:, 2]) / h)[:moving])
        # What is fixed has moves of nothing, wherever it lies.
        low[2 * moving : -1] = high[2 * moving : -1] = 0.0
        counts = np.concatenate([np.full(len(c), c.shape[1]) for c in columns])
        return self._solved(
            1.0 if length is None else -1.0,
            (low, np.maximum(high, low)),
            (np.concatenate(at_least), np.concatenate(at_most)),
            np.concatenate([[0], np.cumsum(counts)]),
            np.concatenate([c.ravel() for c in columns]),
            np.concatenate([v.ravel() for v in values]),
        )

    def _solved(
        self,
        cost: float,
        bounds: tuple[Floats, Floats],
        limits: tuple[Floats, Floats],
        starts: Wholes,
        columns: Wholes,
        values: Floats,
    ) -> tuple[Floats, float] | None:
        """Return what makes the last column cheapest: the other columns and that one."""
        import highspy

        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(bounds[0]), len(limits[0])
        costs = np.zeros(len(bounds[0]))
        costs[-1] = cost
        lp.col_cost_, lp.col_lower_, lp.col_upper_ = costs, *bounds
        lp.row_lower_, lp.row_upper_ = limits
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = starts.astype(np.int32)
        lp.a_matrix_.index_ = columns.astype(np.int32)
        lp.a_matrix_.value_ = values
        self._highs.passModel(lp)
        self._highs.run()
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        found = np.array(self._highs.getSolution().col_value)
        return found[:-1], float(found[-1])
