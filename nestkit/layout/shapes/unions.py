"""Compiled: no-fit polygons as rows of edges, from the convex parts of two forms.

Every part of the one is added to every part of the other; of the sides of these sums is kept what no other
sum covers. The pieces that are left must close into loops; where they do not, nothing is written and the
caller unites the sums another way.
"""

from __future__ import annotations

from nestkit.layout.shapes.bench import Asked, Bench, Found, Parts, Sums
from nestkit.layout.shapes.loops import trace, weld, write_rows
from nestkit.layout.shapes.sums import LEVEL, add_sums, find_box, order_sums
from nestkit.layout.shapes.tables import Floats

WELD = 1e-9
"""Ends of pieces that are nearer along x and y are one point, as a share of the polygon's size."""
ATTEMPTS, COARSER = 3, 10.0
"""Where pieces do not close, what counts as on a line is made so many times more, and all is done again."""
NEARLY = 1e-6
"""Sides at a smaller sine are looked at more closely: they may lie on one line."""


def off(s: Floats, f: int, x: float, y: float) -> float:
    """Return how far a point lies inside the line of side f."""
    return float(s[f, 4] * (x - s[f, 0]) + s[f, 5] * (y - s[f, 1]))


def add_hidden(
    s: Floats, e: int, first: int, last: int, second: bool, near: float, hide: Floats, found: int
) -> int:
    """Add to the hidden shares of side e what lies inside the sum of some sides; return their new number.

    A side that both sums have is hidden in the ``second`` of them; one with a sum on either hand in both.
    """
    x0, y0, x1, y1 = s[e, 0], s[e, 1], s[e, 2], s[e, 3]
    flat = NEARLY * (abs(x1 - x0) + abs(y1 - y0))
    lo, hi, lo_by, hi_by = 0.0, 1.0, -1, -1
    for f in range(first, last):
        d0, d1 = off(s, f, x0, y0), off(s, f, x1, y1)
        if d0 > near and d1 > near:
            continue
        if d0 < -near and d1 < -near:
            return found
        # Of two sides the longer one says whether they lie on one line: both must come to the same.
        if abs(d1 - d0) <= flat and (
            (abs(d0) <= near and abs(d1) <= near)
            or (abs(off(s, e, s[f, 0], s[f, 1])) <= near and abs(off(s, e, s[f, 2], s[f, 3])) <= near)
        ):
            if second or s[f, 4] * s[e, 4] + s[f, 5] * s[e, 5] <= 0.0:
                continue
            return found
        d0, d1 = 0.0 if abs(d0) <= near else d0, 0.0 if abs(d1) <= near else d1
        if d0 <= 0.0 and d1 <= 0.0:
            return found
        share = d0 / (d0 - d1)
        if d0 < 0.0 and share > lo:
            lo, lo_by = share, f
        if d1 < 0.0 and share < hi:
            hi, hi_by = share, f
        if lo >= hi:
            return found
    at = found
    while at > 0 and hide[at - 1, 0] > lo:
        for c in range(4):
            hide[at, c] = hide[at - 1, c]
        at -= 1
    hide[at, 0], hide[at, 1], hide[at, 2], hide[at, 3] = lo, hi, lo_by, hi_by
    return found + 1


def end_piece(s: Floats, e: int, f: int, near: float, piece: Floats, k: int, c: int) -> None:
    """Write an end of a piece, from column ``c`` on: where side e meets side f, to the last bit as f meets e.

    If ``f`` is -1, it is the end of the side.
    """
    if f < 0:
        piece[k, c], piece[k, c + 1] = s[e, c], s[e, c + 1]
        return
    for end in range(0, 4, 2):
        if abs(off(s, e, s[f, end], s[f, end + 1])) <= near:
            piece[k, c], piece[k, c + 1] = s[f, end], s[f, end + 1]
            return
    a, b = min(e, f), max(e, f)
    d0, d1 = off(s, b, s[a, 0], s[a, 1]), off(s, b, s[a, 2], s[a, 3])
    share = d0 / (d0 - d1)
    piece[k, c] = s[a, 0] + share * (s[a, 2] - s[a, 0])
    piece[k, c + 1] = s[a, 1] + share * (s[a, 3] - s[a, 1])


def add_pieces(
    to: Sums, e: int, own: int, kept: int, near: float, hide: Floats, piece: Floats, pieces: int
) -> int:
    """Add what is left of a side outside all other sums; return the new number of pieces, -1 without room."""
    s, box, found = to.side, to.box, 0
    left, right = min(s[e, 0], s[e, 2]) - near, max(s[e, 0], s[e, 2]) + near
    low, high = min(s[e, 1], s[e, 3]) - near, max(s[e, 1], s[e, 3]) + near
    for k in range(kept):
        j = to.order[k]
        if j == own or box[j, 0] > right or box[j, 2] < left or box[j, 1] > high or box[j, 3] < low:
            continue
        found = add_hidden(s, e, to.first[j], to.first[j + 1], own > j, near, hide, found)
        if found > 0 and hide[0, 0] <= 0.0 and hide[0, 1] >= 1.0:
            return pieces
    if pieces + found + 1 > len(piece):
        return -1
    at, by = 0.0, -1
    for k in range(found + 1):
        until, until_by = 1.0, -1
        if k < found:
            until, until_by = hide[k, 0], int(hide[k, 2])
        if until > at:
            end_piece(s, e, by, near, piece, pieces, 0)
            end_piece(s, e, until_by, near, piece, pieces, 2)
            pieces += 1
        if k < found and hide[k, 1] > at:
            at, by = hide[k, 1], int(hide[k, 3])
    return pieces


def unite(parts: Parts, asked: Asked, to: Sums, bench: Bench, found: Found, begin: int) -> int:
    """Write the polygons asked for, from one on; return the first for which there was no room any more."""
    piece, ends, walk = bench.piece, bench.ends, bench.walk
    used = found.spans[begin - 1, 1] if begin > 0 else 0
    for p in range(begin, len(asked.forms)):
        number = add_sums(to, bench.corner, parts, asked, p)
        find_box(to.side, 0, to.first[number], found.boxes, p)
        box = found.boxes
        size = max(box[p, 2] - box[p, 0], box[p, 3] - box[p, 1])
        end, convex = used, False
        for attempt in range(ATTEMPTS):
            near = LEVEL * size * COARSER**attempt
            kept = order_sums(to, number, near)
            pieces = 0
            for k in range(kept):
                own = to.order[k]
                for e in range(to.first[own], to.first[own + 1]):
                    if to.side[e, 6] > 0.0:
                        pieces = add_pieces(to, e, own, kept, near, bench.hide, piece, pieces)
                    if pieces < 0:
                        return p
            if used + pieces > len(found.rows):
                return p
            if weld(piece, ends, pieces, WELD * size):
                end, convex = write_rows(piece, walk, trace(piece, ends, walk, pieces), found.rows, used)
                break
        found.spans[p, 0], found.spans[p, 1], found.spans[p, 2] = used, end, convex
        used = end
    return len(asked.forms)
