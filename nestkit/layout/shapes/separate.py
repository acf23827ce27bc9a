"""Overlap removed from a layout of given plates: sweeps with weights, from the best state when stuck."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from nestkit.layout.shapes.construct import Set
from nestkit.layout.shapes.engine import Model, live_of
from nestkit.layout.shapes.standing import Pinned
from nestkit.layout.shapes.tables import Floats, Live, Wholes

CHUNK = 8
"""Sweeps between two questions whether to stop."""
SHALLOW = 0.02
"""Pieces that are less deep in one another, in steps, are parted by a program."""

CELL, EDGE, MOVE = 0.007, 1.0, 60
"""What a move counts: for every cell of a map, once a state and plate; for edges of a polygon; besides."""
ATTEMPT = 30_000
"""What an attempt counts besides, with the programs that follow it."""


@dataclass(frozen=True)
class Spread:
    """Where the pieces lie: a copy that the search does not touch, and how much they overlap, scaled."""

    x: Floats
    y: Floats
    state: Wholes
    plate: Wholes
    overlap: float


class Separator:
    """Pieces on plates, moved until they lie apart."""

    def __init__(
        self,
        model: Model,
        kinds: list[int],
        wide: list[float],
        high: list[float],
        seed: int,
        pinned: Sequence[Pinned] = (),
    ) -> None:
        """Begin with pieces of kinds, and on the plates what never moves."""
        self.model = model
        self.live: Live = live_of(model, kinds, wide, high, seed, pinned)
        self.moving = self.live.moving
        n = len(kinds)
        self._kept, self._kept_state = np.zeros((n + 1, 2)), np.zeros((n, 2), np.int64)
        self.tally = np.zeros(3, np.int64)
        self._attempts = 0
        self._work_of_move = _work_of_move(model, self.live)

    @property
    def work(self) -> int:
        """The work done in attempts: about microseconds on a machine of 2024, the same on every machine."""
        return int(self.tally[2]) * self._work_of_move + self._attempts * ATTEMPT

    def deepen(self) -> None:
        """Work out all depths anew."""
        self.model.call("deepen_all")(self.model.tables, self.live)

    def take(self, spread: Spread) -> None:
        """Put the pieces where a copy has them."""
        v = self.moving
        v.x[:], v.y[:], v.state[:], v.plate[:] = spread.x, spread.y, spread.state, spread.plate
        self.deepen()

    def set_down(self, places: Sequence[tuple[int, Set] | None]) -> None:
        """Put pieces on plates at places, those without a place on no plate."""
        v = self.moving
        v.plate[:] = -1
        for k, at in enumerate(places):
            if at is not None:
                v.plate[k], (v.state[k], v.x[k], v.y[k]) = at
        self.deepen()

    def settle(self) -> None:
        """Take pieces back onto their plates, and work out all depths anew."""
        v, box = self.moving, self.model.tables.box[self.moving.state]
        v.x[:] = np.maximum(np.minimum(v.x, v.wide[v.plate] - box[:, 2]), -box[:, 0])
        v.y[:] = np.maximum(np.minimum(v.y, v.high[v.plate] - box[:, 3]), -box[:, 1])
        self.deepen()

    def spread(self) -> Spread:
        """Return a copy of where the pieces lie."""
        v = self.moving
        overlap = self.model.call("overlap")(self.live)
        return Spread(v.x.copy(), v.y.copy(), v.state.copy(), v.plate.copy(), float(overlap))

    def least(self) -> Spread:
        """Return the state of least overlap of the present attempt."""
        k, s = self._kept, self._kept_state
        return Spread(k[:-1, 0].copy(), k[:-1, 1].copy(), s[:, 0].copy(), s[:, 1].copy(), float(k[-1, 0]))

    def attempt(self, *, patience: int, strikes: int, stop: Callable[[], bool]) -> bool:
        """Sweep until pieces are apart, or nearly (True), or nothing helps any more (False).

        After ``patience`` sweeps without gain the least overlapping state is taken up again with the weights
        as they are; after ``strikes`` times in a row without gain the attempt is given up.
        """
        live, shallow = self.live, SHALLOW * self.model.tables.step
        self._attempts += 1
        live.weight[:] = 1.0
        self._kept[-1] = np.inf
        self.tally[0] = 0
        fails, mark = 0, np.inf
        while not stop():
            deepest = self.model.call("sweeps")(
                self.model.tables, live, CHUNK, shallow, self._kept, self._kept_state, self.tally
            )
            if deepest <= shallow:
                return True
            if self.tally[0] < patience:
                continue
            fails = 0 if self._kept[-1, 0] < 0.98 * mark else fails + 1
            mark = min(mark, self._kept[-1, 0])
            if fails >= strikes:
                return False
            self.tally[0] = 0
            self.take(self.least())
        return False


def _work_of_move(model: Model, live: Live) -> int:
    """Return what one move counts, in the mean."""
    t = model.tables
    cells = float(np.sum((live.wide / t.step + 2) * (live.high / t.step + 2)))
    states = len(model.known.states) / len(model.known.of_kind)
    return round(CELL * cells * states + EDGE * len(t.edges) / len(t.spans) + MOVE)
