"""Compiled: the sums of the convex parts of one form and the negated ones of another."""

from __future__ import annotations

import math

from nestkit.layout.shapes.bench import Asked, Parts, Sums
from nestkit.layout.shapes.tables import Floats

LEVEL = 1e-12
"""What is nearer to a line counts as on it, as a share of the polygon's size: some thousand roundings."""
STEEP = 1e-9
"""A form must reach over a line at a larger sine to count as reaching over it."""
FIRST = 50
"""Sums are looked for in so many others: the largest parts come first."""


def lowest(points: Floats, begin: int, end: int) -> int:
    """Return which of some points is lowest, and of these furthest left."""
    best = begin
    for k in range(begin + 1, end):
        x, y = points[k, 0], points[k, 1]
        if y < points[best, 1] or (y == points[best, 1] and x < points[best, 0]):
            best = k
    return best


def sticks_out(corners: Floats, k: int, ux: float, uy: float) -> bool:
    """Say whether a form reaches over a line through one of its corners, close to it, on the right.

    A side of another form along that line, moved to the corner, lies within the sum of the two then.
    """
    come_x, come_y, go_x, go_y = corners[k, 2], corners[k, 3], corners[k, 4], corners[k, 5]
    come, go = STEEP * (abs(come_x) + abs(come_y)), abs(go_x) + abs(go_y)
    length = abs(ux) + abs(uy)
    return bool(
        come_x * go_y - come_y * go_x < -come * go
        or ux * go_y - uy * go_x < -STEEP * length * go
        or uy * come_x - ux * come_y < -come * length
    )


def add_sum(s: Floats, at: int, a: Floats, begin: int, end: int, b: Floats, number: int) -> int:
    """Write the sides of the sum of corners ``begin`` to ``end`` and the first of others; return their end.

    Sides go by their angle, both parts' from their lowest corners on. A corner is one corner plus another,
    so that equal ones of several sums are equal to the last bit.
    """
    p, q = lowest(a, begin, end), lowest(b, 0, number)
    to, left, left_b = at, end - begin, number
    while left > 0 or left_b > 0:
        next_p, next_q = p + 1 if p + 1 < end else begin, q + 1 if q + 1 < number else 0
        ux, uy = a[next_p, 0] - a[p, 0], a[next_p, 1] - a[p, 1]
        vx, vy = b[next_q, 0] - b[q, 0], b[next_q, 1] - b[q, 1]
        cross = ux * vy - uy * vx
        one = abs(cross) <= LEVEL * (ux * vx + uy * vy)
        s[to, 0], s[to, 1] = a[p, 0] + b[q, 0], a[p, 1] + b[q, 1]
        first = left > 0 and (left_b == 0 or one or cross > 0.0)
        second = left_b > 0 and (one or not first)
        s[to, 6] = 1.0
        if (first and (a[p, 6] > 0.0 or (not second and sticks_out(b, q, ux, uy)))) or (
            second and (b[q, 6] > 0.0 or (not first and sticks_out(a, p, vx, vy)))
        ):
            s[to, 6] = 0.0
        if first:
            p, left = next_p, left - 1
        if second:
            q, left_b = next_q, left_b - 1
        to += 1
    # The last side of one part may go on as the first of the other.
    ux, uy = s[at, 0] - s[to - 1, 0], s[at, 1] - s[to - 1, 1]
    vx, vy = s[at + 1, 0] - s[at, 0], s[at + 1, 1] - s[at, 1]
    if abs(ux * vy - uy * vx) <= LEVEL * (ux * vx + uy * vy):
        to -= 1
        s[at, 0], s[at, 1], s[at, 6] = s[to, 0], s[to, 1], max(s[at, 6], s[to, 6])
    for k in range(at, to):
        after = k + 1 if k + 1 < to else at
        s[k, 2], s[k, 3] = s[after, 0], s[after, 1]
        ux, uy = s[k, 2] - s[k, 0], s[k, 3] - s[k, 1]
        length = math.sqrt(ux * ux + uy * uy)
        s[k, 4], s[k, 5] = -uy / length, ux / length
    return to


def put_part(corner: Floats, parts: Parts, begin: int, end: int, m: Floats) -> None:
    """Write the corners of a part of the second form, taken where its matrix takes them, then negated."""
    back = m[0] * m[3] - m[1] * m[2] < 0.0
    # A mirrored part runs clockwise, so it is turned round: what came to a corner goes on from it then.
    along = 1.0 if back else -1.0
    for k in range(end - begin):
        i = end - 1 - k if back else begin + k
        for c in range(0, 6, 2):
            at, sign = 6 - c if back and c > 0 else c, along if c > 0 else -1.0
            x, y = parts.corners[i, at], parts.corners[i, at + 1]
            corner[k, c] = sign * (m[0] * x + m[1] * y)
            corner[k, c + 1] = sign * (m[2] * x + m[3] * y)
        if back:
            i = i - 1 if i > begin else end - 1
        corner[k, 6] = parts.corners[i, 6]


def add_sums(to: Sums, corner: Floats, parts: Parts, asked: Asked, p: int) -> int:
    """Write all sums of a polygon, with their boxes; return their number."""
    one, other = asked.forms[p, 0], asked.forms[p, 1]
    side, first, begins = to.side, to.first, parts.part_first
    found = 0
    first[0] = 0
    for b in range(parts.form_first[other], parts.form_first[other + 1]):
        number = begins[b + 1] - begins[b]
        put_part(corner, parts, begins[b], begins[b + 1], asked.turns[p])
        for a in range(parts.form_first[one], parts.form_first[one + 1]):
            at = first[found]
            end = add_sum(side, at, parts.corners, begins[a], begins[a + 1], corner, number)
            find_box(side, at, end, to.box, found)
            found += 1
            first[found] = end
    return found


def find_box(points: Floats, begin: int, end: int, box: Floats, at: int) -> None:
    """Write the box of some points."""
    for c in range(2):
        low, high = points[begin, c], points[begin, c]
        for k in range(begin + 1, end):
            low, high = min(low, points[k, c]), max(high, points[k, c])
        box[at, c], box[at, c + 2] = low, high


def lies_in(s: Floats, begin: int, end: int, first: int, last: int, near: float) -> bool:
    """Say whether the corners of sides ``begin`` to ``end`` lie within others, or on them."""
    for f in range(first, last):
        for k in range(begin, end):
            if s[f, 4] * (s[k, 0] - s[f, 0]) + s[f, 5] * (s[k, 1] - s[f, 1]) < -near:
                return False
    return True


def order_sums(to: Sums, number: int, near: float) -> int:
    """List the sums but for those that lie in one of the first; return their number."""
    order, box, first = to.order, to.box, to.first
    kept = 0
    for i in range(number):
        outside = True
        for other in range(min(kept, FIRST)):
            j = order[other]
            if (
                box[i, 0] >= box[j, 0] - near
                and box[i, 1] >= box[j, 1] - near
                and box[i, 2] <= box[j, 2] + near
                and box[i, 3] <= box[j, 3] + near
                and lies_in(to.side, first[i], first[i + 1], first[j], first[j + 1], near)
            ):
                outside = False
                break
        if outside:
            order[kept] = i
            kept += 1
    return kept
