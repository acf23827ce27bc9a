"""The shortest strip of a given height for all pieces: overlap is removed at ever shorter lengths."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from nestkit.layout.rects.engine.twin import Form, can_compile
from nestkit.layout.shapes.compact import Compactor
from nestkit.layout.shapes.construct import first_layout
from nestkit.layout.shapes.disturb import Disturber
from nestkit.layout.shapes.engine import Model, compiled, model_of, plain
from nestkit.layout.shapes.problem import Kind, Laid
from nestkit.layout.shapes.separate import Separator, Spread
from nestkit.layout.shapes.states import moved_by

GRID = 50
"""Steps of the depth fields across the strip."""
FIRST_SHARE, LAST_SHARE = 0.01, 0.0008
"""By how much a strip is shortened at once, at first and at least."""
LESS, MORE = 0.6, 1.5
"""That share falls after a failure and rises after a success."""
SQUEEZE = 0.3
"""How often a try begins from the best layout, not from one that failed."""
PATIENCE, STRIKES = 100, 3
EASY, EASY_PATIENCE = 2, 40
"""Sweeps without gain, so many times, end a try; the first tries after a success are given up sooner."""
POOL, PICK = 20, 0.25
"""Failed states that are kept; how far down the list, by overlap, they are picked (a share, as sigma)."""
SWAPS, GROUPS, ROLLS = 0.4, 0.3, 0.1
"""How often which disturbance; the rest are scattered."""
SCATTERED = 0.15
REACH = 2.0
"""How far programs may move a piece at a time, in steps."""
GAIN = 2e-5
"""A smaller share of the length is no success: the layout is the one before, drawn together again."""
ROUNDING = 1e-9
"""Shares of a length that do not count."""

Way = Literal["squeeze", "swap", "group", "roll", "scatter"]


class TooHighError(ValueError):
    """A piece is higher than the strip however it is turned."""


@dataclass(frozen=True, slots=True)
class Strip:
    """The length used, and where every piece lies."""

    length: float
    pieces: tuple[Laid, ...]


def strip(
    kinds: Sequence[Kind],
    height: float,
    gap: float = 0.0,
    *,
    seed: int,
    rounds: int,
    stop: Callable[[], bool] = lambda: False,
    form: Form | None = None,
) -> Strip:
    """Return a short strip with all pieces of all kinds (extras left out), a gap apart from one another.

    The same seed and rounds give the same strip; ``stop`` may end the search before. Without the compiler
    the first layout is drawn together, no more. Raises :class:`TooHighError`.
    """
    form = form or (compiled() if can_compile() else plain())
    search = StripSearch(kinds, height, gap, seed, form)
    if form.name == "compiled":
        search.run(stop, rounds)
    return search.result()


class StripSearch:
    """The search for a short strip; the best so far never overlaps."""

    def __init__(self, kinds: Sequence[Kind], height: float, gap: float, seed: int, form: Form) -> None:
        self.model: Model = model_of(kinds, gap, height / GRID, form)
        self._pieces = [k for k, kind in enumerate(kinds) for _ in range(kind.count)]
        known, hulls = self.model.known, self.model.hulls
        first = first_layout(known, self.model.polygons, self._pieces, hulls, height)
        if first is None:
            raise TooHighError("a piece is higher than the strip")
        state = np.array([s for s, _, _ in first], np.int64)
        x, y = np.array([p[1:] for p in first]).T
        self.best = Spread(x.copy(), y.copy(), state, np.zeros(len(first), np.int64), 0.0)
        self.length = float(np.max(x + self.model.tables.box[state, 2]))
        self.separator = Separator(self.model, self._pieces, [self.length], [height], seed)
        self._live = self.separator.live
        self._compactor = Compactor(self.model, self._live)
        self.least = self._least(height)
        rng = np.random.default_rng(seed)
        self._rng, self._disturber = rng, Disturber(self.model, self._live, rng)
        self.wins: list[tuple[float, Way, bool]] = []
        """Every gain: the length, what it began with, and whether the program parted pieces for it."""
        self.separator.take(self.best)
        self._keep()

    def _least(self, height: float) -> float:
        """Return a length that no layout can beat: that of all areas, or of the longest piece."""
        known, box = self.model.known, self.model.tables.box
        of_kind = [known.of_kind[k] for k in self._pieces]
        area = sum(known.forms[known.states[s[0]].form].true.area for s in of_kind)
        fitting = [[s for s in states if box[s, 3] - box[s, 1] <= height] for states in of_kind]
        widest = max(min(float(box[s, 2] - box[s, 0]) for s in states) for states in fitting)
        return max(float(area) / height, widest)

    def run(self, stop: Callable[[], bool], rounds: int) -> None:
        """Shorten the strip until told to stop."""
        share, fails = FIRST_SHARE, 0
        pool: list[Spread] = []
        for _ in range(rounds):
            if stop() or self.length <= self.least * (1 + ROUNDING):
                return
            way = self._begin(pool, share, fails)
            self.separator.settle()
            hard = fails >= EASY
            parted = self.separator.attempt(
                patience=PATIENCE if hard else EASY_PATIENCE, strikes=STRIKES if hard else 1, stop=stop
            )
            won = parted and self._keep()
            if not won:
                # The least overlap may still be parted at a length that beats the best.
                low = self.separator.least()
                pool = sorted([*pool, low], key=lambda s: s.overlap)[:POOL]
                self.separator.take(low)
                parted, won = False, self._keep()
            if won:
                self.wins.append((self.length, way, not parted))
                share = min(FIRST_SHARE, share * MORE)
                fails, pool = 0, []
            else:
                fails += 1
                share = max(LAST_SHARE, LESS * share)

    def _begin(self, pool: list[Spread], share: float, fails: int) -> Way:
        """Put the pieces where a try begins, on a shorter strip; return which way was taken."""
        if not pool or self._rng.random() < SQUEEZE:
            self.separator.take(self.best)
            self._live.wide[0] = self.length
            by = share * (self._rng.uniform(0.1, 1.0) if fails else 1.0)
            self._disturber.narrow(self.length * (1 - by))
            return "squeeze"
        self._live.wide[0] = self.length * (1 - share)
        self.separator.take(pool[int(min(abs(self._rng.normal(0, PICK)), 0.999) * len(pool))])
        luck = self._rng.random()
        if luck < SWAPS:
            self._disturber.swap()
            return "swap"
        if luck < SWAPS + GROUPS:
            self._disturber.swap_with_all_there()
            return "group"
        if luck < SWAPS + GROUPS + ROLLS:
            self._disturber.roll()
            return "roll"
        self._disturber.scatter(SCATTERED)
        return "scatter"

    def _keep(self) -> bool:
        """Draw the pieces together and keep them if that is the shortest; say whether it is by something."""
        found, before = self._compactor.shorten(reach=REACH * self.model.tables.step), self.length
        if found is None or found >= before * (1 - ROUNDING):
            return False
        self.best, self.length = self.separator.spread(), found
        return found < before * (1 - GAIN)

    def result(self) -> Strip:
        """Return the best layout, by the shapes' own origins."""
        pieces = []
        for kind, s, x, y in zip(self._pieces, self.best.state, self.best.x, self.best.y, strict=True):
            state = self.model.known.states[s]
            dx, dy = moved_by(self.model.known.forms[state.form].middle, state)
            pieces.append(Laid(kind, float(x) + dx, float(y) + dy, state.turn_deg, state.mirrored))
        return Strip(self.length, tuple(pieces))
