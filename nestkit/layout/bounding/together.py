"""Whether a few parts fit together on one sheet: every way to lay them is tried, from the lower left.

Each part lies in a corner of the stair above and to the right of those laid before it. Every layout in
the plane can be pushed to the lower left and built up in such an order (Martello, Pisinger and Vigo, "The
three-dimensional bin packing problem", Operations Research 48, 2000, from memory), so nothing is missed.

As in :mod:`nestkit.layout.rects.engine`, rows of whole numbers serve plain Python and the compiler alike.
"""

from __future__ import annotations

from typing import Any, NamedTuple

Row = Any
"""A list or an array of whole numbers."""

NO, YES, NOT_KNOWN = 0, 1, 2

STEPS, CURSOR, LAST, LAST_X, LAST_Y, REST, STAIR = range(7)
"""Of each depth: steps of the stair, next choice, the part laid last and where, area still to lay, the stair
itself as right edge and top of each step, from the left down."""
DEPTH = 32
"""Numbers a depth takes."""
MOST = 8
"""Parts tried at most."""


class Kinds(NamedTuple):
    """Kinds of parts, numbered by falling area.

    ``area`` is what a copy surely takes, ``ways`` four numbers a kind: width and height as it may lie, and
    turned, zeros where it may not; all zeros where only its area is sure. ``solid`` is the area of a way.
    """

    area: Row
    solid: Row
    ways: Row


def corner_x(stack: Row, at: int, corner: int) -> int:
    """Return the x of a corner of the stair."""
    if corner == 0:
        return 0
    return int(stack[at + STAIR + 2 * corner - 2])


def corner_y(stack: Row, at: int, corner: int) -> int:
    """Return the y of a corner of the stair."""
    if corner == stack[at + STEPS]:
        return 0
    return int(stack[at + STAIR + 2 * corner + 1])


def was_tried(stack: Row, at: int, part: int, x: int, y: int, right: int, top: int) -> bool:
    """Say whether this part and the one laid last could change their order: then one order is enough."""
    if at == 0 or part > stack[at + LAST]:
        return False
    if stack[at + LAST_X] < right and stack[at + LAST_Y] < top:
        return False
    before = at - DEPTH
    for corner in range(stack[before + STEPS] + 1):
        if corner_x(stack, before, corner) == x and corner_y(stack, before, corner) == y:
            return True
    return False


def build_on(stack: Row, at: int, right: int, top: int) -> None:
    """Write the stair with one more part to the next depth."""
    to = at + DEPTH
    n = 0
    put = False
    for i in range(stack[at + STEPS]):
        edge, height = stack[at + STAIR + 2 * i], stack[at + STAIR + 2 * i + 1]
        if edge <= right and height <= top:
            continue
        if not put and edge > right:
            stack[to + STAIR + 2 * n], stack[to + STAIR + 2 * n + 1] = right, top
            n += 1
            put = True
        stack[to + STAIR + 2 * n], stack[to + STAIR + 2 * n + 1] = edge, height
        n += 1
    if not put:
        stack[to + STAIR + 2 * n], stack[to + STAIR + 2 * n + 1] = right, top
        n += 1
    stack[to + STEPS] = n


def room_left(
    kinds: Kinds, parts: Row, number: int, laid: int, stack: Row, at: int, width: int, height: int
) -> int:
    """Return the area that parts not laid can still reach; -1 where one of them fits no corner."""
    every = (1 << number) - 1
    placed, area, left, bottom = laid, 0, -1, 0
    for corner in range(stack[at + STEPS] + 1):
        x, y = corner_x(stack, at, corner), corner_y(stack, at, corner)
        of_use = False
        for i in range(number):
            if laid >> i & 1:
                continue
            way = parts[i] * 4
            w, h, w2, h2 = kinds.ways[way], kinds.ways[way + 1], kinds.ways[way + 2], kinds.ways[way + 3]
            if (x + w <= width and y + h <= height) or (w2 > 0 and x + w2 <= width and y + h2 <= height):
                of_use = True
                placed |= 1 << i
        if of_use:
            if left >= 0:
                area += (x - left) * (height - bottom)
            left, bottom = x, y
    if placed != every:
        return -1
    return area + (width - left) * (height - bottom) if left >= 0 else 0


def lay_next(
    kinds: Kinds, parts: Row, number: int, laid: int, stack: Row, at: int, size: tuple[int, int]
) -> int:
    """Try the choices left at a depth and lay the first that may lead on; return its part, -1 for none.

    ``stack[at + CURSOR]`` counts corners, turns and parts; it is left at the choice after the one taken.
    """
    width, height = size
    corners = stack[at + STEPS] + 1
    choice = stack[at + CURSOR]
    while choice < number * 2 * corners:
        i, turn, corner = choice // (2 * corners), choice // corners % 2, choice % corners
        w, h = kinds.ways[parts[i] * 4 + 2 * turn], kinds.ways[parts[i] * 4 + 2 * turn + 1]
        # Equal parts are laid in their order.
        if laid >> i & 1 or w == 0 or (i > 0 and parts[i - 1] == parts[i] and not laid >> (i - 1) & 1):
            choice = (i + 1) * 2 * corners
            continue
        choice += 1
        x, y = corner_x(stack, at, corner), corner_y(stack, at, corner)
        right, top = x + w, y + h
        if right > width or top > height or was_tried(stack, at, i, x, y, right, top):
            continue
        # A layout mirrored is a layout too: the largest part lies in the lower left quarter.
        if i == 0 and (x + right > width or y + top > height):
            continue
        to = at + DEPTH
        rest = stack[at + REST] - kinds.solid[parts[i]]
        build_on(stack, at, right, top)
        if room_left(kinds, parts, number, laid | 1 << i, stack, to, width, height) < rest:
            continue
        stack[to + CURSOR], stack[to + LAST], stack[to + REST] = 0, i, rest
        stack[to + LAST_X], stack[to + LAST_Y] = x, y
        stack[at + CURSOR] = choice
        return int(i)
    return -1


def fit_together(
    kinds: Kinds, parts: Row, number: int, stack: Row, width: int, height: int, tries: int
) -> tuple[int, int]:
    """Return whether parts fit one sheet, and the tries that took; NOT_KNOWN after too many.

    ``parts`` are at most MOST kinds in rising order; equal ones repeat.
    """
    total = 0
    for i in range(number):
        total += kinds.solid[parts[i]]
    if total > width * height:
        return NO, 0
    stack[STEPS], stack[CURSOR], stack[LAST], stack[REST] = 0, 0, -1, total
    laid, depth, tried = 0, 0, 0
    while depth >= 0:
        if depth == number:
            return YES, tried
        at = depth * DEPTH
        part = lay_next(kinds, parts, number, laid, stack, at, (width, height))
        if part >= 0:
            laid |= 1 << part
            depth += 1
            tried += 1
            if tried > tries:
                return NOT_KNOWN, tried
        else:
            if depth > 0:
                laid ^= 1 << stack[at + LAST]
            depth -= 1
    return NO, tried
