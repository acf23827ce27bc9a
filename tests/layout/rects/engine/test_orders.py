"""The search over orders: every change can be undone, the order kept is what counts, both forms agree."""

from __future__ import annotations

import random
from fractions import Fraction
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects.engine.arrays import RANDOM
from nestkit.layout.rects.engine.orders import FLIP, MOVE, SWAP, change, lay_all, reorder, undo
from nestkit.layout.rects.engine.strip import (
    ACROSS,
    ALL,
    CYCLE,
    DEPTH,
    LEFT_OUT,
    LIMIT,
    SAW,
    SPARE,
    TO_BEAT,
    TRIALS,
    new_strip,
)
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.rects.lengthwise import Orders, first_laid, length_of, orders_compiled, orders_plain
from nestkit.layout.rects.sawable import saw_test
from nestkit.layout.rects.space import space_of
from tests.layout.rects.engine.strips import NO_LIMIT, check_laid, laid_on, posed, strip_of


@pytest.mark.parametrize(
    ("how", "one", "two", "after"),
    [
        (SWAP, 1, 3, [0, 6, 4, 2, 8]),
        (MOVE, 1, 3, [0, 4, 6, 2, 8]),
        (MOVE, 3, 1, [0, 6, 2, 4, 8]),
        (MOVE, 0, 4, [2, 4, 6, 8, 0]),
        (FLIP, 2, 1, [0, 2, 5, 6, 8]),
        (FLIP, 2, 2, [0, 2, 6, 6, 8]),
    ],
)
def test_three_ways_to_change_an_order(how, one, two, after):
    """By hand: two parts change places, a part goes elsewhere, the cut beside a part is another."""
    order = [0, 2, 4, 6, 8]
    change(order, how, one, two)
    assert order == after
    undo(order, how, one, two)
    assert order == [0, 2, 4, 6, 8]


@given(st.lists(st.integers(0, 9), min_size=1, max_size=9), st.data())
def test_every_change_can_be_undone(order, data):
    """Undone, the order is what it was; meanwhile no part is lost."""
    where = st.integers(0, len(order) - 1)
    how, one, two = data.draw(st.sampled_from([SWAP, MOVE, FLIP])), data.draw(where), data.draw(where)
    two = 1 + two % 3 if how == FLIP else two
    changed = list(order)
    change(changed, how, one, two)
    assert sorted(code >> 2 for code in changed) == sorted(code >> 2 for code in order)
    undo(changed, how, one, two)
    assert changed == order


@settings(max_examples=60, deadline=None)
@given(posed(), st.booleans(), st.sampled_from([1, 2, 3, NO_LIMIT]), st.sampled_from([0, 20_000]))
def test_the_order_kept_leaves_out_what_is_counted(made, saw, depth, heat):
    """All parts are still there; laid anew the order leaves out just so much, without heat never more."""
    kinds, order, across, limit = made
    order = order if saw else [code & ~1 for code in order]
    strip = strip_of(kinds, order, across, limit, saw=saw, depth=depth, heat=heat)
    before = strip.counts[LEFT_OUT] = lay_all(strip, 1 << 40)
    left_out = reorder(strip, 40)
    assert left_out == strip.counts[LEFT_OUT]
    assert sorted(code >> 1 for code in strip.order) == sorted(code >> 1 for code in order)
    if not saw:
        assert not any(code & 1 for code in strip.order)
    if left_out == 0:
        # What lies there is what is handed on.
        check_laid(strip, kinds, 0)
        assert len(laid_on(strip)) == len(order)
    assert lay_all(strip, 1 << 40) == left_out
    check_laid(strip, kinds, left_out)
    if saw:
        assert saw_test(depth if depth < NO_LIMIT else inf, "any")(list(laid_on(strip).values()))
    if not heat:
        assert left_out <= before


def test_a_search_ends_as_soon_as_nothing_is_left_out():
    """By hand: 4 x 4 and 6 x 4 fill 10 x 4 in any order, so that nothing is tried."""
    strip = strip_of([((4, 4),), ((6, 4),)], [0, 2], 10, 4)
    strip.counts[LEFT_OUT] = lay_all(strip, 40)
    assert (strip.counts[LEFT_OUT], reorder(strip, 50), strip.counts[TRIALS]) == (0, 0, 0)


def test_one_part_has_one_order():
    """Where it has no place the search ends, since nothing can be changed."""
    strip = strip_of([((4, 4),)], [0], 10, 3)
    strip.counts[LEFT_OUT] = lay_all(strip, 16)
    assert (reorder(strip, 50), strip.counts[TRIALS]) == (16, 0)


@pytest.mark.parametrize("saw", [False, True])
def test_what_is_left_out_counts_what_it_is_worth(saw):
    """By hand: of 6 x 4, 5 x 4 and 4 x 4 on 10 x 4 the first two do not fit together; less is left out."""
    kinds, rows = [((6, 4),), ((5, 4),), ((4, 4),)], (lambda n: [0] * n)
    strip = new_strip(rows, kinds, [50, 3, 7], 3, [0], [1000])
    strip.order[:] = [2, 4, 0]
    counts = strip.counts
    counts[ACROSS], counts[LIMIT], counts[SPARE], counts[CYCLE] = 10, 4, 40, 100
    counts[SAW], counts[DEPTH], counts[RANDOM], counts[ALL] = int(saw), NO_LIMIT, 1, 60
    counts[LEFT_OUT] = lay_all(strip, 60)
    assert counts[LEFT_OUT] == 50
    counts[TO_BEAT] = 50
    # Without heat nothing worse is taken on the way; that 5 x 4 is left out is the only better end.
    assert reorder(strip, 200) == 3
    assert counts[TRIALS] < 200


WAYS = {
    "free": {},
    "free, turning": {"turning": True},
    "sawn": {"edge_to_edge": True, "turning": True},
    "sawn, three stages, rips first": {"edge_to_edge": True, "stages": 3, "first": "y"},
    "sawn, two stages": {"edge_to_edge": True, "stages": 2, "first": "x", "turning": True},
    "sawn, one stage": {"edge_to_edge": True, "stages": 1},
    "long steps": {"scale": 9_876_543},
    "sawn, long steps": {"scale": 9_876_543, "edge_to_edge": True, "stages": 3},
}


def problem_of(seed: int, *, turning: bool = False, scale: int = 1, **way: object) -> Problem:
    """Return a problem of thirty-odd parts on one long sheet, a gap of 1 between them."""
    rng = random.Random(seed)
    boxes = []
    for _ in range(16):
        turns = (0, 90) if turning and rng.random() < 0.7 else (0,)
        # One more than a whole number of steps, so that no larger step divides all sizes.
        sides = (rng.randint(4, 26) * scale + 1, rng.randint(4, 20) * scale)
        boxes.append(Box(*sides, rng.randint(1, 3), (turns,)))
    stock = Stock(50 * scale, 400 * scale, 0, 0, 0, 0, 1, Fraction(1))
    return Problem(tuple(boxes), (stock,), 1 if way.get("edge_to_edge") else 0, 1, **way)


@pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")
@pytest.mark.parametrize("way", WAYS)
def test_plain_and_compiled_make_the_same_moves(way):
    """After every round both forms have the same order, places, counts and random numbers."""
    space = space_of(problem_of(3, **WAYS[way]))
    start = first_laid(space)
    boxes = [box for box, _ in start]
    searches = [Orders(space, boxes, form(), seed=4) for form in (orders_plain, orders_compiled)]
    for search in searches:
        search.start_short()
        # The same work in a round and the same cycle: only the form differs.
        search.trials, search.strip.counts[CYCLE] = 60, 250
    lengths = [length_of(start)] * 2
    for _ in range(8):
        found = [search.shorter(length) for search, length in zip(searches, lengths, strict=True)]
        assert found[0] == found[1]
        rows = [[list(map(int, row)) for row in search.strip] for search in searches]
        assert rows[0] == rows[1]
        lengths = [
            length if laid is None else length_of(laid) for laid, length in zip(found, lengths, strict=True)
        ]
    assert searches[0].strip.counts[TRIALS] > 0
