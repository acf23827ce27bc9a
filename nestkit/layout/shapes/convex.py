"""An area cut into few convex parts: constrained triangles, joined again while they stay convex."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from nestkit.layout.shapes.problem import Shape

Points = NDArray[np.float64]
"""Points as rows of x and y; of an area, counter-clockwise and the first not repeated."""

FLAT = 1e-9
"""A turn counts as straight where its sine is smaller; a triangle of a smaller share of its box is none."""


def polygon_of(shape: Shape) -> shapely.Polygon:
    """Return a shape as an area with holes."""
    return shapely.Polygon(shape.outer, shape.openings)


def turn_at(before: Sequence[float], at: Sequence[float], after: Sequence[float]) -> float:
    """Return the sine of the turn at a point of a line, positive to the left; 0 where points coincide."""
    ax, ay, bx, by = at[0] - before[0], at[1] - before[1], after[0] - at[0], after[1] - at[1]
    length = math.hypot(ax, ay) * math.hypot(bx, by)
    return (ax * by - ay * bx) / length if length else 0.0


def without_straight(ring: Points) -> Points:
    """Return a ring without points in which it goes straight on."""
    kept = [
        k
        for k in range(len(ring))
        if abs(turn_at(*(ring[(k + d) % len(ring)].tolist() for d in (-1, 0, 1)))) > FLAT
    ]
    return ring[kept]


def convex_parts(area: Any) -> list[Points]:
    """Return convex parts that cover an area (a polygon, or several) and nothing else."""
    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(area))
    corners = [np.asarray(t.exterior.coords)[:3] for t in triangles]
    return [without_straight(part) for part in _joined([_leftwards(c) for c in corners if not _thin(c)])]


def _thin(corners: Points) -> bool:
    """Say whether a triangle is no more than a line."""
    sides = corners - np.roll(corners, 1, axis=0)
    longest = float(np.max(np.hypot(sides[:, 0], sides[:, 1])))
    return abs(_area(corners)) <= FLAT * longest**2


def _area(ring: Points) -> float:
    x, y = ring[:, 0], ring[:, 1]
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def _leftwards(ring: Points) -> Points:
    return ring if _area(ring) > 0 else ring[::-1]


def _joined(rings: list[Points]) -> list[Points]:
    """Join parts across common edges, the longest first, as long as what comes out is convex."""
    loops = {k: [(float(p[0]), float(p[1])) for p in ring] for k, ring in enumerate(rings)}
    owner = {edge: k for k, loop in loops.items() for edge in zip(loop, loop[1:] + loop[:1], strict=True)}
    inner = [(a, b) for a, b in owner if a < b and (b, a) in owner]
    inner.sort(key=lambda e: (-((e[0][0] - e[1][0]) ** 2 + (e[0][1] - e[1][1]) ** 2), e))
    for a, b in inner:
        one, other = owner[a, b], owner[b, a]
        if one == other:
            continue
        first, second = _from(loops[one], b), _from(loops[other], a)
        whole = first[:-1] + second[:-1]
        bends = (
            (whole[-1], whole[0], whole[1]),
            (whole[len(first) - 2], whole[len(first) - 1], whole[len(first) % len(whole)]),
        )
        if all(turn_at(*bend) >= -FLAT for bend in bends):
            loops[one] = whole
            del loops[other]
            owner |= dict.fromkeys(zip(whole, whole[1:] + whole[:1], strict=True), one)
    return [np.array(loop) for loop in loops.values()]


def _from(loop: list[tuple[float, float]], start: tuple[float, float]) -> list[tuple[float, float]]:
    """Return a closed loop written from one of its points on."""
    at = loop.index(start)
    return loop[at:] + loop[:at]
