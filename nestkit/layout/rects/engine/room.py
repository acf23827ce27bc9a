"""The free room of a sheet in hand as its maximal empty rectangles, and the best place in it."""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import (
    BOTTOM,
    FILL,
    HAND_FACTS,
    HEIGHT,
    KIND,
    KIND_FACTS,
    KINDS,
    LEFT,
    MOST_PARTS,
    OF_TYPE,
    PART,
    PARTS,
    PLACE,
    RIGHT,
    ROOM,
    ROOMS,
    SIZE,
    STRICT,
    TOP,
    TYPE_FACTS,
    WAY_FACTS,
    WIDTH,
    Hand,
    Row,
    Shop,
)
from nestkit.layout.rects.engine.saw import can_be_sawn, put_in_order

NO_SCORE = 1 << 62


def clear(shop: Shop, hand: Hand, slot: int, type_: int) -> None:
    """Make a sheet in hand an empty one of a type."""
    at = slot * HAND_FACTS
    hand.sheet[at + OF_TYPE] = type_
    hand.sheet[at + PARTS] = 0
    hand.sheet[at + FILL] = 0
    hand.sheet[at + ROOMS] = 1
    r = slot * ROOM * 4
    hand.room[r] = 0
    hand.room[r + 1] = 0
    hand.room[r + 2] = shop.type[type_ * TYPE_FACTS + WIDTH]
    hand.room[r + 3] = shop.type[type_ * TYPE_FACTS + HEIGHT]


def cut_strips(
    room: Row, strip: Row, first: int, end: int, taken: tuple[int, int, int, int], narrow: int, flat: int
) -> tuple[int, int]:
    """Move the empty rectangles that stay as they are to the front, and cut the others to strips.

    Return where those that stay end, and where the strips do.
    """
    left, bottom, right, top = taken
    kept, strips = first, 0
    for i in range(first, end, 4):
        x1, y1, x2, y2 = room[i], room[i + 1], room[i + 2], room[i + 3]
        if x2 - x1 < narrow or y2 - y1 < flat:
            continue
        if left >= x2 or right <= x1 or bottom >= y2 or top <= y1:
            room[kept], room[kept + 1], room[kept + 2], room[kept + 3] = x1, y1, x2, y2
            kept += 4
            continue
        if left - x1 >= narrow:
            strip[strips], strip[strips + 1], strip[strips + 2], strip[strips + 3] = x1, y1, left, y2
            strips += 4
        if x2 - right >= narrow:
            strip[strips], strip[strips + 1], strip[strips + 2], strip[strips + 3] = right, y1, x2, y2
            strips += 4
        if bottom - y1 >= flat:
            strip[strips], strip[strips + 1], strip[strips + 2], strip[strips + 3] = x1, y1, x2, bottom
            strips += 4
        if y2 - top >= flat:
            strip[strips], strip[strips + 1], strip[strips + 2], strip[strips + 3] = x1, top, x2, y2
            strips += 4
    return kept, strips


def occupy(
    room: Row, strip: Row, sheet: Row, slot: int, taken: tuple[int, int, int, int], narrow: int, flat: int
) -> None:
    """Take a rectangle out of the free room of a sheet in hand.

    Empty rectangles narrower than ``narrow`` or lower than ``flat`` hold no part any more and are dropped.
    """
    first = slot * ROOM * 4
    end = first + 4 * sheet[slot * HAND_FACTS + ROOMS]
    kept, strips = cut_strips(room, strip, first, end, taken, narrow, flat)
    # An untouched rectangle was maximal before, so only a new strip can lie inside another.
    untouched = kept
    for s in range(0, strips, 4):
        x1, y1, x2, y2 = strip[s], strip[s + 1], strip[s + 2], strip[s + 3]
        inside = kept == first + 4 * ROOM
        for i in range(first, untouched, 4):
            if room[i] <= x1 and room[i + 1] <= y1 and room[i + 2] >= x2 and room[i + 3] >= y2:
                inside = True
                break
        if inside:
            continue
        for t in range(0, strips, 4):
            a, b, c, d = strip[t], strip[t + 1], strip[t + 2], strip[t + 3]
            holds = a <= x1 and b <= y1 and c >= x2 and d >= y2 and t != s
            # Of equal strips the first stays.
            if holds and (t < s or a < x1 or b < y1 or c > x2 or d > y2):
                inside = True
                break
        if not inside:
            room[kept], room[kept + 1], room[kept + 2], room[kept + 3] = x1, y1, x2, y2
            kept += 4
    sheet[slot * HAND_FACTS + ROOMS] = (kept - first) // 4


def put(shop: Shop, hand: Hand, slot: int, kind: int, left: int, bottom: int, right: int, top: int) -> None:
    """Lay a part on a sheet in hand, without taking its room."""
    n = hand.sheet[slot * HAND_FACTS + PARTS]
    base = slot * (shop.rule[MOST_PARTS] + 1)
    at = (base + n) * PART
    part = hand.part
    part[at + KIND] = kind
    part[at + LEFT] = left
    part[at + BOTTOM] = bottom
    part[at + RIGHT] = right
    part[at + TOP] = top
    hand.sheet[slot * HAND_FACTS + PARTS] = n + 1
    hand.sheet[slot * HAND_FACTS + FILL] += shop.kind[kind * KIND_FACTS + SIZE]
    if hand.counts[STRICT]:
        put_in_order(hand.order, part, base, n)


def best_place(shop: Shop, hand: Hand, slot: int, kind: int, rule: int, corner: int, bar: int) -> int:
    """Find the best place for a part on a sheet in hand, and return its score, NO_SCORE if there is none.

    Less is better, and only what is below ``bar`` counts. ``rule``: 0 least rest on the tighter side,
    1 least rest of area, 2 lowest, 3 leftmost. ``corner``: bit 0 pushes it to the right of its empty
    rectangle, bit 1 to the top. The place is left in ``hand.counts`` from PLACE on.
    """
    room = hand.room
    at = slot * HAND_FACTS
    way = (hand.sheet[at + OF_TYPE] * shop.rule[KINDS] + kind) * WAY_FACTS
    strict = hand.counts[STRICT]
    best = bar
    found = False
    first = slot * ROOM * 4
    end = first + 4 * hand.sheet[at + ROOMS]
    for turn in range(way + 1, way + 1 + 2 * shop.way[way], 2):
        w, h = shop.way[turn], shop.way[turn + 1]
        for i in range(first, end, 4):
            x, y = room[i], room[i + 1]
            dx = room[i + 2] - x - w
            dy = room[i + 3] - y - h
            if dx < 0 or dy < 0:
                continue
            if rule == 0:
                score = dx if dx < dy else dy
            elif rule == 1:
                score = dx * (dy + h) + dy * w
            elif rule == 2:
                score = y + h
            else:
                score = x + w
            if score >= best:
                continue
            if corner & 1:
                x += dx
            if corner & 2:
                y += dy
            if strict and not can_be_sawn(shop, hand, slot, x, y, x + w, y + h):
                continue
            best = score
            found = True
            place = hand.counts
            place[PLACE] = slot
            place[PLACE + 1] = x
            place[PLACE + 2] = y
            place[PLACE + 3] = x + w
            place[PLACE + 4] = y + h
            place[PLACE + 5] = i
    return best if found else NO_SCORE
