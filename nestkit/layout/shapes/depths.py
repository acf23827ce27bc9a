"""Compiled: how deep one piece lies in another, exactly, and the fields of depths on a grid.

Here and in the other compiled modules inner functions get the arrays that they read, not the tables, and
loops read arrays that were taken out of the tables before: handing on a tuple of arrays, or taking one out,
costs more than a depth.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from nestkit.layout.shapes.tables import Floats, Live, Tables, Wholes

SHALLOW = 1e-8
"""Less than this share of a step counts as touching."""
QUARTER = 1e-12
"""Turns that differ less from quarters are taken for them."""


def depth(t: Tables, pair: int, rx: float, ry: float) -> float:
    """Return :func:`depth_in` of the tables."""
    return depth_in(t.look, t.pair, t.spans, t.edges, pair, rx, ry)


def depth_in(look: Floats, pairs: Wholes, spans: Wholes, e: Floats, pair: int, rx: float, ry: float) -> float:
    """Return by how much a piece must move, at least, to leave another; 0 where they do not overlap.

    ``pair`` is the other's state times the number of states plus the piece's own; ``rx``, ``ry`` its place
    less the other's. A point of the border may read either way: its depth is 0.
    """
    if rx <= look[pair, 0] or ry <= look[pair, 1] or rx >= look[pair, 2] or ry >= look[pair, 3]:
        return 0.0
    x = look[pair, 4] * rx + look[pair, 5] * ry
    y = look[pair, 6] * rx + look[pair, 7] * ry
    number = pairs[pair]
    first, last = spans[number, 0], spans[number, 1]
    best = math.inf
    if spans[number, 2]:
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
    look, e = t.look, t.edges
    x = look[pair, 4] * rx + look[pair, 5] * ry
    y = look[pair, 6] * rx + look[pair, 7] * ry
    first, last, convex = t.spans[t.pair[pair]]
    best, vx, vy = math.inf, 0.0, 0.0
    for k in range(first, last):
        if convex:
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
    """Fill the fields of all pairs of states.

    That of a turned pair is the other one, point by point. So are, in another order, those of pairs which see
    the same polygon by quarter turns, mirrored or not.
    """
    number = t.states
    filled, latest = np.empty(number * number, np.int64), np.empty(len(t.spans), np.int64)
    most = 0
    for k in range(len(t.spans)):
        latest[k] = -1
        most = max(most, t.spans[k, 1] - t.spans[k, 0])
    room = np.empty((most, 7))
    for a in range(number):
        for b in range(a, number):
            one, other = a * number + b, b * number + a
            source = latest[t.pair[one]]
            while source >= 0 and not copy_field(t, source, one):
                source = filled[source]
            if source < 0:
                fill_field(t, one, room)
                filled[one], latest[t.pair[one]] = latest[t.pair[one]], one
            if other > one:
                at, size = t.field_at[one, 0], t.field_at[one, 3] * t.field_at[one, 4]
                there, back = t.field[at : at + size], t.field[t.field_at[other, 0] :]
                for k in range(size):
                    back[size - 1 - k] = there[k]


def copy_field(t: Tables, source: int, pair: int) -> bool:
    """Fill a field from another of the same polygon; False unless quarter turns are between them."""
    m, n = t.look[source, 4:], t.look[pair, 4:]
    # What takes places of the pair to those of the other.
    xx, xy = m[0] * n[0] + m[2] * n[2], m[0] * n[1] + m[2] * n[3]
    yx, yy = m[1] * n[0] + m[3] * n[2], m[1] * n[1] + m[3] * n[3]
    if min(abs(xx), abs(xy)) > QUARTER:
        return False
    at, col, row, cols, rows = t.field_at[pair]
    first, left, low, wide, high = t.field_at[source]
    for r in range(rows):
        x = round(xx * col + xy * (row + r)) - left
        y = round(yx * col + yy * (row + r)) - low
        right, up = round(xx), round(yx)
        begin = at + r * cols
        for c in range(cols):
            # By rounding, grids may differ at their edges, where nothing is deep.
            inside = 0 <= x < wide and 0 <= y < high
            t.field[begin + c] = t.field[first + y * wide + x] if inside else 0.0
            x, y = x + right, y + up
    return True


def fill_field(t: Tables, pair: int, room: Floats) -> None:
    """Fill a field row by row, with what ``depth`` says of its points but for rounding."""
    at, col, row, cols, rows = t.field_at[pair]
    xx, xy, yx, yy = t.look[pair, 4], t.look[pair, 5], t.look[pair, 6], t.look[pair, 7]
    number = t.pair[pair]
    first, last = t.spans[number, 0], t.spans[number, 1]
    convex = t.spans[number, 2] != 0
    # The edges as the pair sees them: columns as before, but the slope is worked out anew.
    for k in range(last - first):
        e = t.edges[first + k]
        room[k, 0], room[k, 1] = xx * e[0] + yx * e[1], xy * e[0] + yy * e[1]
        room[k, 2], room[k, 3], room[k, 4] = xx * e[2] + yx * e[3], xy * e[2] + yy * e[3], e[4]
        if convex:
            room[k, 2] = e[2]
        else:
            room[k, 5] = xy * e[7] + yy * e[5]
            up = room[k, 5] - room[k, 1]
            room[k, 6] = room[k, 2] / up if up != 0.0 else 0.0
    for r in range(rows):
        line = t.field[at + r * cols : at + (r + 1) * cols]
        y = (row + r) * t.step
        if convex:
            within_convex(line, col, y, t.step, room, last - first)
        else:
            within_rings(line, col, y, t.step, room, last - first)


def within_convex(line: Any, col: int, y: float, step: float, e: Floats, number: int) -> None:
    """Fill a row of a field from the edges of a convex polygon."""
    for c in range(len(line)):
        line[c] = math.inf
    for k in range(number):
        nx, d = e[k, 0] * step, e[k, 1] * y - e[k, 2] + e[k, 0] * step * col
        for c in range(len(line)):
            line[c] = min(line[c], d + nx * c)
    for c in range(len(line)):
        line[c] = max(line[c], 0.0)


def within_rings(line: Any, col: int, y: float, step: float, e: Floats, number: int) -> None:
    """Fill a row of a field from the edges of any polygon."""
    cols = len(line)
    for c in range(cols):
        line[c] = 0.0
    for k in range(number):
        if (e[k, 1] > y) != (e[k, 5] > y):
            # All points to the left of the crossing change sides: marked is the last of them.
            x = e[k, 0] + (y - e[k, 1]) * e[k, 6]
            left = min(math.ceil(x / step) - col, cols)
            if left > 0:
                line[left - 1] = 1.0 - line[left - 1]
    inside, begin, end = False, cols, 0
    for c in range(cols - 1, -1, -1):
        if line[c] > 0.0:
            inside = not inside
        line[c] = math.inf if inside else 0.0
        if inside:
            begin, end = c, max(end, c + 1)
    for k in range(number):
        dx, dy, share = e[k, 2], e[k, 3], e[k, 4]
        px, py = (col * step) - e[k, 0], y - e[k, 1]
        for c in range(begin, end):
            x = px + c * step
            along = min(max((x * dx + py * dy) * share, 0.0), 1.0)
            qx, qy = x - along * dx, py - along * dy
            line[c] = min(line[c], qx * qx + qy * qy)
    for c in range(begin, end):
        line[c] = math.sqrt(line[c])


def deepen(t: Tables, v: Live, i: int) -> None:
    """Work out anew how deep piece i lies in all others."""
    look, pairs, spans, edges = t.look, t.pair, t.spans, t.edges
    xs, ys, state, plate, depths = v.x, v.y, v.state, v.plate, v.depth
    for j in range(len(xs)):
        d = 0.0
        if j != i and plate[j] == plate[i]:
            pair = state[j] * t.states + state[i]
            d = depth_in(look, pairs, spans, edges, pair, xs[i] - xs[j], ys[i] - ys[j])
            if d < SHALLOW * t.step:
                d = 0.0
        depths[i, j] = d
        depths[j, i] = d


def deepen_all(t: Tables, v: Live) -> None:
    """Work out all depths anew; what is fixed may lie in one another as it likes."""
    for i in range(len(v.order)):
        deepen(t, v, i)
