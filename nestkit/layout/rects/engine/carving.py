"""Parts laid in rooms that saw cuts make: each part lies in a corner, and two rooms are left beside it.

The room beside a part is cut off along with it, or the room above it is: each part says in the order which
of the two. A room remembers how often cuts changed their direction on the way to it; where no more changes
are allowed, what would need one is lost. The last room made is filled first, the smaller before the larger.
"""

from __future__ import annotations

from nestkit.layout.rects.engine.strip import (
    ACROSS,
    ALONG,
    DEPTH,
    FIRST,
    FITTED,
    HIGH,
    LIMIT,
    LOST,
    ROOM_FACTS,
    ROOM_HIGH,
    ROOM_WIDE,
    SIZE_FACTS,
    SPARE,
    STAGE,
    TOO_MUCH,
    WAYS,
    WIDE,
    Strip,
    X,
    Y,
    all_wait,
    put,
    worth_waiting,
)

ALONG_X, ALONG_Y = 1, 2


def choose_for(strip: Strip, wide: int, high: int) -> int:
    """Return the best part for a room, coded as bit 0 for the other way to lie and above it the place before
    the part in the order, or -1.

    What fills a room is best, then what is as wide or as high, then what comes first.
    """
    size, order, after = strip.size, strip.order, strip.after
    best, found = -1, -1
    fitted = strip.counts[FITTED]
    before = 0
    tried = -1
    while True:
        at = after[before]
        if at == 0:
            break
        kind = order[at - 1] >> 1
        if kind != tried:
            tried = kind
            facts = kind * SIZE_FACTS
            for way in range(size[facts + WAYS]):
                w = size[facts + WIDE + 2 * way]
                h = size[facts + HIGH + 2 * way]
                if w > wide or h > high:
                    continue
                score = (2 if w == wide else 0) + (2 if h == high else 0)
                if score > best:
                    best = score
                    found = before * 2 + way
                    if score == 4 or not fitted:
                        return found
        before = at
    return found


def add_room(strip: Strip, rooms: int, x: int, y: int, wide: int, high: int, stage: int, along: int) -> int:
    """Add a room if it is one; return how many there are."""
    if wide <= 0 or high <= 0:
        return rooms
    at = rooms * ROOM_FACTS
    strip.room[at + X] = x
    strip.room[at + Y] = y
    strip.room[at + ROOM_WIDE] = wide
    strip.room[at + ROOM_HIGH] = high
    strip.room[at + STAGE] = stage
    strip.room[at + ALONG] = along
    return rooms + 1


def stage_of(stage: int, along: int, cut: int) -> int:
    """Return how many directions in a row a cut makes."""
    return stage if along == cut else stage + 1


def carve(strip: Strip, allowed: int) -> int:
    """Lay all parts in order; return what those without a place count, or TOO_MUCH if over ``allowed``."""
    counts, room = strip.counts, strip.room
    may_lose = counts[SPARE] + allowed
    all_wait(strip)
    rooms = add_room(strip, 0, 0, 0, counts[ACROSS], counts[LIMIT], 0, 0)
    counts[LOST] = 0
    while rooms > 0 and strip.after[0] != 0:
        rooms -= 1
        at = rooms * ROOM_FACTS
        wide, high = room[at + ROOM_WIDE], room[at + ROOM_HIGH]
        found = choose_for(strip, wide, high)
        if found < 0:
            counts[LOST] += wide * high
        else:
            before = found >> 1
            piece = strip.after[before]
            strip.after[before] = strip.after[piece]
            rooms = cut_out(strip, rooms, piece - 1, found & 1)
        if counts[LOST] > may_lose:
            return TOO_MUCH
    left_out = worth_waiting(strip)
    return left_out if left_out <= allowed else TOO_MUCH


def cut_out(strip: Strip, rooms: int, piece: int, way: int) -> int:
    """Lay a part in the corner of the last room, and make rooms of the rest; return how many there are."""
    counts, at = strip.counts, rooms * ROOM_FACTS
    x, y = strip.room[at + X], strip.room[at + Y]
    wide, high = strip.room[at + ROOM_WIDE], strip.room[at + ROOM_HIGH]
    stage, along = strip.room[at + STAGE], strip.room[at + ALONG]
    code = strip.order[piece]
    facts = (code >> 1) * SIZE_FACTS + WIDE + 2 * way
    w, h = strip.size[facts], strip.size[facts + 1]
    put(strip, piece, x, y, w, h)
    cut = ALONG_Y if code & 1 else ALONG_X
    if along == 0 and counts[FIRST] != 0:
        cut = counts[FIRST]
    if along != 0 and stage_of(stage, along, cut) > counts[DEPTH]:
        cut = along
    other = ALONG_X if cut == ALONG_Y else ALONG_Y
    first = stage_of(stage, along, cut)
    # Where nothing is left in one direction, the other follows on what was cut before.
    alone = (cut == ALONG_X and h == high) or (cut == ALONG_Y and w == wide)
    second = stage_of(stage, along, other) if alone else first + 1
    if cut == ALONG_X:
        rooms = add_room(strip, rooms, x, y + h, wide, high - h, first, cut)
        return add_or_lose(strip, rooms, x + w, y, wide - w, h, second, other)
    rooms = add_room(strip, rooms, x + w, y, wide - w, high, first, cut)
    return add_or_lose(strip, rooms, x, y + h, w, high - h, second, other)


def add_or_lose(
    strip: Strip, rooms: int, x: int, y: int, wide: int, high: int, stage: int, along: int
) -> int:
    """Add a room, or lose it where its cuts would change direction too often; return how many there are."""
    if stage > strip.counts[DEPTH]:
        strip.counts[LOST] += wide * high
        return rooms
    return add_room(strip, rooms, x, y, wide, high, stage, along)
