"""The memory of sheets that the search accepted, each content once."""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import (
    FILL,
    HAND_FACTS,
    KIND,
    KIND_FACTS,
    KIND_MARK,
    KNOWN,
    LEAST,
    MARK,
    MOST_PARTS,
    OF_TYPE,
    PART,
    PARTS,
    SEEN_FACTS,
    START,
    TABLE,
    TYPE_FACTS,
    TYPE_MARK,
    USED,
    Hand,
    Seen,
    Shop,
)

MASK = (1 << 61) - 1


def remember(shop: Shop, seen: Seen, hand: Hand, slot: int) -> None:
    """Keep a sheet in hand unless its content is known, or the memory is full."""
    at = slot * HAND_FACTS
    type_, number = hand.sheet[at + OF_TYPE], hand.sheet[at + PARTS]
    known, used = seen.counts[KNOWN], seen.counts[USED]
    if number == 0 or hand.sheet[at + FILL] < seen.counts[LEAST]:
        return
    if (known + 1) * SEEN_FACTS > len(seen.sheet) or (used + number) * PART > len(seen.part):
        return
    base = slot * (shop.rule[MOST_PARTS] + 1) * PART
    mark = shop.type[type_ * TYPE_FACTS + TYPE_MARK]
    for i in range(base, base + number * PART, PART):
        mark = (mark + shop.kind[hand.part[i + KIND] * KIND_FACTS + KIND_MARK]) & MASK
    mark += 1
    spot = mark % TABLE
    while seen.table[spot] != 0:
        if seen.table[spot] == mark:
            return
        spot = (spot + 1) % TABLE
    seen.table[spot] = mark
    new = known * SEEN_FACTS
    seen.sheet[new + OF_TYPE] = type_
    seen.sheet[new + PARTS] = number
    seen.sheet[new + FILL] = hand.sheet[at + FILL]
    seen.sheet[new + START] = used
    seen.sheet[new + MARK] = mark
    to = used * PART
    for i in range(number * PART):
        seen.part[to + i] = hand.part[base + i]
    seen.counts[KNOWN] = known + 1
    seen.counts[USED] = used + number
