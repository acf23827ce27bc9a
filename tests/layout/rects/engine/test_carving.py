"""Parts laid in rooms that saw cuts make: rooms by hand; whatever is laid can be sawn as it must be."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from nestkit.geometry.edge_to_edge import split
from nestkit.layout.rects.engine.carving import ALONG_X, ALONG_Y, add_room, carve, choose_for, cut_out
from nestkit.layout.rects.engine.strip import LOST, ROOM_FACTS, SPARE, TOO_MUCH, all_wait
from nestkit.layout.rects.sawable import saw_test
from tests.layout.rects.engine.strips import NO_LIMIT, area_of, check_laid, laid_on, posed, strip_of

WORDS = ("any", "x", "y")
ROOM = (20, 30, 10, 10)
ABOVE = 1
"""Added to a part's code where what is above it is cut off along with it, by a cut along y."""


def chosen(kinds, order, room):
    """Return the place in the order, and whether turned, of the best part for a room; None if none fits."""
    strip = strip_of(kinds, order, 20, 40, saw=True)
    all_wait(strip)
    found = choose_for(strip, *room)
    return None if found < 0 else (found >> 1, bool(found & 1))


@pytest.mark.parametrize(
    ("ways", "best"),
    [
        ([((3, 3),), ((4, 5),), ((3, 6),), ((4, 6),)], (3, False)),
        ([((3, 3),), ((4, 5),), ((3, 6),)], (1, False)),
        ([((3, 3),), ((3, 6),), ((4, 5),)], (1, False)),
        ([((3, 3),), ((2, 2),)], (0, False)),
        ([((3, 3),), ((6, 4), (4, 6))], (1, True)),
        ([((5, 1),), ((1, 7),), ((2, 2),)], (2, False)),
        ([((5, 1),), ((1, 7),)], None),
    ],
)
def test_what_fills_a_room_is_chosen(ways, best):
    """In a room of 4 x 6: what fills it, then what is as wide or as high, then what comes first."""
    assert chosen(ways, [2 * i for i in range(len(ways))], (4, 6)) == best


def rooms_of(size, *, code=0, stage=0, along=0, depth=NO_LIMIT, first=0):
    """Return the rooms, and the area lost, once a part is cut out of a room of 10 x 10 at 20, 30."""
    strip = strip_of([(size,)], [code], 100, 100, saw=True, depth=depth, first=first)
    all_wait(strip)
    add_room(strip, 0, *ROOM, stage, along)
    number = cut_out(strip, 0, 0, 0)
    assert laid_on(strip) == {0: (20, 30, 20 + size[0], 30 + size[1])}
    rooms = [tuple(strip.room[i * ROOM_FACTS : (i + 1) * ROOM_FACTS]) for i in range(number)]
    return rooms, strip.counts[LOST]


def test_a_part_leaves_a_room_above_and_a_room_beside():
    """By hand for 4 x 3: the cut above it goes all the way across, or the cut beside it all the way up."""
    assert rooms_of((4, 3)) == ([(20, 33, 10, 7, 1, ALONG_X), (24, 30, 6, 3, 2, ALONG_Y)], 0)
    assert rooms_of((4, 3), code=ABOVE) == ([(24, 30, 6, 10, 1, ALONG_Y), (20, 33, 4, 7, 2, ALONG_X)], 0)


def test_what_is_as_wide_or_as_high_as_its_room_needs_one_cut():
    """By hand: 10 x 3 leaves a room above, 4 x 10 one beside, 10 x 10 none; no change counts twice."""
    assert rooms_of((10, 3)) == ([(20, 33, 10, 7, 1, ALONG_X)], 0)
    assert rooms_of((4, 10)) == ([(24, 30, 6, 10, 1, ALONG_Y)], 0)
    assert rooms_of((10, 3), code=ABOVE) == ([(20, 33, 10, 7, 1, ALONG_X)], 0)
    assert rooms_of((4, 10), code=ABOVE) == ([(24, 30, 6, 10, 1, ALONG_Y)], 0)
    assert rooms_of((10, 10)) == ([], 0)


def test_cuts_on_in_the_same_direction_are_no_change():
    """By hand: in a room that cuts along x made, a cut along x stays in its stage, one along y opens one."""
    assert rooms_of((4, 3), stage=1, along=ALONG_X) == (
        [(20, 33, 10, 7, 1, ALONG_X), (24, 30, 6, 3, 2, ALONG_Y)],
        0,
    )
    assert rooms_of((4, 3), code=ABOVE, stage=1, along=ALONG_X) == (
        [(24, 30, 6, 10, 2, ALONG_Y), (20, 33, 4, 7, 3, ALONG_X)],
        0,
    )


def test_the_first_cut_of_all_runs_as_it_must():
    """By hand: whatever the order says, in the first room the cut is along x, or along y."""
    assert rooms_of((4, 3), code=ABOVE, first=ALONG_X) == rooms_of((4, 3))
    assert rooms_of((4, 3), first=ALONG_Y) == rooms_of((4, 3), code=ABOVE)
    later = {"stage": 1, "along": ALONG_Y}
    assert rooms_of((4, 3), first=ALONG_Y, **later) == rooms_of((4, 3), **later)


def test_where_no_more_changes_are_allowed_what_needs_one_is_lost():
    """By hand: with two stages used up only cuts in the same direction are left; 4 x 7 is lost above."""
    last = {"stage": 2, "along": ALONG_Y, "depth": 2}
    assert rooms_of((4, 3), **last) == ([(24, 30, 6, 10, 2, ALONG_Y)], 4 * 7)
    assert rooms_of((4, 3), code=ABOVE, **last) == rooms_of((4, 3), **last)
    assert rooms_of((10, 3), **last) == ([], 10 * 7)
    assert rooms_of((4, 10), **last) == ([(24, 30, 6, 10, 2, ALONG_Y)], 0)
    assert rooms_of((4, 3), depth=1) == ([(20, 33, 10, 7, 1, ALONG_X)], 6 * 3)


def test_the_room_beside_is_filled_before_the_room_above():
    """By hand on 10 x 10: 6 x 4, then 4 x 2 and 3 x 2 beside it, then 9 x 5 above."""
    kinds = [((6, 4),), ((9, 5),), ((3, 2),), ((4, 2),)]
    strip = strip_of(kinds, [0, 2, 4, 6], 10, 10, saw=True)
    assert carve(strip, 0) == 0
    assert laid_on(strip) == {0: (0, 0, 6, 4), 1: (0, 4, 9, 9), 3: (6, 0, 10, 2), 2: (6, 2, 9, 4)}


def test_an_order_is_given_up_once_too_much_is_lost():
    """By hand on 10 x 6: 6 x 4 lies above 6 x 2, and two rooms beside them, 24, are lost of 24 to spare."""
    kinds = [((6, 4),), ((6, 2),)]
    strip = strip_of(kinds, [0, 2], 10, 6, saw=True)
    assert (strip.counts[SPARE], carve(strip, 0)) == (24, 0)
    assert strip.counts[LOST] == 16
    strip = strip_of(kinds, [0, 2], 10, 5, saw=True)
    assert (strip.counts[SPARE], carve(strip, 12), carve(strip, 11)) == (14, 12, TOO_MUCH)
    assert carve(strip, 1) == TOO_MUCH
    assert strip.counts[LOST] == 16


DEPTHS = st.sampled_from([1, 2, 3, NO_LIMIT])


@settings(max_examples=250)
@given(posed(), st.integers(0, 60), DEPTHS, st.sampled_from([0, 1, 2]))
@example(([((5, 4),)], [0, 0], 10, 4), 0, 2, 1)
def test_whatever_is_laid_can_be_sawn(made, allowed, depth, first):
    """Inside, apart, each part once; cut apart in so many stages, from the first direction asked for.

    Only a single row, which no cut in the first direction parts, begins with the other one.
    """
    kinds, order, across, limit = made
    strip = strip_of(kinds, order, across, limit, saw=True, depth=depth, first=first)
    left_out = carve(strip, 1 << 40)
    check_laid(strip, kinds, left_out)
    parts, stages = list(laid_on(strip).values()), depth if depth < NO_LIMIT else inf
    assert saw_test(stages, "any")(list(parts))
    if not saw_test(stages, WORDS[first])(list(parts)):
        axis = {"x": 1, "y": 0}[WORDS[first]]
        assert len(split(parts, axis)) == 1
    again = carve(strip, allowed)
    assert again == (left_out if left_out <= allowed else TOO_MUCH)


@settings(max_examples=150)
@given(posed(), DEPTHS)
def test_everything_can_be_stacked(made, depth):
    """As long as all parts one above the other, every part that is no wider has a place, in any stages."""
    kinds, order, across, _ = made
    kinds = [tuple(way for way in ways if way[0] <= across) for ways in kinds]
    order = [code & ~1 for code in order if kinds[code >> 1]]
    kinds = [ways or ((across + 1, 1),) for ways in kinds]
    if order:
        tall = sum(max(h for _, h in kinds[code >> 1]) for code in order)
        strip = strip_of(kinds, order, across, tall, saw=True, depth=depth)
        assert carve(strip, area_of(kinds, order)) == 0
