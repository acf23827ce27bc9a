"""The saw's test in the engine: can the parts of a sheet in hand be cut apart from edge to edge?"""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import (
    BEFORE,
    BOTTOM,
    DEPTH,
    FIRST,
    FRESH,
    GROUP,
    HAND_FACTS,
    HANDS,
    LABEL,
    LEFT,
    MOST_PARTS,
    NUMBER,
    PART,
    PARTS,
    REACH,
    SHARES,
    SUB,
    SWEPT,
    Hand,
    Row,
    Shop,
)


def put_in_order(order: Row, part: Row, base: int, number: int) -> None:
    """Put part ``number`` of a sheet into the orders of its parts by left and by lower side.

    ``base`` is the first of the sheet's parts; the record of a part has one place in each order.
    """
    for axis in range(2):
        side = LEFT + axis
        value = part[(base + number) * PART + side]
        i = number
        while i > 0 and part[(base + order[2 * (base + i - 1) + axis]) * PART + side] > value:
            order[2 * (base + i) + axis] = order[2 * (base + i - 1) + axis]
            i -= 1
        order[2 * (base + i) + axis] = number


def take_from_order(order: Row, base: int, number: int) -> None:
    """Take the last part, ``number``, out of both orders again."""
    for axis in range(2):
        i = number
        while order[2 * (base + i) + axis] != number:
            i -= 1
        while i < number:
            order[2 * (base + i) + axis] = order[2 * (base + i + 1) + axis]
            i += 1


def cut_apart(group: Row, order: Row, part: Row, base: int, number: int, axis: int, depth: int) -> int:
    """Return the stages in which parts can be cut apart, the first cuts across ``axis`` (0: x, 1: y).

    Where ``depth`` stages do not do, the answer is the number of stages tried, negative. All groups of a
    stage are split in one sweep along the axis. Splitting wherever it can be done never costs a stage, so
    a group that does not split where it must never will.
    """
    for p in range(number):
        group[p * GROUP + LABEL] = 0
    groups = 1
    group[BEFORE] = number
    stage = 0
    while stage < depth:
        stage += 1
        for g in range(0, groups * GROUP, GROUP):
            group[g + REACH] = -1
            group[g + SHARES] = 0
        new = 0
        for i in range(base, base + number):
            p = order[2 * i + axis]
            g = group[p * GROUP + LABEL] * GROUP
            if g < 0:
                continue
            at = (base + p) * PART
            if part[at + LEFT + axis] >= group[g + REACH]:
                group[g + SUB] = new
                group[new * GROUP + NUMBER] = 0
                group[g + SHARES] += 1
                new += 1
            if part[at + LEFT + 2 + axis] > group[g + REACH]:
                group[g + REACH] = part[at + LEFT + 2 + axis]
            s = group[g + SUB]
            group[p * GROUP + FRESH] = s
            group[s * GROUP + NUMBER] += 1
        for g in range(0, groups * GROUP, GROUP):
            if group[g + BEFORE] > 1 and group[g + SHARES] < 2:
                return -stage
        done = True
        for p in range(0, number * GROUP, GROUP):
            if group[p + LABEL] >= 0:
                s = group[p + FRESH]
                if group[s * GROUP + NUMBER] > 1:
                    group[p + LABEL] = s
                    done = False
                else:
                    group[p + LABEL] = -1
        if done:
            return stage
        for g in range(0, new * GROUP, GROUP):
            group[g + BEFORE] = group[g + NUMBER]
        groups = new
        axis = 1 - axis
    return -stage


def sawable(shop: Shop, hand: Hand, slot: int, number: int) -> bool:
    """Say whether the first ``number`` parts of a sheet in hand, in order, can be sawn apart."""
    first, depth = shop.rule[FIRST], shop.rule[DEPTH]
    if number < 2 or (number < 4 and first == 0 and depth > 2):
        return True
    base = slot * (shop.rule[MOST_PARTS] + 1)
    stages = 0
    if first != 2:
        stages = cut_apart(hand.group, hand.order, hand.part, base, number, 1, depth)
        hand.counts[SWEPT] += number * abs(stages)
    if stages <= 0 and first != 1:
        stages = cut_apart(hand.group, hand.order, hand.part, base, number, 0, depth)
        hand.counts[SWEPT] += number * abs(stages)
    return stages > 0


def can_be_sawn_apart(shop: Shop, hand: Hand, slot: int) -> bool:
    """Say whether a sheet in hand can be sawn apart as its parts lie; puts them in order."""
    base = slot * (shop.rule[MOST_PARTS] + 1)
    parts = hand.sheet[slot * HAND_FACTS + PARTS]
    for number in range(parts):
        put_in_order(hand.order, hand.part, base, number)
    return sawable(shop, hand, slot, parts)


def all_can_be_sawn_apart(shop: Shop, hand: Hand) -> bool:
    """Say whether every sheet in hand can be sawn apart as its parts lie."""
    apart = True
    for slot in range(hand.counts[HANDS]):
        apart = apart and can_be_sawn_apart(shop, hand, slot)
    return apart


def can_be_sawn(shop: Shop, hand: Hand, slot: int, left: int, bottom: int, right: int, top: int) -> bool:
    """Say whether a sheet in hand can still be sawn apart with one part more."""
    n = hand.sheet[slot * HAND_FACTS + PARTS]
    if n == 0:
        return True
    base = slot * (shop.rule[MOST_PARTS] + 1)
    at = (base + n) * PART
    part = hand.part
    part[at + LEFT] = left
    part[at + BOTTOM] = bottom
    part[at + LEFT + 2] = right
    part[at + BOTTOM + 2] = top
    put_in_order(hand.order, part, base, n)
    answer = sawable(shop, hand, slot, n + 1)
    take_from_order(hand.order, base, n)
    return answer
