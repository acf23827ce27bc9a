"""The shortest strip of a given height for all pieces: overlap is removed at ever shorter lengths."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf

import numpy as np

from nestkit.layout.rects.engine.twin import Form, can_compile
from nestkit.layout.shapes.compact import Compactor
from nestkit.layout.shapes.construct import first_layout
from nestkit.layout.shapes.disturb import Disturber
from nestkit.layout.shapes.engine import Model, compiled, model_of, plain
from nestkit.layout.shapes.filled import places_of, spread_of
from nestkit.layout.shapes.pool import Pool, Way
from nestkit.layout.shapes.problem import Kind, Laid, pieces_of
from nestkit.layout.shapes.separate import Separator, Spread
from nestkit.layout.shapes.standing import Pinned
from nestkit.layout.shapes.states import laid_of

GRID = 50
"""Steps of the depth fields across the strip."""
FIRST_SHARE, LAST_SHARE = 0.01, 0.0008
"""By how much a strip is shortened at once, at first and at least."""
LESS, MORE = 0.6, 1.5
"""That share falls after a failure and rises after a success."""
SQUEEZE = 0.3
"""How often a try begins from the present layout, not from one that failed."""
PATIENCE, STRIKES = 100, 3
EASY, EASY_PATIENCE = 2, 40
"""Sweeps without gain, so many times, end a try; the first tries after a success are given up sooner."""
STALL, STALL_OF_PIECE, MORE_STALL = 8, 0.25, 2
"""Failures in a row after which the search goes elsewhere, or back: so many, or so many for every piece,
for more pieces are more ways to go on; and so many more every time it is back."""
STREWN, LOOSE = 0.4, 1.01
"""The share of the pieces that are strewn anew elsewhere, on a strip that is longer by this factor."""
REACH = 2.0
"""How far programs may move a piece at a time, in steps."""
LONGER = 1.05
"""By how much plates are longer when not all pieces found a place on them at first."""
GAIN = 2e-5
"""A smaller share of the length is no success: the layout is the one before, drawn together again."""
ROUNDING = 1e-9
"""Shares of a length that do not count."""


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
    found = strips(kinds, [height], gap, seed=seed, rounds=rounds, stop=stop, form=form)
    return Strip(found.length, found.plates[0])


@dataclass(frozen=True, slots=True)
class Strips:
    """The length that all plates have, and where the pieces lie on each."""

    length: float
    plates: tuple[tuple[Laid, ...], ...]


def strips(
    kinds: Sequence[Kind],
    heights: Sequence[float],
    gap: float = 0.0,
    *,
    seed: int,
    rounds: int,
    stop: Callable[[], bool] = lambda: False,
    form: Form | None = None,
) -> Strips:
    """Return all pieces on plates of given heights and one length, a short one; else as :func:`strip`."""
    form = form or (compiled() if can_compile() else plain())
    model = model_of(kinds, gap, min(heights) / GRID, form)
    pieces = pieces_of(kinds)
    search = StripSearch(model, pieces, first_spread(model, pieces, heights), heights, seed)
    if form.name == "compiled":
        search.run(stop, rounds)
    laid: list[list[Laid]] = [[] for _ in heights]
    for plate, piece in search.pieces():
        laid[plate].append(piece)
    return Strips(search.length, tuple(map(tuple, laid)))


def first_spread(model: Model, pieces: Sequence[int], heights: Sequence[float]) -> Spread:
    """Return a first layout: on one plate as short as it comes, on several at the first length that does."""
    length = inf
    if len(heights) > 1:
        first = first_layout(model.known, model.polygons, pieces, model.known.hulls, [max(heights)], inf)
        if first is None:
            raise TooHighError("a piece is higher than the strip")
        length = max(x + model.known.states[s].box[2] for _, (s, x, _) in first) / len(heights)
    while True:
        found = first_layout(model.known, model.polygons, pieces, model.known.hulls, heights, length)
        if found is not None:
            break
        if length == inf:
            raise TooHighError("a piece is higher than the strip")
        length *= LONGER
    return spread_of(found)


class StripSearch:
    """The search for plates of given heights that are all as short as can be; the best never overlaps."""

    def __init__(
        self,
        model: Model,
        pieces: Sequence[int],
        start: Spread,
        heights: Sequence[float],
        seed: int,
        pinned: Sequence[Pinned] = (),
    ) -> None:
        """Begin with a layout of pieces (their kinds) on plates of these heights.

        What is pinned there stays, and does not count for the length.
        """
        self.model, self._pieces = model, list(pieces)
        self.best = start
        self.length = float(np.max(start.x + model.tables.box[start.state, 2]))
        lengths = [self.length] * len(heights)
        self.separator = Separator(model, self._pieces, lengths, list(heights), seed, pinned)
        self._live = self.separator.live
        self._compactor = Compactor(model, self._live)
        self.least = self._least(heights)
        rng = np.random.default_rng(seed)
        self._disturber = Disturber(model, self.separator.moving, rng)
        self._rng, self._pool = rng, Pool(rng)
        self.wins: list[tuple[float, Way, bool]] = []
        """Every gain: the length, what it began with, and whether the program parted pieces for it."""
        self._now, self._reach = self.best, self.length
        """The layout that is being shortened, and its length."""
        self._share, self._fails, self._away = FIRST_SHARE, 0, False
        self._stall = max(STALL, round(STALL_OF_PIECE * len(self._pieces)))
        self.separator.take(self.best)
        self._keep("start")

    def _least(self, heights: Sequence[float]) -> float:
        """Return a length that no layout can beat: that of all areas, or of the longest piece."""
        known, box = self.model.known, self.model.tables.box
        of_kind = [known.of_kind[k] for k in self._pieces]
        area = sum(known.form_of(k).true.area for k in self._pieces)
        fitting = [[s for s in states if box[s, 3] - box[s, 1] <= max(heights)] for states in of_kind]
        widest = max(min(float(box[s, 2] - box[s, 0]) for s in states) for states in fitting)
        return max(float(area) / sum(heights), widest)

    def run(self, stop: Callable[[], bool], rounds: int) -> None:
        """Shorten the strip until told to stop; where that stalls, go elsewhere for a while."""
        for _ in range(rounds):
            if stop() or self.length <= self.least * (1 + ROUNDING):
                return
            if self._fails < self._stall:
                self._try(stop)
                continue
            self._pool.clear()
            self._fails, self._away = 0, not self._away
            if self._away:
                self._leave(stop)
            else:
                self._stall += MORE_STALL
                self._return()

    def _try(self, stop: Callable[[], bool]) -> None:
        """Try once to shorten the present layout."""
        way, hard = self._begin(self._share, self._fails), self._fails >= EASY
        self.separator.settle()
        won = self.separator.attempt(
            patience=PATIENCE if hard else EASY_PATIENCE, strikes=STRIKES if hard else 1, stop=stop
        ) and self._keep(way)
        if not won:
            # The least overlap may still be parted at a length that beats the present one.
            low = self.separator.least()
            self._pool.add(low)
            self.separator.take(low)
            won = self._keep(way, by_program=True)
        if won:
            self._share, self._fails = min(FIRST_SHARE, self._share * MORE), 0
            self._pool.clear()
        else:
            self._share, self._fails = max(LAST_SHARE, LESS * self._share), self._fails + 1

    def _leave(self, stop: Callable[[], bool]) -> None:
        """Go on from the best layout with a large part of it strewn anew on a longer strip."""
        self.separator.take(self.best)
        self._live.wide[:] = self.length * LOOSE
        self._disturber.scatter(STREWN)
        self.separator.settle()
        self._reach, self._share = inf, FIRST_SHARE
        parted = self.separator.attempt(patience=PATIENCE, strikes=STRIKES, stop=stop)
        if not (parted and self._keep("scatter")):
            self._return()

    def _return(self) -> None:
        """Go on from the best layout."""
        self._now, self._reach, self._share = self.best, self.length, LAST_SHARE

    def _begin(self, share: float, fails: int) -> Way:
        """Put the pieces where a try begins, on a shorter strip; return which way was taken."""
        if not self._pool or self._rng.random() < SQUEEZE:
            self.separator.take(self._now)
            self._live.wide[:] = self._reach
            by = share * (self._rng.uniform(0.1, 1.0) if fails else 1.0)
            self._disturber.narrow(self._reach * (1 - by))
            return "squeeze"
        self._live.wide[:] = self._reach * (1 - share)
        self.separator.take(self._pool.pick())
        return self._pool.disturb(self._disturber)

    def _keep(self, way: Way, *, by_program: bool = False) -> bool:
        """Draw the pieces together and keep them if that is shorter; say whether it is by something."""
        found, before = self._compactor.shorten(reach=REACH * self.model.tables.step), self._reach
        if found is None or found >= before * (1 - ROUNDING):
            return False
        self._now, self._reach = self.separator.spread(), found
        if found < self.length * (1 - ROUNDING):
            self.best, self.length = self._now, found
            self.wins.append((found, way, by_program))
        return found < before * (1 - GAIN)

    def pieces(self) -> list[tuple[int, Laid]]:
        """Return the plates and the pieces of the best layout, by the shapes' own origins."""
        rows = zip(self._pieces, places_of(self.best), strict=True)
        return [(plate, laid_of(self.model.known, kind, *place)) for kind, (plate, place) in rows]
