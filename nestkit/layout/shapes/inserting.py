"""Compiled: a piece put where it overlaps least on some plates, as far left as that allows."""

from __future__ import annotations

import math

from nestkit.layout.shapes.depths import deepen
from nestkit.layout.shapes.places import fill_map, refine, scan_map
from nestkit.layout.shapes.tables import Live, Tables

LEAN_ACROSS, LEAN_UP = 0.05, 0.005
"""What the far end of a map counts more than its beginning, in steps: less than any overlap on the grid."""


def lean(t: Tables, v: Live, cols: int, rows: int) -> None:
    """Make places on the map a little worse the further right, and a little the further up, they are."""
    for r in range(rows):
        for c in range(cols):
            v.scratch[r * cols + c] += t.step * (LEAN_ACROSS * c / cols + LEAN_UP * r / rows)


def insert(t: Tables, v: Live, i: int, first: int, last: int) -> float:
    """Put a piece where it overlaps least, by weight, on plates ``first`` to before ``last``; return that.

    Where no plate holds it, it stays as it is, and infinity is returned.
    """
    found, kind = 0, v.kind[i]
    for p in range(first, last):
        for k in range(t.kind_first[kind], t.kind_first[kind + 1]):
            s = t.state_list[k]
            cols, rows = fill_map(t, v, i, s, p)
            if rows > 0:
                lean(t, v, cols, rows)
                found = scan_map(t, v, s, p, cols, rows, found, math.inf)
    best, at, x, y = math.inf, -1, 0.0, 0.0
    for k in range(found):
        s, p = int(v.spot[k, 3]), int(v.spot[k, 4])
        cost = refine(t, v, i, s, p, v.spot[k, 1], v.spot[k, 2], best)
        if cost < best:
            best, at, x, y = cost, k, v.out[0], v.out[1]
            if cost <= 0.0:
                break
    if at >= 0:
        v.state[i], v.plate[i], v.x[i], v.y[i] = int(v.spot[at, 3]), int(v.spot[at, 4]), x, y
        deepen(t, v, i)
    return best
