"""No-fit polygons: where one piece must not be, seen from another, for all pairs of states.

Piece b overlaps piece a just where its place less that of a lies inside the polygon of a and b. It is the
union of the sums of a's convex parts and b's negated ones. Only forms at different relative turns are worked
out: turning both pieces turns the polygon, and that of b and a is the negative of that of a and b.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from nestkit.geometry.overlay import whole
from nestkit.layout.shapes.bench import Asked, Bench, Found, Sums
from nestkit.layout.shapes.convex import Points, without_straight
from nestkit.layout.shapes.loops import NOISE
from nestkit.layout.shapes.ready_parts import ready_parts
from nestkit.layout.shapes.states import States, matrix_of

COLUMNS = 8
"""Of an edge: x0, y0, dx, dy, 1 / length squared, y1, dx / dy, x1; if convex nx, ny, c first."""
FEWEST = 8
"""Rows for each polygon to begin with, and one piece for so many sides: what is short is doubled."""


class Areas:
    """The polygons as areas, as shapely unites them, each worked out when it is first asked for."""

    def __init__(self, known: States, asked: Asked) -> None:
        self._known, self._asked = known, asked
        self._found: dict[int, Any] = {}

    def __len__(self) -> int:
        return len(self._asked.forms)

    def __getitem__(self, index: int) -> Any:
        if index not in self._found:
            one, other = (self._known.forms[f] for f in self._asked.forms[index])
            matrix = self._asked.turns[index].reshape(2, 2)
            self._found[index] = no_fit_area(one.parts, tuple(p @ matrix.T for p in other.parts))
        return self._found[index]


@dataclass(frozen=True, slots=True)
class Polygons:
    """Polygons as rows of edges, and how each ordered pair of states looks into them.

    ``spans``: first edge, last edge + 1, whether convex. ``pair``: the polygon of a pair, at a * states + b.
    ``look``: the box of a pair's polygon (x0, y0, x1, y1), and the matrix that takes a relative place to the
    polygon's own frame. ``areas``: the polygons for those who work with whole areas.
    """

    edges: NDArray[np.float64]
    spans: NDArray[np.int64]
    pair: NDArray[np.int64]
    look: NDArray[np.float64]
    areas: Areas


def no_fit_area(one: tuple[Points, ...], other: tuple[Points, ...]) -> Any:
    """Return where the second of two pieces overlaps the first, as an area, from their convex parts."""
    sums = [(a[:, None, :] - b[None, :, :]).reshape(-1, 2) for a in one for b in other]
    points = shapely.multipoints(
        np.concatenate(sums), indices=np.repeat(range(len(sums)), [len(s) for s in sums])
    )
    hulls: Any = shapely.convex_hull(points)
    return hulls[0] if len(hulls) == 1 else whole(hulls)


def rings_of(area: Any) -> list[Points]:
    """Return the rings of an area, without noise and without points in straight lines."""
    least = NOISE * area.area
    found = []
    for part in shapely.get_parts(area):
        for ring in (part.exterior, *part.interiors):
            if part.area > least and shapely.Polygon(ring).area > least:
                found.append(without_straight(np.asarray(ring.coords)[:-1]))
    return [ring for ring in found if len(ring) > 2]


def edges_of(rings: list[Points]) -> tuple[NDArray[np.float64], bool]:
    """Return the edges of rings as rows, and whether they are those of one convex polygon."""
    start = np.concatenate(rings)
    end = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])
    run = end - start
    length = np.hypot(run[:, 0], run[:, 1])
    edges = np.zeros((len(start), COLUMNS))
    after = np.roll(run, -1, axis=0)
    turns = run[:, 0] * after[:, 1] - run[:, 1] * after[:, 0]
    if len(rings) == 1 and (np.all(turns >= 0) or np.all(turns <= 0)):
        side = 1.0 if np.all(turns >= 0) else -1.0
        edges[:, 0] = -run[:, 1] / length * side
        edges[:, 1] = run[:, 0] / length * side
        edges[:, 2] = edges[:, 0] * start[:, 0] + edges[:, 1] * start[:, 1]
        return edges, True
    edges[:, :2], edges[:, 2:4], edges[:, 4], edges[:, 5] = start, run, 1 / length**2, end[:, 1]
    edges[:, 7] = end[:, 0]
    level = run[:, 1] == 0
    edges[:, 6] = np.where(level, 0.0, run[:, 0] / np.where(level, 1.0, run[:, 1]))
    return edges, False


def asked_of(known: States) -> tuple[Asked, NDArray[np.int64], NDArray[np.float64]]:
    """Return the polygons needed, which is that of each pair of states, and the matrices into them.

    The matrices are those of ``Polygons.look``, row by row.
    """
    form = np.array([s.form for s in known.states])
    turn = np.array([s.turn_deg for s in known.states])
    hand = np.array([s.mirrored for s in known.states])
    matrix = np.array([s.matrix for s in known.states])
    one, other = (k.ravel() for k in np.indices((len(form), len(form))))
    swap = form[one] > form[other]
    first, second = np.where(swap, other, one), np.where(swap, one, other)
    relative = turn[second] - turn[first]
    relative = np.round(np.where(hand[first], -relative, relative) % 360, 9) % 360
    keys = np.column_stack([form[first], form[second], relative, hand[first] != hand[second]])
    kept, pair = np.unique(keys, axis=0, return_inverse=True)
    turns = np.array([matrix_of(float(turn), bool(mirrored)).ravel() for turn, mirrored in kept[:, 2:]])
    into = matrix[first] * np.where(swap, -1.0, 1.0)[:, None, None]
    asked = Asked(np.ascontiguousarray(kept[:, :2].astype(np.int64)), turns)
    return asked, pair.ravel().astype(np.int64), np.swapaxes(into, 1, 2).reshape(-1, 4)


def polygons_of(known: States, unite: Callable[..., int] | None = None) -> Polygons:
    """Return the no-fit polygons of all pairs of states.

    ``unite`` is the function of that name, compiled: without it, and for a polygon that it does not find,
    shapely unites the sums, many times slower.
    """
    asked, pair, into = asked_of(known)
    areas = Areas(known, asked)
    number = len(asked.forms)
    found = (
        Found(np.zeros((0, COLUMNS)), np.zeros((number, 3), np.int64), np.zeros((number, 4)))
        if unite is None
        else united(known, asked, unite)
    )
    rows, used = [found.rows], len(found.rows)
    for k in np.flatnonzero(found.spans[:, 0] == found.spans[:, 1]).tolist():
        edges, convex = edges_of(rings_of(areas[k]))
        rows.append(edges)
        found.spans[k] = used, used + len(edges), convex
        found.boxes[k] = areas[k].bounds
        used += len(edges)
    look = np.zeros((len(pair), 8))
    look[:, 4:] = into
    x, y = found.boxes[pair][:, [0, 2, 2, 0]], found.boxes[pair][:, [1, 1, 3, 3]]
    # The inverse of a turn is its transpose.
    corners = np.stack([into[:, :1] * x + into[:, 2:3] * y, into[:, 1:2] * x + into[:, 3:] * y], axis=2)
    look[:, :2], look[:, 2:4] = corners.min(axis=1), corners.max(axis=1)
    return Polygons(np.concatenate(rows), found.spans, pair, look, areas)


def bare_polygons(known: States) -> Polygons:
    """Return polygons that are only there as areas, each once it is asked for: no rows, no boxes."""
    asked, pair, into = asked_of(known)
    look = np.concatenate([np.zeros_like(into), into], axis=1)
    spans = np.zeros((len(asked.forms), 3), np.int64)
    return Polygons(np.zeros((0, COLUMNS)), spans, pair, look, Areas(known, asked))


def united(known: States, asked: Asked, unite: Callable[..., int]) -> Found:
    """Return the polygons that the compiled function finds; the others without rows."""
    packed = ready_parts(known.forms)
    sizes, counts = np.diff(packed.part_first), np.diff(packed.form_first)
    number = len(asked.forms)
    spans, boxes = np.zeros((number, 3), np.int64), np.zeros((number, 4))
    corners = np.diff(packed.part_first[packed.form_first])
    one, other = asked.forms.T
    sums = int(np.max(counts[one] * counts[other]))
    sides = int(np.max(counts[other] * corners[one] + counts[one] * corners[other]))
    found, pieces = Found(np.zeros((FEWEST * number, COLUMNS)), spans, boxes), FEWEST + sides // FEWEST
    done = 0
    while True:
        room, bench = room_for(int(sizes.max()), sums, sides, pieces)
        done = unite(packed, asked, room, bench, found, done)
        if done == number:
            return Found(found.rows[: spans[-1, 1]], spans, boxes)
        more = np.zeros_like(found.rows)
        found, pieces = Found(np.concatenate([found.rows, more]), spans, boxes), 2 * pieces


def room_for(corners: int, sums: int, sides: int, pieces: int) -> tuple[Sums, Bench]:
    """Return room to work on a polygon of so many sums, with so many sides and pieces of them."""
    return (
        Sums(
            side=np.zeros((sides + 1, 7)),
            first=np.zeros(sums + 1, np.int64),
            box=np.zeros((sums, 4)),
            order=np.zeros(sums, np.int64),
        ),
        Bench(
            corner=np.zeros((corners, 7)),
            hide=np.zeros((sums, 4)),
            piece=np.zeros((pieces, 5)),
            ends=np.zeros((2 * pieces, 3), np.int64),
            walk=np.zeros((pieces + 1, 4), np.int64),
        ),
    )
