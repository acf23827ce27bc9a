"""Parts laid along the skyline: by hand which gap, part and wall; inside and apart whatever comes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.rects.engine.skyline import choose, join, lay_along, lowest, raise_step
from nestkit.layout.rects.engine.strip import SPARE, TOO_MUCH, all_wait
from tests.layout.rects.engine.strips import area_of, check_laid, laid_on, posed, strip_of

RIGHT_END, OTHER_WAY = 1, 2


def one_each(*sizes):
    """Return kinds that lie in one way, one part of each in this order."""
    return [(size,) for size in sizes], [2 * i for i in range(len(sizes))]


def chosen(kinds, order, gap, walls):
    """Return of the best part its place in the order, whether it is turned, and its end of the gap."""
    strip = strip_of(kinds, order, 20, 40)
    all_wait(strip)
    found = choose(strip, *gap, *walls)
    if found < 0:
        return None
    return found >> 2, bool(found & OTHER_WAY), "right" if found & RIGHT_END else "left"


@pytest.mark.parametrize(
    ("sizes", "best"),
    [
        # In a gap 4 wide and 9 high, the left wall 5 high, the right one 7.
        ([(3, 3), (3, 7), (3, 5), (4, 2), (4, 5)], (4, False, "left")),
        ([(3, 3), (3, 7), (3, 5), (4, 2)], (3, False, "left")),
        ([(3, 3), (3, 7), (3, 5)], (2, False, "left")),
        ([(3, 3), (3, 7)], (1, False, "right")),
        ([(3, 3), (2, 2)], (0, False, "right")),
        ([(5, 1), (1, 10), (2, 2)], (2, False, "right")),
        ([(5, 1), (1, 10)], None),
        ([(4, 5), (4, 7)], (0, False, "left")),
        ([(4, 2), (4, 7)], (1, False, "left")),
    ],
)
def test_the_part_that_leaves_least_behind_is_chosen(sizes, best):
    """As wide as the gap and as high as a wall, as wide, as high as the left wall, the right, the first."""
    assert chosen(*one_each(*sizes), (4, 9), (5, 7)) == best


def test_a_part_of_no_special_size_goes_to_the_higher_wall():
    """To the left end where both walls are as high."""
    kinds, order = one_each((2, 2))
    assert chosen(kinds, order, (4, 9), (5, 7)) == (0, False, "right")
    assert chosen(kinds, order, (4, 9), (7, 5)) == (0, False, "left")
    assert chosen(kinds, order, (4, 9), (7, 7)) == (0, False, "left")


def test_a_part_is_turned_where_it_fits_better_so():
    """5 x 4 does not fit a gap of 4 as it is; turned it is as wide as the gap and as high as the wall."""
    assert chosen([((5, 4), (4, 5))], [0], (4, 9), (5, 7)) == (0, True, "left")
    assert chosen([((2, 2),), ((3, 5), (5, 3))], [0, 2], (4, 9), (5, 7)) == (1, False, "left")


def test_what_fits_between_the_walls_only_turned_counts_the_step_to_the_limit():
    """Nothing is laid higher than the limit, though the gap is wide enough."""
    assert chosen([((4, 10), (10, 4))], [0], (4, 9), (5, 7)) is None


def test_parts_are_laid_where_a_person_would_follow():
    """By hand on 10 x 10: of what fits the gap beside 6 x 4 comes 4 x 4, which leaves the skyline level.

    Beside 4 x 3 above it no part fits, so that 9 x 2 lies on top.
    """
    kinds, order = one_each((6, 4), (4, 3), (4, 4), (9, 2))
    strip = strip_of(kinds, order, 10, 10)
    assert lay_along(strip, 0) == 0
    assert laid_on(strip) == {0: (0, 0, 6, 4), 2: (6, 0, 10, 4), 1: (0, 4, 4, 7), 3: (0, 7, 9, 9)}


def test_the_leftmost_of_the_lowest_gaps_is_filled_first():
    """By hand: beside 2 x 5 in the middle of the floor the left gap comes before the right one."""
    strip = strip_of(*one_each((1, 1)), 10, 10)
    level, step = strip.level, strip.step
    step[:4], level[:3] = [0, 4, 6, 10], [2, 5, 2]
    assert lowest(level, 3) == 0
    level[0] = 3
    assert lowest(level, 3) == 2


def test_a_gap_that_nothing_fits_is_lost_up_to_its_lower_wall():
    """By hand: 4 beside 6 x 4 are lost, and the next part lies above both."""
    kinds, order = one_each((6, 4), (6, 2))
    strip = strip_of(kinds, order, 10, 6)
    assert lay_along(strip, 0) == 0
    assert laid_on(strip) == {0: (0, 0, 6, 4), 1: (0, 4, 6, 6)}


def test_an_order_is_given_up_on_the_way():
    """By hand on 10 x 5: of 50 the parts take 36, so of 14 to spare 2 are missing once 16 are lost.

    6 x 2 then has no place: 12 are left out.
    """
    kinds, order = one_each((6, 4), (6, 2))
    strip = strip_of(kinds, order, 10, 5)
    assert strip.counts[SPARE] == 14
    assert lay_along(strip, 12) == 12
    assert laid_on(strip) == {0: (0, 0, 6, 4)}
    assert lay_along(strip, 11) == TOO_MUCH
    # With 1 allowed 16 lost are too many at once.
    assert lay_along(strip, 1) == TOO_MUCH
    assert strip.level[0] == 4
    assert strip.level[1] == 0


def test_neighbours_of_one_height_become_one_step():
    """The ends of the steps stay where they are, and the last end is kept."""
    strip = strip_of(*one_each((1, 1), (1, 1), (1, 1), (1, 1)), 12, 10)
    strip.step[:6], strip.level[:5] = [0, 2, 4, 7, 9, 12], [3, 3, 1, 1, 3]
    assert join(strip, 5) == 3
    assert strip.step[:4] == [0, 4, 9, 12]
    assert strip.level[:3] == [3, 1, 3]


@pytest.mark.parametrize(
    ("x", "w", "top", "steps", "levels"),
    [
        (4, 3, 2, [0, 4, 7, 9, 12], [5, 2, 0, 4]),
        (6, 3, 2, [0, 4, 6, 9, 12], [5, 0, 2, 4]),
        (4, 5, 2, [0, 4, 9, 12], [5, 2, 4]),
        (4, 5, 4, [0, 4, 12], [5, 4]),
        (4, 3, 5, [0, 7, 9, 12], [5, 0, 4]),
        (6, 3, 4, [0, 4, 6, 12], [5, 0, 4]),
    ],
)
def test_a_part_raises_its_end_of_a_step(x, w, top, steps, levels):
    """At either end or over the whole step; what then is level with a neighbour is one step with it."""
    strip = strip_of(*one_each((1, 1), (1, 1), (1, 1)), 12, 10)
    strip.step[:4], strip.level[:3] = [0, 4, 9, 12], [5, 0, 4]
    number = raise_step(strip, 3, 1, x, w, top)
    assert strip.step[: number + 1] == steps
    assert strip.level[:number] == levels


@settings(max_examples=200)
@given(posed(), st.integers(0, 60))
def test_any_order_is_laid_soundly(made, allowed):
    """Inside, apart, each part once; given up just where more than is allowed would be left out."""
    kinds, order, across, limit = made
    strip = strip_of(kinds, order, across, limit)
    left_out = lay_along(strip, 1 << 40)
    check_laid(strip, kinds, left_out)
    again = lay_along(strip, allowed)
    if left_out <= allowed:
        assert again == left_out
        check_laid(strip, kinds, left_out)
    else:
        assert again == TOO_MUCH


@settings(max_examples=150)
@given(posed())
def test_a_part_is_left_out_only_where_no_step_holds_it(made):
    """Where the limit is the height of all parts stacked, whatever is no wider than the sheet has a place."""
    kinds, order, across, _ = made
    kinds = [tuple(way for way in ways if way[0] <= across) for ways in kinds]
    order = [code for code in order if kinds[code >> 1]]
    kinds = [ways or ((across + 1, 1),) for ways in kinds]
    if order:
        tall = sum(max(h for _, h in kinds[code >> 1]) for code in order)
        strip = strip_of(kinds, order, across, tall)
        assert lay_along(strip, area_of(kinds, order)) == 0
