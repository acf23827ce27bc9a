"""The search for a shorter piece: a sound start, and from it what is shorter and sound; nothing is lost."""

from __future__ import annotations

import random
from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects.engine.strip import LEFT_OUT, LIMIT, TO_BEAT
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.rects.lengthwise import (
    Orders,
    all_boxes,
    first_laid,
    length_of,
    orders_compiled,
    orders_plain,
)
from nestkit.layout.rects.space import Laid, space_of
from tests.layout.checked import check_layout
from tests.layout.roll_problems import cut_up

FORMS = [
    orders_plain,
    pytest.param(orders_compiled, marks=pytest.mark.skipif(not can_compile(), reason="no compiler")),
]
WAYS = [
    {},
    {"turning": True},
    {"edge_to_edge": True},
    {"edge_to_edge": True, "stages": 3, "turning": True},
    {"edge_to_edge": True, "stages": 2, "first": "x"},
    {"edge_to_edge": True, "stages": 1},
]


def on_one(
    sizes: list[tuple[int, int]], across: int, length: int = 400, *, turning: bool = False, **way: object
) -> Problem:
    """Return a problem of single parts on one long sheet."""
    turns = ((0, 90) if turning else (0,),)
    boxes = tuple(Box(w, h, 1, turns) for w, h in sizes)
    return Problem(boxes, (Stock(across, length, 0, 0, 0, 0, 1, Fraction(1)),), 0, 0, **way)


def begun(problem: Problem, form: object, *, seed: int = 1) -> tuple[Orders, Laid]:
    """Return a search, and the layout from which it starts."""
    space = space_of(problem)
    start = first_laid(space)
    search = Orders(space, [box for box, _ in start], form, seed=seed)
    search.start_short()
    return search, start


def some_sizes(seed: int, parts: int) -> list[tuple[int, int]]:
    """Return random sizes, each no wider than 30."""
    rng = random.Random(seed)
    return [(rng.randint(2, 30), rng.randint(2, 25)) for _ in range(parts)]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 30), st.integers(1, 20)), max_size=9), st.sampled_from(WAYS))
def test_a_quick_layout_holds_all_parts(sizes, way):
    """Every part that is no wider than the roll has a place, however the saw has to cut."""
    problem = on_one(sizes, 25, **way)
    space = space_of(problem)
    start = first_laid(space)
    check_layout(problem, space.layout([(0, start)]))
    assert Counter(box for box, _ in start) == Counter(all_boxes(space))


def test_what_fits_in_no_way_is_not_waited_for():
    """By hand: of 30 x 5, 5 x 30 and 26 x 26 on 25 across the first fits only turned, the last never."""
    sizes = [(30, 5), (5, 30), (26, 26)]
    assert all_boxes(space_of(on_one(sizes, 25))) == [1]
    assert all_boxes(space_of(on_one(sizes, 25, turning=True))) == [0, 1]


def test_parts_without_length_enough_stay_out():
    """By hand: one of two 20 x 30 lies on a sheet of 25 x 50, in a quick layout of the most parts."""
    start = first_laid(space_of(on_one([(20, 30), (20, 30), (20, 15)], 25, 50)))
    assert sorted(box for box, _ in start) in ([0, 2], [1, 2])


def test_one_stage_is_a_stack_or_a_row():
    """By hand: nothing but one row, or one column, can be cut in one direction; a row of 25 is too narrow."""
    problem = on_one([(20, 9), (4, 9), (20, 8), (20, 7)], 25, edge_to_edge=True, stages=1)
    assert len(first_laid(space_of(problem))) == 4


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("way", WAYS)
def test_what_a_search_hands_on_is_sound_and_shorter(form, way):
    """All parts, by all rules, on less than was asked for; and so on until nothing shorter is found."""
    problem = on_one(some_sizes(3, 14), 40, **way)
    search, start = begun(problem, form())
    search.trials = min(search.trials, 1500)
    length, shorter = length_of(start), 0
    for _ in range(6):
        found = search.shorter(length)
        if found is None:
            continue
        check_layout(problem, search.space.layout([(0, found)]))
        assert sorted(box for box, _ in found) == sorted(box for box, _ in start)
        assert length_of(found) < length
        length, shorter = length_of(found), shorter + 1
    # What cuts of few stages can do is near what a quick layout finds.
    assert shorter or "stages" in way


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("way", [{}, {"edge_to_edge": True}])
def test_a_piece_without_waste_is_found(form, way):
    """Eight parts cut from 20 x 24 lie on 24 again, and never on less."""
    search, start = begun(on_one(cut_up(20, 24, 8, random.Random(7)), 20, **way), form())
    search.trials = min(search.trials, 4000)
    length = length_of(start)
    for _ in range(12):
        length = min(length, length_of(search.shorter(length) or start))
    assert length == 24


@pytest.mark.parametrize("form", FORMS)
def test_a_single_row_cannot_begin_along_the_row(form):
    """By hand: 5 x 4 twice on 10 lie in a row of 4, unless the first cut that parts them runs along x.

    The search then hands on nothing, and goes on as if something were left out.
    """
    sizes = [(5, 4), (5, 4)]
    for first, least in (("any", 4), ("y", 4), ("x", None)):
        problem = on_one(sizes, 10, edge_to_edge=True, first=first)
        space = space_of(problem)
        search = Orders(space, [0, 1], form(), seed=1)
        found = search.shorter(8)
        assert (None if found is None else length_of(found)) == least
        if least is None:
            assert search.strip.counts[LEFT_OUT] >= search.strip.counts[TO_BEAT]
            assert search.shorter(8) is None


@pytest.mark.parametrize("form", FORMS)
def test_one_part_alone_cannot_be_shorter(form):
    """By hand: 5 x 4 is 4 long, which is found from any greater length, and not from its own."""
    search = Orders(space_of(on_one([(5, 4)], 10)), [0], form(), seed=1)
    assert length_of(search.shorter(9)) == 4
    assert search.shorter(4) is None


def test_a_search_starts_with_the_shortest_of_some_orders():
    """By hand: on 10 the order of falling height lies on 9 + 2, and as the parts come on 9 + 5 at best."""
    problem = on_one([(6, 2), (5, 9), (5, 9), (4, 2)], 10)
    space = space_of(problem)
    search = Orders(space, [0, 1, 2, 3], orders_plain(), seed=1)
    as_it_comes = search._length([0, 1, 2, 3])
    search.start_short()
    order = [code >> 2 for code in search.strip.order]
    assert search._length(order) == (0, 11) <= as_it_comes


def test_a_search_aims_anew_only_at_another_length():
    """What was left out at a length is remembered while the length is the same."""
    search, start = begun(on_one(some_sizes(5, 20), 40), orders_plain())
    search.trials = 1
    length = length_of(start)
    aimed = []
    aim = search._aim_at
    search._aim_at = lambda limit: (aimed.append(limit), aim(limit))
    for asked in (length - 8, length - 8, length - 9):
        assert search.shorter(asked) is None
        assert search.strip.counts[LIMIT] == asked - 1
    assert aimed == [length - 9, length - 10]


@pytest.mark.parametrize("form", FORMS)
def test_the_same_seed_makes_the_same_search(form):
    """Two searches with a seed hand on the same, and another seed draws other numbers."""
    problem = on_one(some_sizes(9, 25), 50, turning=True)

    def run(seed: int) -> list[object]:
        search, start = begun(problem, form(), seed=seed)
        search.trials = 200
        return [search.shorter(length_of(start)) for _ in range(3)] + [list(map(int, search.strip.counts))]

    assert run(1) == run(1)
    assert run(1) != run(2)
