"""The finish of a layout: the rest of the emptiest plate in one piece, extras where there is room."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from nestkit.layout.shapes.engine import Model
from nestkit.layout.shapes.filled import Filled, places_of, spread_of
from nestkit.layout.shapes.problem import ShapesProblem, extras_of
from nestkit.layout.shapes.separate import Separator
from nestkit.layout.shapes.standing import Standing, may_be
from nestkit.layout.shapes.strip import StripSearch

ROUNDS = 200
"""Most tries to shorten what lies on the emptiest plate."""


class Finish:
    """Finishes layouts of a problem's pieces (their kinds)."""

    def __init__(self, model: Model, problem: ShapesProblem, pieces: Sequence[int], seed: int) -> None:
        self._model, self._problem = model, problem
        self._pieces, self._seed = list(pieces), seed
        self._standing = Standing(model.known, problem)

    def gathered(self, filled: Filled, work: int, stop: Callable[[], bool]) -> Filled:
        """Return a layout whose emptiest plate has few pieces, and those at its left end.

        ``work`` is what may be spent on it, and ``stop`` may end it before.
        """
        if not filled.plates or filled.missing:
            return filled
        stock = self._problem.plates
        emptied = self._emptied(filled, self._emptiest(filled)).without_empty(stock)
        filled = emptied if may_be(stock, emptied.plates) else filled
        last = self._emptiest(filled)
        own = filled.on(last)
        if not own:
            return filled
        spread = spread_of([(0, at[1]) for at in (filled.laid[k] for k in own) if at is not None])
        height, pinned = stock[filled.plates[last]].height, self._standing.pinned([filled.plates[last]])
        pieces = [self._pieces[k] for k in own]
        search = StripSearch(self._model, pieces, spread, [height], self._seed, pinned)
        search.run(lambda: stop() or search.separator.work >= work, ROUNDS)
        return filled.moved(own, [(last, place) for _, place in places_of(search.best)])

    def with_extras(self, filled: Filled) -> tuple[list[int], Filled]:
        """Return all pieces (their kinds) with the extras, and where they lie; some extras have no place."""
        extras = extras_of(self._problem.kinds)
        pieces = [*self._pieces, *extras]
        whole = Filled(filled.plates, (*filled.laid, *[None] * len(extras)))
        if not extras or not filled.plates:
            return pieces, whole
        sep, last = self._separator(pieces, whole), self._emptiest(filled)
        return pieces, self._inserted(sep, whole, range(len(filled.laid), len(pieces)), last, into_last=True)

    def _emptied(self, filled: Filled, last: int) -> Filled:
        """Return the layout with as many of a plate's pieces on others as have room there."""
        if len(filled.plates) == 1:
            return filled
        own = sorted(filled.on(last), key=lambda k: (-self._model.known.hulls[self._pieces[k]], k))
        sep = self._separator(self._pieces, filled)
        return self._inserted(sep, filled, own, last, into_last=False)

    def _inserted(
        self, sep: Separator, filled: Filled, own: Sequence[int], last: int, *, into_last: bool
    ) -> Filled:
        """Put pieces where others leave room, on one plate only if so said; those without room stay."""
        live, places = sep.live, {}
        for k in own:
            before = live.plate[k], live.state[k], live.x[k], live.y[k]
            for first, end in ((0, last), (last + 1, len(filled.plates)), (last, last + 1)):
                if first >= end or (first == last and not into_last):
                    continue
                live.plate[k] = -1
                cost = self._model.call("insert")(self._model.tables, live, k, first, end)
                if cost < np.inf and live.depth[k].max() == 0.0:
                    places[k] = int(live.plate[k]), (int(live.state[k]), float(live.x[k]), float(live.y[k]))
                    break
                live.plate[k], live.state[k], live.x[k], live.y[k] = before
                self._model.call("deepen")(self._model.tables, live, k)
        return filled.moved(list(places), list(places.values()))

    def _separator(self, pieces: Sequence[int], filled: Filled) -> Separator:
        """Return pieces on plates, those without a place on none."""
        stock = [self._problem.plates[k] for k in filled.plates]
        sep = Separator(
            self._model, list(pieces), [p.width for p in stock], [p.height for p in stock], self._seed,
            self._standing.pinned(filled.plates),
        )  # fmt: skip
        sep.set_down(filled.laid)
        return sep

    def _emptiest(self, filled: Filled) -> int:
        """Return the plate that pieces cover the least share of, of equal ones the last.

        Those that have to be used come after all others.
        """
        known, stock = self._model.known, self._problem.plates
        area = [self._standing.taken[k] for k in filled.plates]
        for kind, at in zip(self._pieces, filled.laid, strict=True):
            if at is not None:
                area[at[0]] += known.form_of(kind).true.area
        share = [a / (stock[k].width * stock[k].height) for a, k in zip(area, filled.plates, strict=True)]
        must = [stock[k].must for k in filled.plates]
        return min(range(len(share)), key=lambda n: (must[n], share[n], -n))
