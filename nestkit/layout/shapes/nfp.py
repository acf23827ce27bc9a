"""No-fit polygons: where one piece must not be, seen from another, for all pairs of states.

Piece b overlaps piece a just where its place less that of a lies inside the polygon of a and b. It is the
union of the sums of a's convex parts and b's negated ones. Only forms at different relative turns are worked
out: turning both pieces turns the polygon, and that of b and a is the negative of that of a and b.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from nestkit.layout.shapes.convex import Points, without_straight
from nestkit.layout.shapes.states import States, matrix_of

NOISE = 1e-7
"""Rings with a smaller share of the polygon's area come from rounding."""
COLUMNS = 8
"""Of an edge: x0, y0, dx, dy, 1 / length squared, y1, dx / dy, unused; if convex nx, ny, c first."""


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
    areas: tuple[Any, ...]


def no_fit_area(one: tuple[Points, ...], other: tuple[Points, ...]) -> Any:
    """Return where the second of two pieces overlaps the first, as an area, from their convex parts."""
    sums = [(a[:, None, :] - b[None, :, :]).reshape(-1, 2) for a in one for b in other]
    points = shapely.multipoints(
        np.concatenate(sums), indices=np.repeat(range(len(sums)), [len(s) for s in sums])
    )
    hulls: Any = shapely.convex_hull(points)
    return hulls[0] if len(hulls) == 1 else shapely.union_all(hulls)


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
    level = run[:, 1] == 0
    edges[:, 6] = np.where(level, 0.0, run[:, 0] / np.where(level, 1.0, run[:, 1]))
    return edges, False


def polygons_of(known: States) -> Polygons:
    """Return the no-fit polygons of all pairs of states."""
    number = len(known.states)
    areas: list[Any] = []
    rows: list[NDArray[np.float64]] = []
    spans: list[tuple[int, int, bool]] = []
    at: dict[tuple[int, int, float, bool], int] = {}
    pair = np.zeros(number * number, np.int64)
    look = np.zeros((number * number, 8))
    for a, one in enumerate(known.states):
        for b, other in enumerate(known.states):
            first, second, sign = (one, other, 1.0) if one.form <= other.form else (other, one, -1.0)
            turn = second.turn_deg - first.turn_deg
            relative = round((-turn if first.mirrored else turn) % 360, 9) % 360
            key = (first.form, second.form, relative, first.mirrored != second.mirrored)
            if key not in at:
                at[key] = len(areas)
                matrix = matrix_of(relative, key[3])
                parts = tuple(p @ matrix.T for p in known.forms[second.form].parts)
                area = no_fit_area(known.forms[first.form].parts, parts)
                edges, convex = edges_of(rings_of(area))
                begin = spans[-1][1] if spans else 0
                spans.append((begin, begin + len(edges), convex))
                areas.append(area)
                rows.append(edges)
            index = a * number + b
            pair[index] = at[key]
            into = first.matrix * sign
            look[index, 4:] = into.T.ravel()
            x0, y0, x1, y1 = areas[at[key]].bounds
            corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]) @ into.T
            look[index, :2], look[index, 2:4] = corners.min(axis=0), corners.max(axis=0)
    return Polygons(np.concatenate(rows), np.array(spans, np.int64), pair, look, tuple(areas))
