"""What is fixed on plates, as the search sees it: kinds of one state each, each at its own place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import cached_property
from typing import Any

import shapely

from nestkit.geometry.overlay import common, whole
from nestkit.layout.shapes.construct import Set
from nestkit.layout.shapes.problem import Fixed, Kind, Plate, ShapesProblem
from nestkit.layout.shapes.states import States, matrix_of, moved

Pinned = tuple[int, int, Set]
"""Something fixed: the number of the plate in a list of plates, its kind, its state and place."""


def all_kinds(problem: ShapesProblem) -> tuple[Kind, ...]:
    """Return the kinds of a problem, and after them those of what is fixed on its plates."""
    fixed = (_kind_of(f) for plate in problem.plates for f in plate.fixed)
    return (*problem.kinds, *dict.fromkeys(fixed))


def _kind_of(fixed: Fixed) -> Kind:
    return Kind(fixed.shape, 0, (fixed.turn_deg,), apart=fixed.apart)


def may_be(stock: Sequence[Plate], plates: Sequence[int]) -> bool:
    """Say whether a list of plates can be had: no more than there are, none left out, none out of turn."""
    count = Counter(plates)
    for kind, plate in enumerate(stock):
        if plate.count is not None and count[kind] > plate.count:
            return False
        if plate.must and not count[kind]:
            return False
        if any(count[k] < n if count[kind] else count[k] > n for k, n in plate.after):
            return False
    return True


class Standing:
    """All that is fixed on the plates of a problem."""

    def __init__(self, known: States, problem: ShapesProblem) -> None:
        """Find the states of what is fixed among those of :func:`all_kinds`."""
        self._known, self._problem = known, problem
        first = len(problem.kinds)
        number = {kind: first + n for n, kind in enumerate(all_kinds(problem)[first:])}
        self._on: list[list[tuple[int, Set]]] = [
            [(number[_kind_of(f)], self._set(number[_kind_of(f)], f)) for f in plate.fixed]
            for plate in problem.plates
        ]

    def _set(self, kind: int, fixed: Fixed) -> Set:
        middle = matrix_of(fixed.turn_deg, False) @ self._known.middles[kind]
        return self._known.of_kind[kind][0], fixed.x + float(middle[0]), fixed.y + float(middle[1])

    def sets(self, plate: int) -> list[Set]:
        """Return the states and places of what is fixed on a kind of plate."""
        return [place for _, place in self._on[plate]]

    def pinned(self, plates: Sequence[int]) -> list[Pinned]:
        """Return what is fixed on the plates of a list."""
        return [(n, kind, place) for n, p in enumerate(plates) for kind, place in self._on[p]]

    @cached_property
    def must(self) -> frozenset[int]:
        """The kinds of plates that are used in every layout."""
        return frozenset(k for k, plate in enumerate(self._problem.plates) if plate.must)

    @cached_property
    def taken(self) -> tuple[float, ...]:
        """What is taken of each kind of plate, grown by half the gap all round, in mm2."""
        half = self._problem.gap / 2
        found = []
        for number, plate in enumerate(self._problem.plates):
            areas = [self._area(place) for place in self.sets(number)]
            room = shapely.box(-half, -half, plate.width + half, plate.height + half)
            found.append(float(common(whole(areas), room).area) if areas else 0.0)
        return tuple(found)

    def _area(self, place: Set) -> Any:
        state = self._known.states[place[0]]
        return moved(self._known.forms[state.form].grown, state.matrix, place[1:])
