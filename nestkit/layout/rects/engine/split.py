"""Sheets in hand cut up as they are filled: a part lies in a room, and cuts leave two rooms beside it.

What lies in such rooms can be sawn apart without a question, but a cut once made is never drawn anew. So
only some moves of a saw's search work this way, where many parts share a sheet and questions are dear.
"""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import (
    CARVED,
    DEPTH,
    HAND_FACTS,
    HANDS,
    PARTS,
    PICKED,
    PLACE,
    POOL,
    ROOM,
    ROOMS,
    SAW,
    SHEET_FACTS,
    SPLIT,
    Hand,
    Row,
    Shop,
    State,
)
from nestkit.layout.rects.engine.chance import draw

SHARE, PARTS_A_SHEET = 30, 8
"""Moves in a hundred that carve, where more parts than these share a sheet."""
LEAST_DEPTH = 4
"""With fewer stages a cut must not turn as often as rooms left over ask for."""


def draw_cuts(shop: Shop, st: State, hand: Hand) -> None:
    """Draw whether the move carves the sheets that were picked, and which cut comes first in a room."""
    hand.counts[CARVED] = 0
    if not shop.rule[SAW] or shop.rule[DEPTH] < LEAST_DEPTH:
        return
    parts = st.counts[POOL]
    for i in range(hand.counts[HANDS]):
        parts += st.sheet[hand.counts[PICKED + i] * SHEET_FACTS + PARTS]
    if parts > PARTS_A_SHEET * hand.counts[HANDS] and draw(st.counts, 100) < SHARE:
        hand.counts[CARVED] = 1
        hand.counts[SPLIT] = draw(st.counts, 4)


def add_room(room: Row, end: int, last: int, rest: tuple[int, int, int, int], narrow: int, flat: int) -> int:
    """Add a room unless it is of no use or none can be added; return where the rooms end."""
    x1, y1, x2, y2 = rest
    if x2 - x1 < narrow or y2 - y1 < flat or end == last:
        return end
    room[end], room[end + 1], room[end + 2], room[end + 3] = x1, y1, x2, y2
    return end + 4


def carve(hand: Hand, slot: int, taken: tuple[int, int, int, int], narrow: int, flat: int) -> None:
    """Cut up the room that a part was laid in: what is left beside it and above it are rooms now.

    One of the two runs through to the room's edges, as SPLIT says. Rooms narrower or lower than given hold
    no part any more and are dropped.
    """
    room, split = hand.room, hand.counts[SPLIT]
    left, bottom, right, top = taken
    first = slot * ROOM * 4
    end = first + 4 * hand.sheet[slot * HAND_FACTS + ROOMS] - 4
    at = hand.counts[PLACE + 5]
    x1, y1, x2, y2 = room[at], room[at + 1], room[at + 2], room[at + 3]
    room[at], room[at + 1], room[at + 2], room[at + 3] = (
        room[end],
        room[end + 1],
        room[end + 2],
        room[end + 3],
    )
    from_x, to_x = (right, x2) if left == x1 else (x1, left)
    from_y, to_y = (top, y2) if bottom == y1 else (y1, bottom)
    beside, above = to_x - from_x, to_y - from_y
    if split & 2:
        beside *= y2 - y1
        above *= x2 - x1
    last = first + 4 * ROOM
    if (beside < above) != (split & 1 == 1):
        end = add_room(room, end, last, (from_x, bottom, to_x, top), narrow, flat)
        end = add_room(room, end, last, (x1, from_y, x2, to_y), narrow, flat)
    else:
        end = add_room(room, end, last, (left, from_y, right, to_y), narrow, flat)
        end = add_room(room, end, last, (from_x, y1, to_x, y2), narrow, flat)
    hand.sheet[slot * HAND_FACTS + ROOMS] = (end - first) // 4
