"""A first layout: every piece where it reaches least far, the largest first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely

from nestkit.geometry.overlay import rest, whole
from nestkit.layout.shapes.nfp import Polygons
from nestkit.layout.shapes.states import States, moved

DEEP = 1e-9
"""Of a polygon's length: what lies no deeper in it touches."""
HAIR = 1e-12
"""Of places: a room that is no wider is a line, and one that lacks no more too."""
Set = tuple[int, float, float]
"""A piece set down: its state and its place."""


def room_of(left: float, low: float, right: float, top: float) -> Any:
    """Return a rectangle of places, which may be a line or a point; None where there are none."""
    hair = HAIR * max(abs(left), abs(low), abs(right), abs(top))
    if right < left - hair or top < low - hair:
        return None
    if right < left + hair:
        left = right = (left + right) / 2
    if top < low + hair:
        low = top = (low + top) / 2
    if right == left and top == low:
        return shapely.Point(left, low)
    if right == left or top == low:
        return shapely.LineString([(left, low), (right, top)])
    return shapely.box(left, low, right, top)


class Rooms:
    """The places that are still free for each state, on a plate, or a strip of ample length."""

    def __init__(
        self, known: States, polygons: Polygons, height: float, length: float, laid: Sequence[Set] = ()
    ) -> None:
        self._polygons, self._number = polygons, len(known.states)
        self._free: list[Any] = []
        for state in known.states:
            x0, y0, x1, y1 = state.box
            self._free.append(room_of(-x0, -y0, length - x1, height - y1))
        self._seen = [0] * self._number
        self.laid = list(laid)

    def _forbidden(self, fixed: Set, state: int) -> Any:
        """Return where a state may not lie because of a piece."""
        pair = fixed[0] * self._number + state
        # The inverse of a turn is its transpose, so rows here are columns there.
        into = self._polygons.look[pair, 4:].reshape(2, 2)
        area = self._polygons.areas[self._polygons.pair[pair]]
        return moved(area, into.T, fixed[1:])

    def free(self, state: int) -> Any:
        """Return where a state may lie, brought up to date; None where it does not fit the strip."""
        if self._free[state] is None:
            return None
        new = self.laid[self._seen[state] :]
        if new:
            taken = whole([self._forbidden(fixed, state) for fixed in new])
            self._free[state] = rest(self._free[state], taken)
            self._seen[state] = len(self.laid)
        return self._free[state]

    def is_free(self, state: int, x: float, y: float) -> bool:
        """Say whether a state at a place lies in none of the pieces: what overlays lose is found here."""
        spot = shapely.Point(x, y)
        for fixed in self.laid:
            area = self._forbidden(fixed, state)
            if area.contains(spot) and shapely.distance(shapely.boundary(area), spot) > DEEP * area.length:
                return False
        return True


def best_place(rooms: Rooms, known: States, states: Sequence[int]) -> Set | None:
    """Return where a piece in one of some states reaches least far along x; None where it has no room."""
    best: tuple[float, float, Set] | None = None
    for state in states:
        free = rooms.free(state)
        if free is None or free.is_empty:
            continue
        places = shapely.get_coordinates(free)
        far = places[:, 0] + known.states[state].box[2]
        for at in np.lexsort((places[:, 1], far)):
            x, y = float(places[at, 0]), float(places[at, 1])
            if best is not None and (far[at], y) >= best[:2]:
                break
            if rooms.is_free(state, x, y):
                best = (float(far[at]), y, (state, x, y))
                break
    return None if best is None else best[2]


def by_size(pieces: Sequence[int], hull: Sequence[float]) -> list[int]:
    """Return the indices of pieces (their kinds), the largest hull first."""
    return sorted(range(len(pieces)), key=lambda i: (-hull[pieces[i]], i))


def first_layout(
    known: States,
    polygons: Polygons,
    pieces: Sequence[int],
    hull: Sequence[float],
    heights: Sequence[float],
    length: float,
) -> list[tuple[int, Set]] | None:
    """Return on which plate and where pieces (their kinds) lie, in the order given; None where one does not.

    ``hull`` are the areas of the kinds' hulls; the largest is laid first, each on the first plate of those
    heights and that length (which may be infinite) with room for it, where its far end is least.
    """
    span = [max(known.states[s].box[2] - known.states[s].box[0] for s in states) for states in known.of_kind]
    ample = min(length, 2 * sum(span[k] for k in pieces))
    rooms = [Rooms(known, polygons, height, ample) for height in heights]
    found: dict[int, tuple[int, Set]] = {}
    for index in by_size(pieces, hull):
        states = known.of_kind[pieces[index]]
        places = ((p, best_place(room, known, states)) for p, room in enumerate(rooms))
        plate, place = next((p for p in places if p[1] is not None), (0, None))
        if place is None:
            return None
        rooms[plate].laid.append(place)
        found[index] = plate, place
    return [found[k] for k in range(len(pieces))]
