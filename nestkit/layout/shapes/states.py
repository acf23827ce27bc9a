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
    """Return an area that holds every point nearer than ``by`` to one: mitred, so with few corners."""
    if by <= 0:
        return area
    more = by
    for _ in range(8):
        found = shapely.buffer(area, more, join_style="mitre", mitre_limit=MITRE)
        short = by - shapely.distance(shapely.boundary(found), area)
        if short <= 0:
            break
        # The buffer thins its input a little, so that some corners come out short.
        more += 2 * short
    return found


def states_of(kinds: Sequence[Kind], gap: float, *, rough: bool = False) -> States:
    """Return the states of kinds of pieces that keep a gap from one another, their outlines made simpler."""
    forms: list[Form] = []
    form_at: dict[Any, int] = {}
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
        name = _print_of(true)
        if name not in form_at:
            form_at[name] = len(forms)
            big = simpler(grown(true, gap / 2), rough=rough)
            forms.append(Form(true, big, tuple(convex_parts(big)), big.convex_hull.area))
        form = form_at[name]
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
    """Say whether one area lies on the other, by their corners: what rounding is out by does not count."""
    box = np.array(one.bounds)
    size = float(np.max(box[2:] - box[:2])) * SAME
    if np.any(np.abs(box - other.bounds) > size):
        return False
    corners, others = (shapely.extract_unique_points(area) for area in (one, other))
    return bool(shapely.hausdorff_distance(corners, others) <= size)


def _print_of(area: Any) -> tuple[Any, ...]:
    """Return what two areas have in common where one lies on the other."""
    box = area.bounds
    step = max(box[2] - box[0], box[3] - box[1]) * SAME
    rings = [np.asarray(ring.coords)[:-1] for ring in (area.exterior, *area.interiors)]
    return (
        round(step, 12),
        *sorted(tuple(sorted((round(x / step), round(y / step)) for x, y in ring)) for ring in rings),
    )
