"""Outlines with many corners, as those of arcs taken straight, made simpler outwards: never a point is lost.

An inward corner is left out, or an edge between two outward corners, whose neighbours are drawn on until they
meet. The cheapest step by distance goes first.
"""

from __future__ import annotations

import heapq
import math
from typing import Any

import numpy as np
import shapely

from nestkit.geometry.overlay import rest
from nestkit.layout.shapes.convex import turn_at

ENOUGH = 40
"""Outlines with no more corners stay as they are."""
STRAY = 5e-4
"""The furthest that a simpler outline may be from the true one, as a share of its size."""

ROUGH_ENOUGH, ROUGH_STRAY = 16, 1e-2
"""The same where corners cost more than what is lost by leaving them out."""

Corner = tuple[float, float]


def simpler(area: Any, *, rough: bool = False) -> Any:
    """Return an area that holds another, with few corners; the same where no simpler one is found."""
    enough, stray = (ROUGH_ENOUGH, ROUGH_STRAY) if rough else (ENOUGH, STRAY)
    rings = [np.asarray(ring.coords)[:-1] for ring in (area.exterior, *area.interiors)]
    if sum(map(len, rings)) <= enough:
        return area
    x0, y0, x1, y1 = area.bounds
    most = stray * max(x1 - x0, y1 - y0)
    # The inside is on the left of every ring.
    whole = shapely.geometry.polygon.orient(area)
    outer, *inner = (
        _Ring([(float(x), float(y)) for x, y in ring.coords[:-1]]).simplified(most, enough)
        for ring in (whole.exterior, *whole.interiors)
    )
    found = shapely.Polygon(outer, [ring for ring in inner if len(ring) > 2])
    if not found.is_valid or rest(area, found).area > 1e-12 * area.area:
        return area
    return found


class _Ring:
    """A ring that loses its corners one by one."""

    def __init__(self, corners: list[Corner]) -> None:
        self._at = dict(enumerate(corners))
        n = len(corners)
        self._next = {k: (k + 1) % n for k in range(n)}
        self._prev = {k: (k - 1) % n for k in range(n)}
        self._off = dict.fromkeys(range(n), 0.0)
        """How far the edge from a corner on may be from the true outline."""

    def simplified(self, most: float, enough: int) -> list[Corner]:
        """Return the corners that are left when no step is cheap enough, or few are left."""
        heap = [step for k in self._at for step in self._steps(k)]
        heapq.heapify(heap)
        while heap and len(self._at) > max(enough, 4):
            cost, k, point, involved = heapq.heappop(heap)
            if cost > most:
                break
            if any(self._at.get(c) != p for c, p in involved):
                continue
            self._take(k, point, cost)
            around = (self._prev[self._prev[k]], self._prev[k], k, self._next[k])
            for step in (s for c in dict.fromkeys(around) if c in self._at for s in self._steps(c)):
                heapq.heappush(heap, step)
        return list(self._at.values())

    def _steps(self, k: int) -> list[tuple[float, int, Corner, tuple[tuple[int, Corner], ...]]]:
        """Return the steps at a corner and the edge from it: cost, corner, new place, what it rests on."""
        ids = (self._prev[k], k, self._next[k], self._next[self._next[k]])
        if len(set(ids)) < 4:
            return []
        a, b, c, d = (self._at[i] for i in ids)
        involved = tuple((i, self._at[i]) for i in ids)
        turn, after = turn_at(a, b, c), turn_at(b, c, d)
        off = max(self._off[i] for i in ids[:3])
        if turn <= 0:
            # An inward corner goes: a is joined to c, which is said by moving b onto c.
            return [(off + _away(b, a, c), k, c, involved)]
        meeting = _meeting(a, b, c, d) if after > 0 else None
        return [] if meeting is None else [(off + _away(meeting, b, c), k, meeting, involved)]

    def _take(self, k: int, point: Corner, cost: float) -> None:
        """Put a corner elsewhere and leave out the next one."""
        gone = self._next[k]
        self._next[k] = self._next[gone]
        self._prev[self._next[k]] = k
        del self._at[gone]
        self._at[k] = point
        self._off[k] = self._off[self._prev[k]] = cost


def _away(p: Corner, a: Corner, b: Corner) -> float:
    """Return the distance of a point from the line through two others."""
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    return abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length


def _meeting(a: Corner, b: Corner, c: Corner, d: Corner) -> Corner | None:
    """Return where the edges a-b and d-c meet beyond b and c; None where they do not."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - d[0], c[1] - d[1]
    cross = ux * vy - uy * vx
    if cross == 0:
        return None
    wx, wy = d[0] - a[0], d[1] - a[1]
    t, s = (wx * vy - wy * vx) / cross, (wx * uy - wy * ux) / cross
    return (a[0] + t * ux, a[1] + t * uy) if t >= 1 and s >= 1 else None
