"""Compiled: how deep one piece lies in another, exactly, and the fields of depths on a grid."""

from __future__ import annotations

import math

from nestkit.layout.shapes.tables import Floats, Live, Tables

SHALLOW = 1e-8
"""Less than this share of a step counts as touching."""


def depth(t: Tables, pair: int, rx: float, ry: float) -> float:
    """Return by how much a piece must move, at least, to leave another; 0 where they do not overlap.

    ``pair`` is the other's state times the number of states plus the piece's own; ``rx``, ``ry`` its place
    less the other's. A point of the border may read either way: its depth is 0.
    """
    look = t.look
    if rx <= look[pair, 0] or ry <= look[pair, 1] or rx >= look[pair, 2] or ry >= look[pair, 3]:
        return 0.0
    x = look[pair, 4] * rx + look[pair, 5] * ry
    y = look[pair, 6] * rx + look[pair, 7] * ry
    number = t.pair[pair]
    first, last = t.spans[number, 0], t.spans[number, 1]
    e = t.edges
    best = math.inf
    if t.spans[number, 2]:
        for k in range(first, last):
            d = e[k, 0] * x + e[k, 1] * y - e[k, 2]
            if d <= 0.0:
                return 0.0
            best = min(best, d)
        return best
    inside = False
    for k in range(first, last):
        # Both ends are compared as they are stored: at the height of a corner its edges agree.
        if (e[k, 1] > y) != (e[k, 5] > y) and x < e[k, 0] + (y - e[k, 1]) * e[k, 6]:
            inside = not inside
    if not inside:
        return 0.0
    for k in range(first, last):
        px, py = x - e[k, 0], y - e[k, 1]
        along = min(max((px * e[k, 2] + py * e[k, 3]) * e[k, 4], 0.0), 1.0)
        px, py = px - along * e[k, 2], py - along * e[k, 3]
        best = min(best, px * px + py * py)
    return math.sqrt(best)


def way_out(t: Tables, pair: int, rx: float, ry: float, out: Floats) -> None:
    """Write into ``out`` the least move that takes a piece out of another which it overlaps."""
    look = t.look
    x = look[pair, 4] * rx + look[pair, 5] * ry
    y = look[pair, 6] * rx + look[pair, 7] * ry
    number = t.pair[pair]
    e = t.edges
    best, vx, vy = math.inf, 0.0, 0.0
    for k in range(t.spans[number, 0], t.spans[number, 1]):
        if t.spans[number, 2]:
            d = e[k, 0] * x + e[k, 1] * y - e[k, 2]
            px, py = d * e[k, 0], d * e[k, 1]
        else:
            px, py = x - e[k, 0], y - e[k, 1]
            along = min(max((px * e[k, 2] + py * e[k, 3]) * e[k, 4], 0.0), 1.0)
            px, py = px - along * e[k, 2], py - along * e[k, 3]
        d = px * px + py * py
        if d < best:
            best, vx, vy = d, -px, -py
    out[0] = look[pair, 4] * vx + look[pair, 6] * vy
    out[1] = look[pair, 5] * vx + look[pair, 7] * vy


def fill_fields(t: Tables) -> None:
    """Fill the fields of all pairs of states; that of a turned pair is the other one, point by point."""
    number = t.states
    for a in range(number):
        for b in range(a, number):
            one, other = a * number + b, b * number + a
            at, col, row, cols, rows = t.field_at[one]
            back = t.field_at[other, 0] + cols * rows - 1
            for r in range(rows):
                for c in range(cols):
                    d = depth(t, one, (col + c) * t.step, (row + r) * t.step)
                    t.field[at + r * cols + c] = d
                    t.field[back - (r * cols + c)] = d


def deepen(t: Tables, v: Live, i: int) -> None:
    """Work out anew how deep piece i lies in all others."""
    s = v.state[i]
    for j in range(len(v.x)):
        d = 0.0
        if j != i and v.plate[j] == v.plate[i]:
            d = depth(t, v.state[j] * t.states + s, v.x[i] - v.x[j], v.y[i] - v.y[j])
            if d < SHALLOW * t.step:
                d = 0.0
        v.depth[i, j] = d
        v.depth[j, i] = d


def deepen_all(t: Tables, v: Live) -> None:
    """Work out all depths anew."""
    for i in range(len(v.x)):
        deepen(t, v, i)
