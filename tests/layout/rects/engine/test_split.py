"""Rooms that cuts leave: they share nothing, lose nothing, and what lies in them can be sawn apart."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.rects.engine import arrays as at
from nestkit.layout.rects.engine.split import carve
from nestkit.layout.rects.sawable import saw_test

WIDE, HIGH, SLOT = 20, 16, 1
FIRST = SLOT * at.ROOM * 4

choices = st.tuples(
    st.integers(0, 30), st.integers(1, 9), st.integers(1, 9), st.integers(0, 3), st.integers(0, 3)
)


def new_hand():
    """Return a hand with one empty sheet."""
    hand = at.new_hand(lambda n: [0] * n, 1, 1, 20, 20)
    hand.sheet[SLOT * at.HAND_FACTS + at.ROOMS] = 1
    hand.room[FIRST : FIRST + 4] = [0, 0, WIDE, HIGH]
    return hand


def rooms(hand):
    """Return the rooms of the sheet, as corners."""
    end = FIRST + 4 * hand.sheet[SLOT * at.HAND_FACTS + at.ROOMS]
    return [tuple(hand.room[i : i + 4]) for i in range(FIRST, end, 4)]


def carved(chosen, narrow=1, flat=1):
    """Return the parts laid and the rooms left after each choice of a room, a size, a corner and a split."""
    hand, laid = new_hand(), []
    for which, w, h, corner, split in chosen:
        now = rooms(hand)
        if not now:
            break
        x1, y1, x2, y2 = now[which % len(now)]
        w, h = min(w, x2 - x1), min(h, y2 - y1)
        left, bottom = (x2 - w if corner & 1 else x1), (y2 - h if corner & 2 else y1)
        hand.counts[at.PLACE + 5] = FIRST + 4 * (which % len(now))
        hand.counts[at.SPLIT] = split
        carve(hand, SLOT, (left, bottom, left + w, bottom + h), narrow, flat)
        laid.append((left, bottom, left + w, bottom + h))
    return laid, rooms(hand)


@settings(max_examples=200)
@given(st.lists(choices, max_size=9))
def test_parts_and_rooms_cover_the_sheet_once(chosen):
    """Every unit square is in just one part or room: nothing is lost, nothing is given twice."""
    laid, left = carved(chosen)
    area = sum((x2 - x1) * (y2 - y1) for x1, y1, x2, y2 in [*laid, *left])
    assert area == WIDE * HIGH
    for x in range(WIDE):
        for y in range(HIGH):
            assert sum(a <= x < c and b <= y < d for a, b, c, d in [*laid, *left]) == 1


@settings(max_examples=200)
@given(st.lists(choices, max_size=9))
def test_what_lies_in_rooms_can_be_sawn_apart(chosen):
    """The test that looks at the whole sheet agrees that cuts from edge to edge part everything."""
    laid, _ = carved(chosen)
    assert saw_test(math.inf, "any")(laid)


@given(st.lists(choices, max_size=9), st.integers(1, 6), st.integers(1, 6))
def test_rooms_that_hold_no_part_are_dropped(chosen, narrow, flat):
    """No room left after a part was laid is narrower or lower than the parts still to come."""
    laid, left = carved(chosen, narrow, flat)
    assert not laid or all(x2 - x1 >= narrow and y2 - y1 >= flat for x1, y1, x2, y2 in left)
