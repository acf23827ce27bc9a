"""Compiled: the straight lines that keep neighbouring pieces apart, for the linear program."""

from __future__ import annotations

import math

from nestkit.layout.shapes.tables import Floats, Live, Tables, Wholes


def best_line(t: Tables, a: int, b: int, rx: float, ry: float, sign: float, out: Floats) -> None:
    """Look among the edges of convex part a for the line that parts it most from part b, moved by rx, ry.

    ``out`` is normal and distance so far; ``sign`` turns the normal where b is the first piece's.
    """
    c = t.corners
    first, last = t.corner_first[a], t.corner_first[a + 1]
    for k in range(first, last):
        after = k + 1 if k + 1 < last else first
        nx, ny = c[after, 1] - c[k, 1], c[k, 0] - c[after, 0]
        length = math.sqrt(nx * nx + ny * ny)
        nx, ny = nx / length, ny / length
        least = math.inf
        for m in range(t.corner_first[b], t.corner_first[b + 1]):
            least = min(least, nx * c[m, 0] + ny * c[m, 1])
        apart = least + nx * (rx - c[k, 0]) + ny * (ry - c[k, 1])
        if apart > out[2]:
            out[0], out[1], out[2] = sign * nx, sign * ny, apart


def boxes_near(t: Tables, a: int, b: int, rx: float, ry: float, reach: float) -> bool:
    """Say whether the boxes of two convex parts come within reach of each other."""
    p = t.part_box
    return bool(
        p[b, 0] + rx - p[a, 2] < reach
        and p[a, 0] - p[b, 2] - rx < reach
        and p[b, 1] + ry - p[a, 3] < reach
        and p[a, 1] - p[b, 3] - ry < reach
    )


def contacts(t: Tables, v: Live, reach: float, pairs: Wholes, lines: Floats) -> int:
    """List the lines between parts that could meet if both pieces move by up to ``reach``; return how many.

    A row of ``pairs`` is two pieces i and j, one of ``lines`` a normal from i to j and the distance along it
    (negative where they overlap). Of parallel lines of a pair only the tightest is listed. Where there are
    more than the rows hold, the number is that of the rows plus 1.
    """
    number = 0
    n = len(v.x)
    out = v.out
    # What is fixed comes last: every other pair has a piece that may move.
    for i in range(len(v.order)):
        for j in range(i + 1, n):
            if v.plate[i] != v.plate[j]:
                continue
            rx, ry = v.x[j] - v.x[i], v.y[j] - v.y[i]
            pair = v.state[i] * t.states + v.state[j]
            wide = 2 * reach
            if (
                rx < t.look[pair, 0] - wide
                or rx > t.look[pair, 2] + wide
                or ry < t.look[pair, 1] - wide
                or ry > t.look[pair, 3] + wide
            ):
                continue
            begin = number
            for a in range(t.part_first[v.state[i]], t.part_first[v.state[i] + 1]):
                for b in range(t.part_first[v.state[j]], t.part_first[v.state[j] + 1]):
                    if not boxes_near(t, a, b, rx, ry, wide):
                        continue
                    out[0], out[1], out[2] = 0.0, 0.0, -math.inf
                    best_line(t, a, b, rx, ry, 1.0, out)
                    best_line(t, b, a, -rx, -ry, -1.0, out)
                    if out[2] > 1.5 * wide:
                        continue
                    k = begin
                    while k < number and (
                        abs(lines[k, 0] - out[0]) > 1e-9 or abs(lines[k, 1] - out[1]) > 1e-9
                    ):
                        k += 1
                    if k < number:
                        lines[k, 2] = min(lines[k, 2], out[2])
                        continue
                    if number == len(pairs):
                        return number + 1
                    pairs[number, 0], pairs[number, 1] = i, j
                    lines[number, 0], lines[number, 1], lines[number, 2] = out[0], out[1], out[2]
                    number += 1
    return number
