"""Which hole of one part belongs to which of another, once both lie in one plane."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from itertools import combinations

Pairs = tuple[tuple[int, int], ...]
"""Pairs of a fixed and a moving point by their places in their lists, the fixed ones rising."""

_DRAW = 1e-9
"""Millimetres by which distances differ that are the same."""


class Near:
    """Finds the points of a set within some distance of a place. Points are complex numbers, in mm."""

    def __init__(self, points: Sequence[complex], within: float) -> None:
        self._points, self._within = points, within
        self._cell = 2 * within
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        for i, p in enumerate(points):
            # Into every cell that its circle touches, so that a question looks at one cell only.
            left, right = (math.floor((p.real + by) / self._cell) for by in (-within, within))
            below, above = (math.floor((p.imag + by) / self._cell) for by in (-within, within))
            for x in range(left, right + 1):
                for y in range(below, above + 1):
                    self._cells[x, y].append(i)

    def away(self, i: int, place: complex) -> float:
        """Return the distance of a place from one of the points."""
        return abs(self._points[i] - place)

    def any(self, place: complex) -> bool:
        """Say whether some point is near."""
        found = self._cells.get(
            (math.floor(place.real / self._cell), math.floor(place.imag / self._cell)), ()
        )
        return any(abs(self._points[i] - place) <= self._within for i in found)

    def all(self, place: complex) -> list[tuple[float, int]]:
        """Return the points that are near, with their distances, the nearest first.

        Distances count to 1e-9 mm, so that of equal ones the lowest number comes first.
        """
        found = self._cells.get(
            (math.floor(place.real / self._cell), math.floor(place.imag / self._cell)), ()
        )
        away = ((round(abs(self._points[i] - place), 9), i) for i in found)
        return sorted((d, i) for d, i in away if d <= self._within)


def paired(near: Near, moved: Sequence[complex]) -> Pairs:
    """Return as many pairs as can be within the distance, with the least largest distance for so many.

    Of equal ones low numbers go with low ones.
    """
    choices = [near.all(place) for place in moved]
    nearest = [(found[0][1], j) for j, found in enumerate(choices) if found]
    if len({i for i, _ in nearest}) == len(nearest):
        return tuple(sorted(nearest))
    most = len(_matched(choices, math.inf))
    limits = sorted({d for found in choices for d, _ in found})
    low, high = 0, len(limits) - 1
    while low < high:
        middle = (low + high) // 2
        if len(_matched(choices, limits[middle])) == most:
            high = middle
        else:
            low = middle + 1
    return _untangled(near, moved, _matched(choices, limits[low]))


def _matched(choices: Sequence[Sequence[tuple[float, int]]], limit: float) -> dict[int, int]:
    """Return a largest matching, fixed to moving point, of choices up to a distance (augmenting paths)."""
    taken: dict[int, int] = {}

    def place(j: int, seen: set[int]) -> bool:
        for away, i in choices[j]:
            if away > limit:
                break
            if i not in seen:
                seen.add(i)
                if i not in taken or place(taken[i], seen):
                    taken[i] = j
                    return True
        return False

    for j in range(len(choices)):
        place(j, set())
    return taken


def _untangled(near: Near, moved: Sequence[complex], taken: dict[int, int]) -> Pairs:
    """Return pairs of which no two would do better with partners exchanged; in a draw low goes with low."""
    changed = True
    while changed:
        changed = False
        for a, b in combinations(sorted(taken), 2):
            j, k = taken[a], taken[b]
            now = near.away(a, moved[j]), near.away(b, moved[k])
            then = near.away(a, moved[k]), near.away(b, moved[j])
            less = sum(then) - sum(now)
            if max(then) <= max(now) + _DRAW and (less < -_DRAW or (less <= _DRAW and k < j)):
                taken[a], taken[b], changed = k, j, True
    return tuple(sorted(taken.items()))
