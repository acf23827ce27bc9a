"""The place in a part that is furthest from its edge and from what words must not cover."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from nestkit.geometry.points import Point, Rect, around

GRID, HALVINGS = 12, 4
"""Places a side at which it is looked for, and how often the step is halved around the best."""


@lru_cache(maxsize=1024)
def deepest(corners: tuple[Point, ...], busy: tuple[Rect, ...]) -> tuple[Point, float]:
    """Return nearly the middle of the largest disc inside a line that no busy box enters, and its radius.

    The radius is 0 or less where no place is free.
    """
    box = around(Rect(*p, *p) for p in corners)
    edges = list(zip(corners, corners[1:] + corners[:1], strict=True))

    def worth(place: tuple[float, Point]) -> tuple[float, float, Point]:
        # Along a strip all places are as deep: there the one nearest to its middle is best.
        depth, p = place
        return round(depth, 1), -p.to(box.centre), p

    step_x, step_y = box.width / (GRID + 1), box.height / (GRID + 1)
    places = [
        Point(box.left + i * step_x, box.bottom + j * step_y)
        for i in range(1, GRID + 1)
        for j in range(1, GRID + 1)
    ]
    depth, best = max(((_depth(p, edges, busy), p) for p in places), key=worth)
    step = max(step_x, step_y) / 2
    for _ in range(HALVINGS):
        near = [best.moved(i * step, j * step) for i in (-1, 0, 1) for j in (-1, 0, 1)]
        depth, best = max([(depth, best), *((_depth(p, edges, busy), p) for p in near)], key=worth)
        step /= 2
    return best, depth


def _depth(p: Point, edges: Sequence[tuple[Point, Point]], busy: Sequence[Rect]) -> float:
    """Return how far a place is from the line and the busy boxes, negative outside and in a box."""
    away, inside = math.inf, False
    for a, b in edges:
        dx, dy = b.x - a.x, b.y - a.y
        square = dx * dx + dy * dy
        share = min(1.0, max(0.0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square)) if square else 0.0
        away = min(away, math.hypot(a.x + share * dx - p.x, a.y + share * dy - p.y))
        if (a.y > p.y) != (b.y > p.y) and p.x < a.x + (p.y - a.y) / dy * dx:
            inside = not inside
    if not inside:
        return -away
    for box in busy:
        dx, dy = max(box.left - p.x, p.x - box.right), max(box.bottom - p.y, p.y - box.top)
        away = min(away, math.hypot(max(dx, 0.0), max(dy, 0.0)) or max(dx, dy))
    return away
