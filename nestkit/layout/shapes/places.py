"""Compiled: where a piece would lie least in others, by a map of depth fields and then exactly."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from nestkit.layout.shapes.depths import depth_in, way_out
from nestkit.layout.shapes.tables import Floats, Live, Tables, Wholes

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


def pressed(v: Live, i: int) -> float:
    """Return the weighted sum of depths of piece i."""
    depths, weight, scale = v.depth, v.weight, v.scale
    total = 0.0
    for j in range(len(depths)):
        if depths[i, j] > 0.0:
            total += depths[i, j] * (weight[i, j] * scale[i, j])
    return total


def add_row(m: Any, to: int, f: Any, at: int, number: int, factor: Any) -> None:
    """Add a stretch of a field to a stretch of the map."""
    into, row = m[to : to + number], f[at : at + number]
    for k in range(number):
        into[k] += factor * row[k]


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
    m, f, field_at = v.scratch, t.field, t.field_at
    xs, ys, state, plate, weight, scale = v.x, v.y, v.state, v.plate, v.weight, v.scale
    m[: cols * (ny + 1)] = 0.0
    for j in range(len(xs)):
        if j == i or plate[j] != p:
            continue
        at, left, low, fx, fy = field_at[state[j] * t.states + s]
        # Column c of the map is column c + dc of the field.
        dc = math.floor((x0 - xs[j]) / h + 0.5) - left
        dr = math.floor((y0 - ys[j]) / h + 0.5) - low
        far_c = math.floor((x1 - xs[j]) / h + 0.5) - left
        far_r = math.floor((y1 - ys[j]) / h + 0.5) - low
        c0, c1 = max(0, -dc), min(nx, fx - dc)
        far = 0 <= far_c < fx
        if c1 <= c0 and not far:
            continue
        number = max(0, c1 - c0)
        factor = np.float32(weight[i, j] * scale[i, j])
        for r in range(max(0, -dr), min(ny, fy - dr)):
            row = at + (r + dr) * fx
            add_row(m, r * cols + c0, f, row + c0 + dc, number, factor)
            if far:
                m[r * cols + nx] += factor * f[row + far_c]
        if 0 <= far_r < fy:
            row = at + far_r * fx
            add_row(m, ny * cols + c0, f, row + c0 + dc, number, factor)
            if far:
                m[ny * cols + nx] += factor * f[row + far_c]
    return cols, ny + 1


def keep_spot(v: Live, found: int, value: float, x: float, y: float, s: int, p: int) -> int:
    """Put a place among the best, in order of value; return how many there are."""
    spot = v.spot
    most = len(spot)
    k = min(found, most - 1)
    while k > 0 and spot[k - 1, 0] > value:
        spot[k] = spot[k - 1]
        k -= 1
    spot[k, 0], spot[k, 1], spot[k, 2], spot[k, 3], spot[k, 4] = value, x, y, s, p
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
    """List the pieces that i could touch within reach of a place; return their number.

    ``near`` gets the pairs of states, ``beside`` the places and the weights.
    """
    look, near, beside = t.look, v.near, v.beside
    xs, ys, state, plate, weight, scale = v.x, v.y, v.state, v.plate, v.weight, v.scale
    number = 0
    reach = REACH * t.step
    for j in range(len(xs)):
        if j == i or plate[j] != p:
            continue
        pair = state[j] * t.states + s
        rx, ry = x - xs[j], y - ys[j]
        if (
            rx > look[pair, 0] - reach
            and rx < look[pair, 2] + reach
            and ry > look[pair, 1] - reach
            and ry < look[pair, 3] + reach
        ):
            near[number] = pair
            beside[number, 0], beside[number, 1] = xs[j], ys[j]
            beside[number, 2] = weight[i, j] * scale[i, j]
            number += 1
    return number


def cost_at(
    look: Floats, pairs: Wholes, spans: Wholes, edges: Floats, near: Wholes, beside: Floats,
    number: int, x: float, y: float, most: float,
) -> float:  # fmt: skip
    """Return the weighted sum of depths at a place, exactly, or something of ``most`` or over."""
    total = 0.0
    for k in range(number):
        d = depth_in(look, pairs, spans, edges, near[k], x - beside[k, 0], y - beside[k, 1])
        if d > 0.0:
            total += d * beside[k, 2]
            if total >= most:
                return float(total)
    return total


def deepest_in(
    look: Floats, pairs: Wholes, spans: Wholes, edges: Floats, near: Wholes, beside: Floats,
    number: int, x: float, y: float,
) -> int:  # fmt: skip
    """Return which of the pieces near a place is the one to leave: that of the greatest weighted depth."""
    deepest, at = 0.0, -1
    for k in range(number):
        d = depth_in(look, pairs, spans, edges, near[k], x - beside[k, 0], y - beside[k, 1]) * beside[k, 2]
        if d > deepest:
            deepest, at = d, k
    return at


def refine(t: Tables, v: Live, i: int, s: int, p: int, x: float, y: float, best: float) -> float:
    """Search around a place for the least weighted sum of depths; return it, and the place in ``out``."""
    h = t.step
    left, right = max(-t.box[s, 0], x - REACH * h), min(v.wide[p] - t.box[s, 2], x + REACH * h)
    low, top = max(-t.box[s, 1], y - REACH * h), min(v.high[p] - t.box[s, 3], y + REACH * h)
    x, y = min(max(x, left), right), min(max(y, low), top)
    number = gather(t, v, i, s, p, x, y)
    look, pairs, spans, edges = t.look, t.pair, t.spans, t.edges
    near, beside, out = v.near, v.beside, v.out
    cost = cost_at(look, pairs, spans, edges, near, beside, number, x, y, math.inf)
    for _ in range(PROJECTIONS):
        if cost <= 0.0:
            break
        at = deepest_in(look, pairs, spans, edges, near, beside, number, x, y)
        way_out(t, near[at], x - beside[at, 0], y - beside[at, 1], out)
        # A little further than needed, else rounding keeps the place inside.
        nx = min(max(x + out[0] * (1 + 1e-9), left), right)
        ny = min(max(y + out[1] * (1 + 1e-9), low), top)
        new = cost_at(look, pairs, spans, edges, near, beside, number, nx, ny, cost)
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
            new = cost_at(look, pairs, spans, edges, near, beside, number, nx, ny, cost)
            if new < cost:
                x, y, cost, towards, moved = nx, ny, new, way, True
                break
        if not moved:
            step *= SHRINK
    out[0], out[1] = x, y
    return cost
