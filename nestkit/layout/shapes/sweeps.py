"""Compiled: pieces moved one after the other out of their overlaps, and the weights that rise meanwhile."""

from __future__ import annotations

import math

from nestkit.layout.shapes.depths import deepen
from nestkit.layout.shapes.places import draw, fill_map, pressed, refine, scan_map
from nestkit.layout.shapes.tables import Floats, Live, Tables, Wholes

LEAST_GROWTH, MOST_GROWTH, FADE = 1.2, 2.0, 0.95
"""After a sweep weights of overlapping pairs grow, of the deepest most; those of pairs apart fade to 1."""
HOPE = 1.5
"""Places whose value on the map is so many times the present one are not looked at: maps are rough."""


def move(t: Tables, v: Live, i: int) -> bool:
    """Put a piece where it lies least in others, by weight; say whether that is better than before."""
    before = pressed(v, i)
    best = before * (1 - 1e-9)
    found = 0
    kind = v.kind[i]
    for p in range(len(v.wide)):
        for k in range(t.kind_first[kind], t.kind_first[kind + 1]):
            s = t.state_list[k]
            cols, rows = fill_map(t, v, i, s, p)
            if rows > 0:
                found = scan_map(t, v, s, p, cols, rows, found, HOPE * before)
    to_s, to_p, to_x, to_y = -1, 0, 0.0, 0.0
    for k in range(-1, found):
        if k < 0:
            s, p, x, y = v.state[i], v.plate[i], v.x[i], v.y[i]
        else:
            x, y, s, p = v.spot[k, 1], v.spot[k, 2], int(v.spot[k, 3]), int(v.spot[k, 4])
        cost = refine(t, v, i, s, p, x, y, best)
        if cost < best:
            best, to_s, to_p, to_x, to_y = cost, s, p, v.out[0], v.out[1]
            if cost <= 0.0:
                break
    if to_s < 0:
        return False
    v.state[i], v.plate[i], v.x[i], v.y[i] = to_s, to_p, to_x, to_y
    deepen(t, v, i)
    return True


def overlap(v: Live) -> float:
    """Return the sum of all depths, large pieces counted more."""
    depths, scale = v.depth, v.scale
    total = 0.0
    for i in range(len(depths)):
        for j in range(i):
            total += depths[i, j] * scale[i, j]
    return total


def reweigh(v: Live) -> float:
    """Let the weights of overlapping pairs rise and the others fade; return the greatest depth."""
    depths, weight = v.depth, v.weight
    deepest = 0.0
    for i in range(len(depths)):
        for j in range(i):
            deepest = max(deepest, depths[i, j])
    if deepest <= 0.0:
        return 0.0
    for i in range(len(depths)):
        for j in range(i):
            if depths[i, j] > 0.0:
                w = weight[i, j] * (LEAST_GROWTH + (MOST_GROWTH - LEAST_GROWTH) * depths[i, j] / deepest)
            else:
                w = max(1.0, weight[i, j] * FADE)
            weight[i, j] = w
            weight[j, i] = w
    return deepest


def sweep(t: Tables, v: Live) -> int:
    """Move every piece that overlaps another, in random order; return how many were moved."""
    depths, order = v.depth, v.order
    number = 0
    for i in range(len(order)):
        for j in range(len(depths)):
            if depths[i, j] > 0.0:
                order[number] = i
                number += 1
                break
    moves = 0
    for k in range(number):
        other = k + draw(v, number - k)
        i = order[other]
        order[other] = order[k]
        if pressed(v, i) > 0.0:
            move(t, v, i)
            moves += 1
    return moves


def sweeps(
    t: Tables, v: Live, number: int, shallow: float, kept: Floats, kept_state: Wholes, tally: Wholes
) -> float:
    """Sweep at most so often; return the greatest depth at the end.

    It ends early where no depth is over ``shallow``. ``kept`` holds the least overlap so far and the places
    it was reached at (x, y), ``kept_state`` the states and plates; ``tally`` counts the sweeps since overlap
    fell by a fiftieth, all sweeps, and moves.
    """
    deepest = math.inf
    n = len(v.order)
    for _ in range(number):
        tally[2] += sweep(t, v)
        tally[1] += 1
        tally[0] += 1
        now = overlap(v)
        if now < kept[n, 0]:
            if now < 0.98 * kept[n, 1]:
                tally[0] = 0
                kept[n, 1] = now
            kept[n, 0] = now
            for i in range(n):
                kept[i, 0], kept[i, 1] = v.x[i], v.y[i]
                kept_state[i, 0], kept_state[i, 1] = v.state[i], v.plate[i]
        deepest = reweigh(v)
        if deepest <= shallow:
            break
    return deepest
