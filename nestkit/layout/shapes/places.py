"""Compiled: where a piece would lie least in others, by a map of depth fields and then exactly."""

from __future__ import annotations

import math

from nestkit.layout.shapes.depths import depth, way_out
from nestkit.layout.shapes.tables import Live, Tables

PROJECTIONS = 3
FIRST_STEP = 0.5
SHRINK = 0.35
LAST_STEP = 0.01
"""Of the search around a place, in steps of the fields."""
REACH = 2.0
"""How far that search may go, in steps."""
WORSE = 2.0
"""A search is given up where it is so many times worse than the best."""


def draw(v: Live, below: int) -> int:
    """Return a random whole number from 0 to ``below`` - 1.

    The generator is Park and Miller's with the multiplier 48271 ("Random number generators: good ones are
    hard to find", Communications of the ACM 31, 1988, from memory).
    """
    v.random[0] = v.random[0] * 48271 % 2147483647
    return int(v.random[0] * below // 2147483647)


def effective(v: Live, i: int, j: int) -> float:
    """Return the weight of a pair of pieces."""
    return float(v.weight[i, j] * v.scale[i, j])


def pressed(v: Live, i: int) -> float:
    """Return the weighted sum of depths of piece i."""
    total = 0.0
    for j in range(len(v.x)):
        if v.depth[i, j] > 0.0:
            total += v.depth[i, j] * effective(v, i, j)
    return total


def add_row(t: Tables, v: Live, to: int, at: int, number: int, factor: float) -> None:
    """Add a stretch of a field to a stretch of the map."""
    f = t.field
    m = v.scratch
    for k in range(number):
        m[to + k] += factor * f[at + k]


def fill_map(t: Tables, v: Live, i: int, s: int, p: int) -> tuple[int, int]:
    """Sum the weighted depths of piece i in state s over plate p; return columns and rows, 0 for no room.

    The last column and the last row stand for the far ends of the room, which the step need not meet.
    """
    x0, y0 = -t.box[s, 0], -t.box[s, 1]
    x1, y1 = v.wide[p] - t.box[s, 2], v.high[p] - t.box[s, 3]
    if x1 < x0 or y1 < y0:
        return 0, 0
    h = t.step
    nx, ny = int((x1 - x0) / h) + 1, int((y1 - y0) / h) + 1
    cols = nx + 1
    m = v.scratch
    for k in range(cols * (ny + 1)):
        m[k] = 0.0
    for j in range(len(v.x)):
        if j == i or v.plate[j] != p:
            continue
        pair = v.state[j] * t.states + s
        at, left, low, fx, fy = t.field_at[pair]
        factor = effective(v, i, j)
        # Column c of the map is column c + dc of the field.
        dc = math.floor((x0 - v.x[j]) / h + 0.5) - left
        dr = math.floor((y0 - v.y[j]) / h + 0.5) - low
        far_c = math.floor((x1 - v.x[j]) / h + 0.5) - left
        far_r = math.floor((y1 - v.y[j]) / h + 0.5) - low
        c0, c1 = max(0, -dc), min(nx, fx - dc)
        far = 0 <= far_c < fx
        if c1 <= c0 and not far:
            continue
        for r in range(max(0, -dr), min(ny, fy - dr)):
            row = at + (r + dr) * fx
            add_row(t, v, r * cols + c0, row + c0 + dc, c1 - c0, factor)
            if far:
                m[r * cols + nx] += factor * t.field[row + far_c]
        if 0 <= far_r < fy:
            row = at + far_r * fx
            add_row(t, v, ny * cols + c0, row + c0 + dc, c1 - c0, factor)
            if far:
                m[ny * cols + nx] += factor * t.field[row + far_c]
    return cols, ny + 1


def keep_spot(v: Live, found: int, value: float, x: float, y: float, s: int, p: int) -> int:
    """Put a place among the best, in order of value; return how many there are."""
    most = len(v.spot)
    k = min(found, most - 1)
    while k > 0 and v.spot[k - 1, 0] > value:
        v.spot[k] = v.spot[k - 1]
        k -= 1
    v.spot[k, 0], v.spot[k, 1], v.spot[k, 2], v.spot[k, 3], v.spot[k, 4] = value, x, y, s, p
    return min(found + 1, most)


def scan_map(t: Tables, v: Live, s: int, p: int, cols: int, rows: int, found: int, most: float) -> int:
    """Keep the lowest local minima of the map among the best places; return how many are kept.

    It begins at a random row, so that of places that are equally good any may be kept.
    """
    m = v.scratch
    number = len(v.spot)
    begin = draw(v, rows)
    x0, y0 = -t.box[s, 0], -t.box[s, 1]
    worst = min(most, v.spot[number - 1, 0]) if found == number else most
    for k in range(rows):
        r = (begin + k) % rows
        for c in range(cols):
            value = float(m[r * cols + c])
            if value >= worst:
                continue
            lowest = True
            for rr in range(max(r - 1, 0), min(r + 2, rows)):
                for cc in range(max(c - 1, 0), min(c + 2, cols)):
                    other = m[rr * cols + cc]
                    before = rr < r or (rr == r and cc < c)
                    if other < value or (before and other == value):
                        lowest = False
            if lowest:
                x = x0 + c * t.step if c < cols - 1 else v.wide[p] - t.box[s, 2]
                y = y0 + r * t.step if r < rows - 1 else v.high[p] - t.box[s, 3]
                found = keep_spot(v, found, value, x, y, s, p)
                worst = min(most, v.spot[number - 1, 0]) if found == number else most
    return found


def gather(t: Tables, v: Live, i: int, s: int, p: int, x: float, y: float) -> int:
    """List the pieces that i could touch within reach of a place, with their weights; return their number."""
    number = 0
    reach = REACH * t.step
    for j in range(len(v.x)):
        if j == i or v.plate[j] != p:
            continue
        pair = v.state[j] * t.states + s
        rx, ry = x - v.x[j], y - v.y[j]
        if (
            rx > t.look[pair, 0] - reach
            and rx < t.look[pair, 2] + reach
            and ry > t.look[pair, 1] - reach
            and ry < t.look[pair, 3] + reach
        ):
            v.near[number] = j
            v.near_weight[number] = effective(v, i, j)
            number += 1
    return number


def cost_at(t: Tables, v: Live, number: int, s: int, x: float, y: float, most: float) -> float:
    """Return the weighted sum of depths at a place, exactly, or something of ``most`` or over."""
    total = 0.0
    for k in range(number):
        j = v.near[k]
        d = depth(t, v.state[j] * t.states + s, x - v.x[j], y - v.y[j])
        if d > 0.0:
            total += d * v.near_weight[k]
            if total >= most:
                return float(total)
    return total


def refine(t: Tables, v: Live, i: int, s: int, p: int, x: float, y: float, best: float) -> float:
    """Search around a place for the least weighted sum of depths; return it, and the place in ``out``."""
    h = t.step
    left, right = max(-t.box[s, 0], x - REACH * h), min(v.wide[p] - t.box[s, 2], x + REACH * h)
    low, top = max(-t.box[s, 1], y - REACH * h), min(v.high[p] - t.box[s, 3], y + REACH * h)
    x, y = min(max(x, left), right), min(max(y, low), top)
    number = gather(t, v, i, s, p, x, y)
    cost = cost_at(t, v, number, s, x, y, math.inf)
    for _ in range(PROJECTIONS):
        if cost <= 0.0:
            break
        deepest, at = 0.0, -1
        for k in range(number):
            j = v.near[k]
            d = depth(t, v.state[j] * t.states + s, x - v.x[j], y - v.y[j]) * v.near_weight[k]
            if d > deepest:
                deepest, at = d, j
        way_out(t, v.state[at] * t.states + s, x - v.x[at], y - v.y[at], v.out)
        # A little further than needed, else rounding keeps the place inside.
        nx = min(max(x + v.out[0] * (1 + 1e-9), left), right)
        ny = min(max(y + v.out[1] * (1 + 1e-9), low), top)
        new = cost_at(t, v, number, s, nx, ny, cost)
        if new >= cost:
            break
        x, y, cost = nx, ny, new
    step, towards = FIRST_STEP * h, 0
    while step > LAST_STEP * h and cost > 0.0 and cost < WORSE * best:
        moved = False
        for k in range(8):
            way = (towards + k) % 8
            dx = step if way in (0, 1, 7) else (-step if way in (3, 4, 5) else 0.0)
            dy = step if way in (1, 2, 3) else (-step if way in (5, 6, 7) else 0.0)
            nx, ny = min(max(x + dx, left), right), min(max(y + dy, low), top)
            new = cost_at(t, v, number, s, nx, ny, cost)
            if new < cost:
                x, y, cost, towards, moved = nx, ny, new, way, True
                break
        if not moved:
            step *= SHRINK
    v.out[0], v.out[1] = x, y
    return cost
