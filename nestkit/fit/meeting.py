"""Whether parts can be moved so that all screws pass: decided for many trials at once.

Everything is in units of what is allowed, so a trial fits when some motion leaves no miss above 1. For any
weights of sum 1 the root of the weighted mean square of the misses, at the motion that makes it least, is a
floor of the smallest largest miss, and the largest miss there a ceiling. Reweighting by the misses (Lawson,
1961) drives the two together; most trials are decided at once.
"""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Chosen = NDArray[np.intp]

ROUNDS = 400
"""Rounds of reweighting at most; what is still open then counts as not fitting."""
_ROUNDING = 1e-9
"""A miss above 1 by less than this is rounding."""
_PULL = 1.5
"""Power of a miss in its new weight: 1 is Lawson's; this took two thirds of the rounds, 2 strays."""
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
    weights = found[left] / found[left].sum(axis=1, keepdims=True)
    for _ in range(ROUNDS):
        if not len(left):
            break
        now = misses.weighted(left, weights)
        good = now.max(axis=1) <= 1 + _ROUNDING
        fits[left[good]] = True
        stay = ~good & (np.einsum("ij,ij,ij->i", weights, now, now) <= 1)
        left, weights = left[stay], np.maximum(weights[stay] * now[stay] ** _PULL, _LEAST)
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
    """

    def __init__(self, centres: Array, inverse: Array, moves: Array) -> None:
        self._centres = centres.reshape(len(centres), -1)
        self._inverse = inverse
        self._walls, self._screws, _, self._motions = moves.shape
        self._by_wall = moves.reshape(self._walls, 2 * self._screws, self._motions)
        self._moves = moves.reshape(self._walls * self._screws * 2, self._motions)
        self._squares = np.einsum("rm,rn->rmn", self._moves, self._moves).reshape(len(self._moves), -1)

    def evenly(self) -> Array:
        """Return the misses with all weights alike."""
        scale = self._inverse.reshape(-1)
        screws = np.tile(np.eye(2 * self._screws), (self._walls, 1))
        without = _residual(scale[:, None] * np.hstack([self._moves, screws]))
        return _lengths(((self._centres * scale) @ without).reshape(len(self._centres), -1, 2))

    def weighted(self, chosen: Chosen, weights: Array) -> Array:
        """Return the misses of some trials at the best motion and screws for their weights."""
        centres = self._centres[chosen]
        trials, shape = len(centres), (len(centres), self._walls, 2 * self._screws)
        pull = weights.reshape(-1, self._walls, self._screws)[..., None] * self._inverse**2
        pull = pull.reshape(shape)
        whole = pull.sum(axis=1)
        if self._motions:
            pulled, root = pull * centres.reshape(shape), np.sqrt(whole)
            mean = np.einsum("twk,wkm->tkm", pull, self._by_wall, optimize=True) / root[:, :, None]
            normal = (pull.reshape(trials, -1) @ self._squares).reshape(-1, self._motions, self._motions)
            right = pulled.reshape(trials, -1) @ self._moves
            right -= ((pulled.sum(axis=1) / root)[:, None, :] @ mean)[:, 0]
            motion = _solved(normal - mean.transpose(0, 2, 1) @ mean, right)
            centres = centres - motion @ self._moves.T
        moved = centres.reshape(shape)
        apart = moved - ((pull * moved).sum(axis=1) / whole)[:, None]
        misses = apart.reshape(trials, self._walls, self._screws, 2) * self._inverse
        return _lengths(misses).reshape(trials, -1)


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
