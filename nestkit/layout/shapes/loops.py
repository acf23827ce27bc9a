"""Compiled: pieces of a polygon's border joined into loops, these written as rows of edges."""

from __future__ import annotations

import math

from nestkit.layout.shapes.bench import AREA, CHAIN, ENTRY, HEAD, NODE, PATH, RING, SORTED
from nestkit.layout.shapes.tables import Floats, Wholes

NOISE = 1e-7
"""Loops with a smaller share of the polygon's area come from rounding."""
STRAIGHT = 1e-9
"""A turn counts as straight where its sine is smaller."""


def sort_ends(piece: Floats, ends: Wholes, number: int) -> None:
    """List the ends of pieces by x: Shell's sort ("A high-speed sorting procedure", 1959, from memory)."""
    for k in range(number):
        ends[k, SORTED] = k
    gap = 1
    while gap < number:
        gap = 3 * gap + 1
    while gap > 1:
        gap //= 3
        for k in range(gap, number):
            one, at = ends[k, SORTED], k
            x = piece[one // 2, one % 2 * 2]
            while at >= gap:
                before = ends[at - gap, SORTED]
                if piece[before // 2, before % 2 * 2] <= x:
                    break
                ends[at, SORTED] = before
                at -= gap
            ends[at, SORTED] = one


def weld(piece: Floats, ends: Wholes, pieces: int, near: float) -> bool:
    """Make one of ends that are near; say whether as many pieces begin as stop at each point, and some do.

    A piece that is nothing then has the same point at both ends.
    """
    sort_ends(piece, ends, 2 * pieces)
    for k in range(2 * pieces):
        one = ends[k, SORTED]
        x, y = piece[one // 2, one % 2 * 2], piece[one // 2, one % 2 * 2 + 1]
        ends[one, NODE], ends[one, HEAD] = one, 0
        for back in range(k - 1, -1, -1):
            other = ends[back, SORTED]
            i, c = other // 2, other % 2 * 2
            if piece[i, c] < x - near:
                break
            if ends[other, NODE] == other and abs(piece[i, c + 1] - y) <= near:
                ends[one, NODE] = other
                # The point's own end stays as it is, so that it is the same for all.
                piece[one // 2, one % 2 * 2], piece[one // 2, one % 2 * 2 + 1] = piece[i, c], piece[i, c + 1]
                break
    left = 0
    for k in range(pieces):
        start, stop = ends[2 * k, NODE], ends[2 * k + 1, NODE]
        ends[start, HEAD] += 1
        ends[stop, HEAD] -= 1
        left += start != stop
    for k in range(2 * pieces):
        if ends[k, HEAD] != 0:
            return False
    return left > 0


def trace(piece: Floats, ends: Wholes, walk: Wholes, pieces: int) -> int:
    """List the pieces loop by loop, with the loops' areas; return the number of loops.

    A loop that meets itself is cut in two there, so that noise comes off.
    """
    # Of a point, its first end knows a piece that begins there; of a piece, chain is the next of these.
    for k in range(2 * pieces):
        ends[k, HEAD], ends[k, SORTED] = -1, -1
    for k in range(pieces):
        node = ends[2 * k, NODE]
        if node != ends[2 * k + 1, NODE]:
            walk[k, CHAIN] = ends[node, HEAD]
            ends[node, HEAD] = k
    loops, to = 0, 0
    walk[0, ENTRY] = 0
    for begin in range(2 * pieces):
        at, length = begin, 0
        while length > 0 or ends[at, HEAD] >= 0:
            since = ends[at, SORTED]
            if since < 0:
                k = ends[at, HEAD]
                ends[at, HEAD], ends[at, SORTED] = walk[k, CHAIN], length
                walk[length, PATH] = k
                at = ends[2 * k + 1, NODE]
                length += 1
                continue
            # Back at a point of the path: what was walked since then is a loop.
            x, y, area = piece[at // 2, at % 2 * 2], piece[at // 2, at % 2 * 2 + 1], 0.0
            for i in range(since, length):
                k = walk[i, PATH]
                area += (piece[k, 0] - x) * (piece[k, 3] - y) - (piece[k, 1] - y) * (piece[k, 2] - x)
                ends[ends[2 * k, NODE], SORTED] = -1
                walk[to, RING] = k
                to += 1
            piece[loops, AREA] = area / 2
            loops += 1
            walk[loops, ENTRY] = to
            length = since
    return loops


def write_rows(piece: Floats, walk: Wholes, loops: int, rows: Floats, begin: int) -> tuple[int, bool]:
    """Write loops as rows of edges, but no noise and no straight corners.

    Returns the end of the rows, and whether they are those of one convex polygon.
    """
    total, to, rings, convex = 0.0, begin, 0, True
    for k in range(loops):
        total += piece[k, AREA]
    for loop in range(loops):
        if abs(piece[loop, AREA]) <= NOISE * total:
            continue
        first, end = walk[loop, ENTRY], to
        before = walk[walk[loop + 1, ENTRY] - 1, RING]
        for i in range(first, walk[loop + 1, ENTRY]):
            k = walk[i, RING]
            ux, uy = piece[before, 2] - piece[before, 0], piece[before, 3] - piece[before, 1]
            vx, vy = piece[k, 2] - piece[k, 0], piece[k, 3] - piece[k, 1]
            before = k
            if abs(ux * vy - uy * vx) > STRAIGHT * math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy)):
                rows[end, 0], rows[end, 1] = piece[k, 0], piece[k, 1]
                end += 1
        if end - to > 2:
            rings += 1
            convex = write_ring(rows, to, end)
            to = end
    convex = convex and rings == 1
    if convex:
        for k in range(begin, to):
            x, y, length = rows[k, 0], rows[k, 1], 1.0 / math.sqrt(rows[k, 4])
            rows[k, 0], rows[k, 1] = -rows[k, 3] / length, rows[k, 2] / length
            rows[k, 2] = rows[k, 0] * x + rows[k, 1] * y
            for c in range(3, 8):
                rows[k, c] = 0.0
    return to, convex


def write_ring(rows: Floats, begin: int, end: int) -> bool:
    """Fill rows that hold the corners of a ring; say whether it turns left or straight on at all of them."""
    left = True
    for k in range(begin, end):
        after = k + 1 if k + 1 < end else begin
        dx, dy = rows[after, 0] - rows[k, 0], rows[after, 1] - rows[k, 1]
        rows[k, 2], rows[k, 3], rows[k, 4] = dx, dy, 1.0 / (dx * dx + dy * dy)
        rows[k, 5], rows[k, 7] = rows[after, 1], rows[after, 0]
        rows[k, 6] = dx / dy if dy != 0.0 else 0.0
        if k > begin and rows[k - 1, 2] * dy - rows[k - 1, 3] * dx < 0.0:
            left = False
    return left and rows[end - 1, 2] * rows[begin, 3] - rows[end - 1, 3] * rows[begin, 2] >= 0.0
