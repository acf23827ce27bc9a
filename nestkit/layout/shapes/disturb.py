"""Ways to disturb a layout, so that a search that is stuck begins somewhere else."""

from __future__ import annotations

from typing import Any

import numpy as np

from nestkit.layout.shapes.engine import Model
from nestkit.layout.shapes.tables import Floats, Live


class Disturber:
    """Moves pieces of a layout about, at random; pieces may overlap after."""

    def __init__(self, model: Model, live: Live, rng: Any) -> None:
        self._model, self._live, self._rng = model, live, rng
        hulls = model.known.hulls
        hull = np.array([hulls[k] for k in live.kind])
        self._share = hull / hull.sum()

    def swap(self) -> None:
        """Let two unlike pieces change places, large ones rather than small ones."""
        a, b = self._two()
        to_a, to_b = self._middles()[[b, a]]
        home = int(self._live.plate[a])
        self._put(a, to_a, plate=int(self._live.plate[b]))
        self._put(b, to_b, plate=home)

    def swap_with_all_there(self) -> None:
        """Move a large piece onto another, and what lies there to where it was."""
        a, b = self._two()
        middles = self._middles()
        by = middles[b] - middles[a]
        size = self._sizes()[a] / 2
        there = np.all(np.abs(middles - middles[b]) < size, axis=1)
        there &= self._live.plate == self._live.plate[b]
        there[[a, b]] = False, True
        home = self._live.plate[a]
        self._put(a, middles[b], plate=self._live.plate[b])
        for k in np.flatnonzero(there):
            self._put(int(k), middles[k] - by, plate=home)

    def roll(self) -> None:
        """Shift all pieces of strips of one length along them, those over the end to its beginning."""
        width = self._live.wide[0]
        middles = self._middles()
        middles[:, 0] = (middles[:, 0] + self._rng.uniform(0.1, 0.9) * width) % width
        for k, to in enumerate(middles):
            self._put(k, to)

    def scatter(self, share: float) -> None:
        """Put pieces near a random one anywhere, on any plate."""
        live, middles = self._live, self._middles()
        at = int(self._rng.integers(len(middles)))
        away = np.hypot(*(middles - middles[at]).T)
        away[live.plate != live.plate[at]] = np.inf
        nearest = np.argsort(away, kind="stable")[: max(2, round(share * len(middles)))]
        for k in nearest[np.isfinite(away[nearest])]:
            plate = int(self._rng.integers(len(live.wide)))
            room = np.array([live.wide[plate], live.high[plate]])
            self._put(int(k), self._rng.random(2) * room, plate=plate)

    def narrow(self, width: float) -> None:
        """Take strips of one length narrower: pieces right of a random line are shifted by what is lost."""
        live = self._live
        lost = live.wide[0] - width
        line = self._rng.random() * live.wide[0]
        live.wide[:] = width
        live.x[:] = np.where(self._middles()[:, 0] > line, live.x - lost, live.x)

    def _two(self) -> tuple[int, int]:
        """Return two pieces, by area, of different kinds where there are."""
        a = int(self._rng.choice(len(self._share), p=self._share))
        others = self._share * (self._live.kind != self._live.kind[a])
        if others.sum() <= 0:
            others = self._share.copy()
            others[a] = 0
        if others.sum() <= 0:
            return a, a
        return a, int(self._rng.choice(len(others), p=others / others.sum()))

    def _box(self) -> Floats:
        return self._model.tables.box[self._live.state]

    def _sizes(self) -> Floats:
        box = self._box()
        return box[:, 2:] - box[:, :2]

    def _middles(self) -> Floats:
        """Return the middles of the pieces' boxes."""
        box = self._box()
        return np.stack([self._live.x, self._live.y], axis=1) + (box[:, :2] + box[:, 2:]) / 2

    def _put(self, k: int, middle: Floats, plate: int | None = None) -> None:
        """Put a piece with the middle of its box at a place, or as near as its plate allows."""
        live = self._live
        if plate is not None:
            live.plate[k] = plate
        box = self._model.tables.box[live.state[k]]
        x, y = middle - (box[:2] + box[2:]) / 2
        live.x[k] = max(min(x, live.wide[live.plate[k]] - box[2]), -box[0])
        live.y[k] = max(min(y, live.high[live.plate[k]] - box[3]), -box[1])
