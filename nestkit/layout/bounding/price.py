"""The most that parts on one sheet can be worth together, never less than the truth.

Sets of parts are built up one by one, those of most worth for their area first. A set is left when the rest
of the sheet's area cannot raise its worth above the best, or when its largest parts are known not to fit
together. What is too many parts to try, or takes too many tries, counts as fitting.
"""

from __future__ import annotations

from typing import NamedTuple

from nestkit.layout.bounding.together import MOST, NOT_KNOWN, YES, Kinds, Row, fit_together

MARGIN = 1 + 1e-12
"""Floats are only used to leave sets out, and are taken larger than they can be wrong."""

WIDTH, HEIGHT, FULL, LEAST, WORK, ENOUGH, SETS, TRIES, BITS, MASK = range(10)
"""Numbers of a rule: the sheet's room and full area, the worth that a set must exceed to count, work after
which to end, and after which to end once a set is found, sets to find, tries for one set, bits of a kind in
a key, and the mask of places in the table of what is known."""
RULE = 10

NUMBER, NEXT, WORTH, ROOM, AT_MOST = range(5)
"""Of each level: kinds that may come next, the place of the next one, worth and free area so far, and the
most worth that any set from there on can have."""
LEVEL = 5
PROBES = 16
FOUND, DONE = 0, 1
"""What a search counts: sets found, work done."""


class Hand(NamedTuple):
    """What a search has in hand; ``known`` lasts from one search to the next, since it is of the sheet.

    ``next`` are the kinds that may come next, level by level, ``chosen`` the parts of the set; ``parts`` and
    ``stack`` serve the trial of a set, ``sets`` are the sets found, each after its number of parts.
    """

    next: Row
    level: Row
    chosen: Row
    parts: Row
    stack: Row
    sets: Row
    count: Row
    known: Row


def place_of(key: int, mask: int) -> int:
    """Return where a key is looked for first."""
    key ^= key >> 31
    key = (key * 0x9E3779B97F4A7C1) & 0x7FFFFFFFFFFFFFFF
    key ^= key >> 29
    return key & mask


def verdict_known(known: Row, key: int, mask: int) -> int:
    """Return what is known of a set, -1 for nothing. A key is never 0."""
    at = place_of(key, mask)
    for _ in range(PROBES):
        found = known[at]
        if found == 0:
            return -1
        if found >> 2 == key:
            return int(found & 3)
        at = (at + 1) & mask
    return -1


def keep_verdict(known: Row, key: int, verdict: int, mask: int) -> None:
    """Remember what is known of a set, where there is room."""
    at = place_of(key, mask)
    for _ in range(PROBES):
        if known[at] == 0 or known[at] >> 2 == key:
            known[at] = key << 2 | verdict
            return
        at = (at + 1) & mask


def most_from(kinds: Kinds, value: Row, most: Row, listed: Row, first: int, end: int, room: int) -> float:
    """Return the most worth of listed kinds that an area holds, the last of them in part."""
    worth = 0.0
    for i in range(first, end):
        k = listed[i]
        area, copies = kinds.area[k], most[k]
        if copies * area > room:
            return float((worth + room * (value[k] / area)) * MARGIN)
        worth += copies * value[k]
        room -= copies * area
    return worth * MARGIN


def pair_fits(kinds: Kinds, a: int, b: int, width: int, height: int) -> bool:
    """Say whether two parts may lie on one sheet."""
    ways = kinds.ways
    if ways[a * 4] == 0 or ways[b * 4] == 0:
        return True
    for i in range(a * 4, a * 4 + 4, 2):
        for j in range(b * 4, b * 4 + 4, 2):
            beside = ways[i] + ways[j] <= width or ways[i + 1] + ways[j + 1] <= height
            if beside and ways[i] > 0 and ways[j] > 0:
                return True
    return False


def follow(kinds: Kinds, most: Row, rule: Row, hand: Hand, depth: int, place: int, stride: int) -> int:
    """List what may come after the kind at a place of a level, and return how many kinds these are."""
    base, to = depth * stride, (depth + 1) * stride
    kind = hand.next[base + place]
    room = hand.level[depth * LEVEL + ROOM] - kinds.area[kind]
    copies = 0
    for i in range(depth + 1):
        if hand.chosen[i] == kind:
            copies += 1
    number = 0
    for i in range(place, hand.level[depth * LEVEL + NUMBER]):
        other = hand.next[base + i]
        if i == place and copies >= most[kind]:
            continue
        if kinds.area[other] <= room and pair_fits(kinds, kind, other, rule[WIDTH], rule[HEIGHT]):
            hand.next[to + number] = other
            number += 1
    return number


def list_parts(kinds: Kinds, rule: Row, hand: Hand, number: int) -> int:
    """List the parts chosen by falling area, and return how many of them, the largest, can be tried."""
    parts, count = hand.parts, 0
    for i in range(number):
        k = hand.chosen[i]
        if kinds.ways[k * 4] == 0:
            continue
        at = count
        while at > 0 and parts[at - 1] > k:
            parts[at] = parts[at - 1]
            at -= 1
        parts[at] = k
        count += 1
    return int(min(count, MOST, 60 // rule[BITS]))


def verdict_on(kinds: Kinds, rule: Row, hand: Hand, count: int, tries: int) -> int:
    """Return whether the first of the parts listed fit together; what is not known may be tried longer."""
    key = 0
    for i in range(count):
        key = key << rule[BITS] | (hand.parts[i] + 1)
    verdict = verdict_known(hand.known, key, rule[MASK])
    if verdict < 0 or (verdict == NOT_KNOWN and tries > rule[TRIES]):
        verdict, tried = fit_together(kinds, hand.parts, count, hand.stack, rule[WIDTH], rule[HEIGHT], tries)
        hand.count[DONE] += tried
        keep_verdict(hand.known, key, verdict, rule[MASK])
    return int(verdict)


def may_fit(kinds: Kinds, rule: Row, hand: Hand, number: int) -> bool:
    """Say whether the parts chosen may fit together."""
    count = list_parts(kinds, rule, hand, number)
    # Where it cannot be known whether all of them fit, it may be that the largest do not. Pairs do.
    while count > 2:
        verdict = verdict_on(kinds, rule, hand, count, rule[TRIES])
        if verdict != NOT_KNOWN:
            return bool(verdict == YES)
        count -= 1
    return True


def may_fit_after_all(kinds: Kinds, rule: Row, hand: Hand, number: int, tries: int) -> bool:
    """Say the same with more tries: of the largest three, then four and so on, until it cannot be known."""
    for count in range(3, list_parts(kinds, rule, hand, number) + 1):
        verdict = verdict_on(kinds, rule, hand, count, tries)
        if verdict != YES:
            return bool(verdict == NOT_KNOWN)
    return True


def keep_set(hand: Hand, number: int, at: int) -> int:
    """Note the set chosen, and return where the next one goes."""
    hand.sets[at] = number
    for i in range(number):
        hand.sets[at + 1 + i] = hand.chosen[i]
    hand.count[FOUND] += 1
    return at + 1 + number


def most_worth(kinds: Kinds, value: Row, most: Row, rule: Row, hand: Hand, number: int) -> int:
    """Return a worth that no set of parts on one sheet exceeds, and note sets of more than LEAST.

    ``hand.next`` begins with the kinds to choose from, ``number`` of them, in falling worth for their area;
    ``most`` is how many copies of each a set may have.
    """
    level, count = hand.level, hand.count
    best, depth, written, ended = rule[LEAST], 0, 0, False
    count[FOUND], count[DONE] = 0, 0
    level[NUMBER], level[NEXT], level[WORTH], level[ROOM] = number, 0, 0, rule[FULL]
    while depth >= 0:
        at = depth * LEVEL
        place, base = level[at + NEXT], depth * number
        at_most = level[at + WORTH] + most_from(
            kinds, value, most, hand.next, base + place, base + level[at + NUMBER], level[at + ROOM]
        )
        if place == level[at + NUMBER] or at_most <= best:
            depth -= 1
            continue
        level[at + AT_MOST] = int(at_most) + 1
        if count[DONE] >= rule[WORK] or (count[FOUND] and count[DONE] >= rule[ENOUGH]):
            ended = True
            break
        count[DONE] += 1
        kind = hand.next[base + place]
        hand.chosen[depth] = kind
        level[at + NEXT] = place + 1
        worth, room = level[at + WORTH] + value[kind], level[at + ROOM] - kinds.area[kind]
        after = follow(kinds, most, rule, hand, depth, place, number)
        first = base + number
        if worth + most_from(kinds, value, most, hand.next, first, first + after, room) <= best:
            continue
        if not may_fit(kinds, rule, hand, depth + 1):
            continue
        if worth > best:
            if count[FOUND] == rule[SETS]:
                # What was just tried counts with what its level still had to come.
                level[at + NEXT] = place
                ended = True
                break
            best = worth
            written = keep_set(hand, depth + 1, written)
        depth += 1
        at = depth * LEVEL
        level[at + NUMBER], level[at + NEXT], level[at + WORTH], level[at + ROOM] = after, 0, worth, room
    if ended:
        for i in range(depth + 1):
            best = max(best, level[i * LEVEL + AT_MOST])
    return int(best)
