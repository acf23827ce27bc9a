"""A piece of open length as rows of whole numbers, for searches over the order in which parts are laid.

No part may pass the ``LIMIT`` of the length; what then has no place counts by its area, or by a value. The
room that is lost only grows while parts are laid, so that an order can be given up on the way.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from nestkit.layout.rects.engine.arrays import NEW_ROW, Row

SIZE_FACTS = 6
WAYS, WIDE, HIGH, OTHER_WIDE, OTHER_HIGH, WORTH = range(SIZE_FACTS)
"""Number of ways to lie, width and height of each, what leaving it out counts: its area, or a value."""
LAID = 4
LEFT, BOTTOM, RIGHT, TOP = range(LAID)
"""Where a part lies; RIGHT is 0 where it has no place."""
ACROSS, LIMIT, SPARE, PIECES = range(4)
LEFT_OUT, TRIALS, CYCLE, SAW, DEPTH, FIRST, LOST, ALL, TO_BEAT, FITTED, TURNS = range(5, 16)
FACTS = 16
"""In ``counts``: the width, the length that may be used, the area that may be lost, the number of parts, the
random state (at RANDOM), what the order that is kept leaves out, trials so far, those of a cycle of heat;
then 1 for cuts from edge to edge, the most changes of their direction, the first (0 any, 1 along x, 2
along y); area lost so far; what all parts count;
what is left out less than that ends the search; 1 where what fits best goes before what comes first in
order, else 0; 1 where kinds come in pairs, the second with the first's ways to lie in the other order."""
ROOM_FACTS = 6
X, Y, ROOM_WIDE, ROOM_HIGH, STAGE, ALONG = range(ROOM_FACTS)
"""A room to be cut up: where it is, its size, the changes of direction that led to it, and the direction of
the last cuts (0 none, 1 along x, 2 along y)."""
TOO_MUCH = 1 << 62


class Strip(NamedTuple):
    """A piece of open length, and rows to work in.

    ``order`` are the kinds of the parts one after the other, each times two, with one more where what is
    above a part is cut off along with it. ``laid`` is where each lies. ``after`` links those that wait, place
    0 before the first. ``step`` are the left ends of the skyline's steps, ``level`` their heights. ``room``
    are rooms to be cut up. ``heat`` and ``luck`` are as in
    :class:`~nestkit.layout.rects.engine.arrays.Shop`.
    """

    size: Row
    order: Row
    laid: Row
    after: Row
    step: Row
    level: Row
    room: Row
    heat: Row
    luck: Row
    counts: Row


def new_strip(
    row: NEW_ROW,
    sizes: list[tuple[tuple[int, int], ...]],
    worth: Sequence[int],
    pieces: int,
    heat: Row,
    luck: Row,
) -> Strip:
    """Return a strip for so many parts of these kinds; a kind has one way to lie or two, or none.

    ``worth`` is what leaving out a part of each kind counts.
    """
    size = row(max(1, len(sizes)) * SIZE_FACTS)
    for kind, ways in enumerate(sizes):
        at = kind * SIZE_FACTS
        size[at + WAYS] = len(ways)
        for i, (w, h) in enumerate(ways):
            size[at + WIDE + 2 * i], size[at + HIGH + 2 * i] = w, h
        size[at + WORTH] = worth[kind]
    counts = row(FACTS)
    counts[PIECES] = pieces
    return Strip(
        size=size,
        order=row(max(1, pieces)),
        laid=row(max(1, pieces) * LAID),
        after=row(pieces + 1),
        step=row(pieces + 3),
        level=row(pieces + 3),
        room=row((2 * pieces + 3) * ROOM_FACTS),
        heat=heat,
        luck=luck,
        counts=counts,
    )


def all_wait(strip: Strip) -> None:
    """Take all parts off, to be laid anew in order."""
    number = strip.counts[PIECES]
    for i in range(number):
        strip.after[i] = i + 1
        strip.laid[i * LAID + RIGHT] = 0
    strip.after[number] = 0


def put(strip: Strip, piece: int, x: int, y: int, w: int, h: int) -> None:
    """Lay a part, by its place in the order."""
    at = piece * LAID
    strip.laid[at] = x
    strip.laid[at + BOTTOM] = y
    strip.laid[at + RIGHT] = x + w
    strip.laid[at + TOP] = y + h


def worth_waiting(strip: Strip) -> int:
    """Return what the parts without a place count."""
    worth = 0
    at = strip.after[0]
    while at != 0:
        worth += strip.size[(strip.order[at - 1] >> 1) * SIZE_FACTS + WORTH]
        at = strip.after[at]
    return worth
