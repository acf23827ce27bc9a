"""Plates with pieces on them as the search sees them, and their way there and back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from nestkit.layout.shapes.construct import Set
from nestkit.layout.shapes.problem import LaidPlate, Plate, ShapesLayout, ShapesProblem
from nestkit.layout.shapes.separate import Spread
from nestkit.layout.shapes.states import States, laid_of, matrix_of


@dataclass(frozen=True, slots=True)
class Filled:
    """Plates, by kind, and on which of them every piece lies where; pieces without a place are None."""

    plates: tuple[int, ...]
    laid: tuple[tuple[int, Set] | None, ...]

    @property
    def missing(self) -> int:
        """The number of pieces without a place."""
        return sum(at is None for at in self.laid)

    def on(self, plate: int) -> list[int]:
        """Return the pieces on a plate."""
        return [k for k, at in enumerate(self.laid) if at is not None and at[0] == plate]

    def without_empty(self, stock: Sequence[Plate]) -> Filled:
        """Return the same without plates on which nothing lies, but for those that are used in any case."""
        used = sorted(
            {at[0] for at in self.laid if at is not None}
            | {n for n, kind in enumerate(self.plates) if stock[kind].must}
        )
        number = {p: k for k, p in enumerate(used)}
        laid = tuple(None if at is None else (number[at[0]], at[1]) for at in self.laid)
        return Filled(tuple(self.plates[p] for p in used), laid)

    def moved(self, pieces: Sequence[int], places: Sequence[tuple[int, Set]]) -> Filled:
        """Return the same with some pieces in other places."""
        laid = list(self.laid)
        for piece, place in zip(pieces, places, strict=True):
            laid[piece] = place
        return replace(self, laid=tuple(laid))


def places_of(spread: Spread) -> list[tuple[int, Set]]:
    """Return the plate, state and place of every piece of a spread."""
    rows = zip(spread.plate, spread.state, spread.x, spread.y, strict=True)
    return [(int(p), (int(s), float(x), float(y))) for p, s, x, y in rows]


def spread_of(places: Sequence[tuple[int, Set]]) -> Spread:
    """Return pieces at places."""
    plate, state = (np.array(n, np.int64) for n in zip(*((p, s) for p, (s, _, _) in places), strict=True))
    x, y = (np.array(n, np.float64) for n in zip(*((x, y) for _, (_, x, y) in places), strict=True))
    return Spread(x, y, state, plate, 0.0)


def taken_up(known: States, problem: ShapesProblem, start: ShapesLayout) -> Filled:
    """Return a layout by states; pieces lie in turns and hands that are allowed."""
    first, number = [], 0
    for kind in problem.kinds:
        first.append(number)
        number += kind.count
    laid: list[tuple[int, Set] | None] = [None] * number
    used = [0] * len(problem.kinds)
    for plate, filled in enumerate(start.plates):
        for piece in filled.pieces:
            if used[piece.kind] == problem.kinds[piece.kind].count:
                continue
            state = known.named[piece.kind, piece.turn_deg % 360, piece.mirrored]
            middle = matrix_of(piece.turn_deg, piece.mirrored) @ known.middles[piece.kind]
            place = state, piece.x + float(middle[0]), piece.y + float(middle[1])
            laid[first[piece.kind] + used[piece.kind]] = plate, place
            used[piece.kind] += 1
    return Filled(tuple(p.plate for p in start.plates), tuple(laid)).without_empty(problem.plates)


def layout_of(known: States, pieces: Sequence[int], problem: ShapesProblem, filled: Filled) -> ShapesLayout:
    """Return plates with pieces (their kinds; extras may be among them) by the shapes' own origins."""
    plates = []
    for number, kind in enumerate(filled.plates):
        own = [(pieces[k], filled.laid[k]) for k in filled.on(number)]
        plates.append(LaidPlate(kind, tuple(laid_of(known, k, *at[1]) for k, at in own if at is not None)))
    laid = [pieces[k] for k, at in enumerate(filled.laid) if at is not None]
    left = tuple(max(0, kind.count - laid.count(k)) for k, kind in enumerate(problem.kinds))
    return ShapesLayout(tuple(plates), left)
