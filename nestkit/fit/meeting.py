"""Whether parts can be moved so that all screws pass: decided for many trials at once.

Everything is in units of what is allowed, so a trial fits when some motion leaves no miss above 1. For any
weights of sum 1 the root of the weighted mean square of the misses, at the motion that makes it least, is a
floor of the smallest largest miss, and the largest miss there a ceiling. Reweighting by the misses (Lawson,
1961) drives the two together; most trials are decided at once.
"""

from __future__ import annotations

from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Chosen = NDArray[np.intp]

ROUNDS = 400
"""Rounds of reweighting at most; what is still open then counts as not fitting."""
_ROUNDING = 1e-9
"""A miss above 1 by less than this is rounding."""
_LARGE = 400
"""Coordinates from which on one matrix for all trials is slower than the way of any weights."""
_LEAST = 1e-12
"""Weights do not fall below this: a screw without any would be nowhere."""


class Misses(Protocol):
    """The misses of some trials at the motion that is best for some weights."""

    def evenly(self) -> Array:
        """Return the misses with all weights alike, a row a trial."""

    def weighted(self, chosen: Chosen, weights: Array) -> Array:
        """Return the misses of some trials, each at the best motion for its own row of weights."""


def fitting(misses: Misses) -> Flags:
    """Return for each trial whether some motion brings every miss to 1 or below."""
    found = misses.evenly()
    fits: Flags = found.max(axis=1) <= 1 + _ROUNDING
    left = np.flatnonzero(~fits & (np.mean(found**2, axis=1) <= 1))
    weights = _pull(found[left])
    weights /= weights.sum(axis=1, keepdims=True)
    for _ in range(ROUNDS):
        if not len(left):
            break
        now = misses.weighted(left, weights)
        good = now.max(axis=1) <= 1 + _ROUNDING
        fits[left[good]] = True
        stay = ~good & ((weights * now * now).sum(axis=1) <= 1)
        left, weights = left[stay], np.maximum(weights[stay] * _pull(now[stay]), _LEAST)
        weights /= weights.sum(axis=1, keepdims=True)
    return fits


class Pairs:
    """Misses of holes in pairs: one layer's holes against another's, or against where the screws are held.

    ``offsets`` (trials, rows, 2) are how far the centres of a pair are apart in mm, ``scales`` (rows, 2, 2)
    turn them into units of what is allowed, ``moves`` (rows, 2, motions) say in mm how a motion changes them.
    """

    def __init__(self, offsets: Array, scales: Array, moves: Array) -> None:
        rows, _, self._motions = moves.shape
        scaled = np.einsum("rij,rjm->rim", scales, moves)
        self._apart = np.einsum("trj,rij->tri", offsets, scales)
        self._moves = scaled.reshape(2 * rows, self._motions)
        self._squares = np.einsum("rim,rin->rmn", scaled, scaled).reshape(rows, -1)

    def evenly(self) -> Array:
        """Return the misses with all weights alike."""
        if len(self._moves) > _LARGE:
            return self.weighted(*_alike(*self._apart.shape[:2]))
        without = _residual(self._moves)
        return _lengths((self._apart.reshape(len(self._apart), -1) @ without).reshape(self._apart.shape))

    def weighted(self, chosen: Chosen, weights: Array) -> Array:
        """Return the misses of some trials at the best motion for their weights."""
        apart = self._apart[chosen]
        if self._motions:
            normal = (weights @ self._squares).reshape(-1, self._motions, self._motions)
            pulled = (apart * weights[:, :, None]).reshape(len(apart), -1) @ self._moves
            apart = apart - (_solved(normal, pulled) @ self._moves.T).reshape(apart.shape)
        return _lengths(apart)


class Bundles:
    """Misses of holes in bundles: each screw finds its own best place among one hole of each wall.

    ``centres`` (trials, walls, screws, 2) are where the holes are in mm, each screw in a frame of its own;
    ``inverse`` (walls, screws, 2) is 1 over what is allowed along that frame's axes; ``moves`` (walls,
    screws, 2, motions) say in mm how a motion changes the centres.

    For given weights the best place of a screw is the weighted mean of its holes, and what is left to make
    least is the sum over pairs of walls of w1 w2 / sum(w) times the square of what they are apart.
    """

    def __init__(self, centres: Array, inverse: Array, moves: Array) -> None:
        walls, screws, _, motions = moves.shape
        self._shape = walls, screws
        self._alike = bool((inverse[..., 0] == inverse[..., 1]).all())
        self._pairs = [(a, b) for a in range(walls) for b in range(a + 1, walls)]
        self._axes = [_Axis(centres[..., x], inverse[..., x], moves[..., x, :], self._pairs) for x in (0, 1)]
        self._both = self._axes[0].squares + self._axes[1].squares
        self._motions = motions

    def evenly(self) -> Array:
        """Return the misses with all weights alike."""
        walls, screws = self._shape
        if 2 * walls * screws > _LARGE:
            return self.weighted(*_alike(len(self._axes[0].centres), walls * screws))
        own = np.kron(np.eye(2), np.tile(np.eye(screws), (walls, 1)))
        scale = np.concatenate([axis.scale for axis in self._axes])
        free = scale[:, None] * np.hstack([np.vstack([axis.moves for axis in self._axes]), own])
        flat = np.hstack([axis.centres for axis in self._axes]) * scale
        found = (flat @ _residual(free)).reshape(len(flat), 2, -1)
        misses: Array = np.sqrt((found**2).sum(axis=1))
        return misses

    def weighted(self, chosen: Chosen, weights: Array) -> Array:
        """Return the misses of some trials at the best motion and screws for their weights."""
        shared = [self._shared(weights, axis) for axis in self._axes[: 1 if self._alike else 2]]
        shared *= 2 if self._alike else 1
        motion = None
        if self._motions:
            normal = shared[0].apart @ (self._both if self._alike else self._axes[0].squares)
            if not self._alike:
                normal += shared[1].apart @ self._axes[1].squares
            right = sum(
                (one.apart * axis.differences[chosen]) @ axis.pair_moves
                for one, axis in zip(shared, self._axes, strict=True)
            )
            motion = _solved(normal.reshape(-1, self._motions, self._motions), np.asarray(right))
        squares = None
        for one, axis in zip(shared, self._axes, strict=True):
            left = axis.centres[chosen] if motion is None else axis.centres[chosen] - motion @ axis.moves.T
            held = left.reshape(-1, *self._shape)
            held -= (one.share * held).sum(axis=1)[:, None]
            left *= axis.scale
            left *= left
            squares = left if squares is None else squares + left
        misses: Array = np.sqrt(np.asarray(squares))
        return misses

    def _shared(self, weights: Array, axis: _Axis) -> _Shares:
        pull = (weights * axis.scale**2).reshape(-1, *self._shape)
        whole = pull.sum(axis=1)
        share = pull / whole[:, None]
        apart = np.concatenate([share[:, a] * pull[:, b] for a, b in self._pairs], axis=1)
        return _Shares(share, apart)


class _Axis:
    """One coordinate of all holes, flat: (trials, walls x screws), and of what pairs of walls are apart."""

    def __init__(self, centres: Array, inverse: Array, moves: Array, pairs: list[tuple[int, int]]) -> None:
        self.centres = np.ascontiguousarray(centres.reshape(len(centres), -1))
        self.differences = np.concatenate([centres[:, a] - centres[:, b] for a, b in pairs], axis=1)
        self.pair_moves = np.concatenate([moves[a] - moves[b] for a, b in pairs])
        self.moves = np.concatenate(list(moves))
        self.scale = inverse.reshape(-1)
        rows = self.pair_moves
        self.squares = np.einsum("rm,rn->rmn", rows, rows).reshape(len(rows), rows.shape[1] ** 2)


class _Shares(NamedTuple):
    """What each wall's hole has of its screw's place, and the weights of what pairs of walls are apart."""

    share: Array
    apart: Array


def _alike(trials: int, misses: int) -> tuple[Chosen, Array]:
    """Return all trials, and even weights for each."""
    return np.arange(trials), np.full((trials, misses), 1 / misses)


def _pull(misses: Array) -> Array:
    """Return what misses make of weights: their power 1.5.

    The power 1 is Lawson's; this took two thirds of the rounds, and 2 strays.
    """
    found: Array = misses * np.sqrt(misses)
    return found


def _residual(columns: Array) -> Array:
    """Return the matrix that takes out of a row of numbers all that some columns can make."""
    return np.eye(len(columns)) - columns @ np.linalg.pinv(columns)


def _solved(normal: Array, right: Array) -> Array:
    """Return the motions that solve the normal equations; those that nothing depends on stay 0."""
    motions = normal.shape[-1]
    size = np.einsum("tmm->t", normal)[:, None, None] / motions + 1e-300
    found: Array = np.linalg.solve(normal + 1e-12 * size * np.eye(motions), right[..., None])[..., 0]
    return found


def _lengths(vectors: Array) -> Array:
    found: Array = np.sqrt(np.einsum("...x,...x->...", vectors, vectors))
    return found
