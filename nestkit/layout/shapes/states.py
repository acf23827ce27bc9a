"""The ways in which pieces may lie: every shape once, at every turn and hand that makes a difference."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from nestkit.layout.shapes.convex import Points, convex_parts, polygon_of
from nestkit.layout.shapes.problem import Kind, Laid
from nestkit.layout.shapes.simplify import simpler

SAME = 1e-7
"""Outlines are alike where their points differ by less than this share of their size."""
MITRE = 2.0
LEAST_LEFT = 0.45
"""Of an area made smaller something is left: its rim is at most this share of its shorter side."""
QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


@dataclass(frozen=True, slots=True)
class Form:
    """A shape about the middle of its box: as it is, grown by half the gap, that in convex parts."""

    true: Any
    grown: Any
    parts: tuple[Points, ...]
    hull: float


@dataclass(frozen=True, slots=True)
class State:
    """A form mirrored or not, then turned: ``matrix`` takes points there, ``box`` is the true outline's."""

    form: int
    turn_deg: float
    mirrored: bool
    matrix: NDArray[np.float64]
    box: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class States:
    """All forms, all states, the states of each kind, and its state as it is mirrored or turned.

    ``middles`` are the middles of the boxes of the kinds' shapes, which forms have as their origin;
    ``named`` finds the state of a kind by turn and hand; several may be one, where they look alike.
    """

    forms: tuple[Form, ...]
    states: tuple[State, ...]
    of_kind: tuple[tuple[int, ...], ...]
    named: dict[tuple[int, float, bool], int]
    middles: tuple[tuple[float, float], ...]

    @property
    def hulls(self) -> list[float]:
        """The area of the hull of each kind."""
        return [self.form_of(k).hull for k in range(len(self.of_kind))]

    def form_of(self, kind: int) -> Form:
        """Return the form of a kind."""
        return self.forms[self.states[self.of_kind[kind][0]].form]


def matrix_of(turn_deg: float, mirrored: bool) -> NDArray[np.float64]:
    """Return what mirrors (x to -x) and then turns; quarter turns are exact."""
    turn = turn_deg % 360
    c, s = QUARTERS.get(turn) or (math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    turning = np.array([[c, -s], [s, c]])
    return turning @ np.diag([-1.0, 1.0]) if mirrored else turning


def moved(area: Any, matrix: NDArray[np.float64], by: tuple[float, float]) -> Any:
    """Return an area mirrored or turned by a matrix, then moved."""
    return shapely.transform(area, lambda points: points @ matrix.T + np.array(by))


def grown(area: Any, by: float) -> Any:
    """Return an area that holds every point nearer than ``by`` to one: mitred, so with few corners.

    Less than nothing makes it smaller, so that what keeps a distance from that keeps so much less from the
    area itself.
    """
    if by == 0:
        return area
    if by < 0:
        return _smaller(area, -by)
    more = by
    for _ in range(8):
        found = shapely.buffer(area, more, join_style="mitre", mitre_limit=MITRE)
        short = by - shapely.distance(shapely.boundary(found), area)
        if short <= 0:
            break
        # The buffer thins its input a little, so that some corners come out short.
        more += 2 * short
    return found


def _smaller(area: Any, by: float) -> Any:
    """Return an area without its rim: what is left is nowhere further than ``by`` from what is lost.

    A sharp corner draws further back than sides do: by its share all sides are drawn back less.
    """
    if area.interiors:
        return area
    ring = shapely.get_coordinates(shapely.geometry.polygon.orient(area).exterior)[:-1]
    run, before = np.roll(ring, -1, axis=0) - ring, ring - np.roll(ring, 1, axis=0)
    turn = np.arctan2(before[:, 0] * run[:, 1] - before[:, 1] * run[:, 0], np.sum(before * run, axis=1))
    box = area.bounds
    most = LEAST_LEFT * min(box[2] - box[0], box[3] - box[1])
    back = min(by * math.cos(float(np.max(np.abs(turn))) / 2), most)
    found = shapely.buffer(area, -back, join_style="mitre")
    # What would fall apart stays as large as it is: that is only further away.
    return found if found.geom_type == "Polygon" and not found.is_empty else area


def states_of(kinds: Sequence[Kind], gap: float, *, rough: bool = False) -> States:
    """Return the states of kinds of pieces that keep a gap from one another, their outlines made simpler."""
    forms: list[Form] = []
    forms_of: dict[Any, list[int]] = {}
    states: list[State] = []
    areas: dict[int, list[tuple[int, Any]]] = {}
    of_kind = []
    named: dict[tuple[int, float, bool], int] = {}
    middles: list[tuple[float, float]] = []
    for number, kind in enumerate(kinds):
        area = polygon_of(kind.shape)
        box = area.bounds
        middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        middles.append(middle)
        true = moved(area, np.eye(2), (-middle[0], -middle[1]))
        by = gap / 2 if kind.apart is None else kind.apart - gap / 2
        alike_in = forms_of.setdefault((by, _corners_of(true)), [])
        form = next((f for f in alike_in if _same(true, forms[f].true)), len(forms))
        if form == len(forms):
            alike_in.append(form)
            big = simpler(grown(true, by), rough=rough)
            forms.append(Form(true, big, tuple(convex_parts(big)), big.convex_hull.area))
        found: dict[int, None] = {}
        for mirrored in (False, True) if kind.either_hand else (False,):
            for turn in kind.turns:
                matrix = matrix_of(turn, mirrored)
                lying = moved(true, matrix, (0.0, 0.0))
                alike = (s for s, other in areas.get(form, ()) if _same(lying, other))
                state = next(alike, len(states))
                if state == len(states):
                    areas.setdefault(form, []).append((state, lying))
                    states.append(State(form, turn % 360, mirrored, matrix, lying.bounds))
                found[state] = None
                named[number, turn % 360, mirrored] = state
        of_kind.append(tuple(found))
    return States(tuple(forms), tuple(states), tuple(of_kind), named, tuple(middles))


def moved_by(middle: tuple[float, float], state: State) -> tuple[float, float]:
    """Return what to add to a piece's place here for its place by the shape's own origin."""
    x, y = state.matrix @ np.array(middle)
    return -float(x), -float(y)


def laid_of(known: States, kind: int, state: int, x: float, y: float) -> Laid:
    """Return a piece that lies at a place here by its shape's own origin."""
    how = known.states[state]
    dx, dy = moved_by(known.middles[kind], how)
    return Laid(kind, x + dx, y + dy, how.turn_deg, how.mirrored)


def _same(one: Any, other: Any) -> bool:
    """Say whether one area lies on the other, ring by ring: what rounding is out by does not count."""
    box = np.array(one.bounds)
    size = float(np.max(box[2:] - box[:2])) * SAME
    if np.any(np.abs(box - other.bounds) > size) or _corners_of(one) != _corners_of(other):
        return False
    left = _rings_of(other)
    for ring in _rings_of(one):
        twin = next((n for n, o in enumerate(left) if _same_ring(ring, o, size)), None)
        if twin is None:
            return False
        del left[twin]
    return True


def _same_ring(one: Points, other: Points, size: float) -> bool:
    """Say whether two rings have their corners at the same places in the same order."""
    if len(one) != len(other):
        return False
    starts = np.flatnonzero(np.max(np.abs(other - one[0]), axis=1) <= size)
    return any(np.max(np.abs(np.roll(other, -s, axis=0) - one)) <= size for s in starts)


def _rings_of(area: Any) -> list[Points]:
    """Return the corners of the outside and of each opening, all counter-clockwise, none twice."""
    rings = (area.exterior, *area.interiors)
    return [shapely.get_coordinates(r if r.is_ccw else r.reverse())[:-1] for r in rings]


def _corners_of(area: Any) -> tuple[int, ...]:
    """Return how many corners the outside and each opening have."""
    return (
        len(area.exterior.coords),
        *sorted(len(ring.coords) for ring in area.interiors),
    )
