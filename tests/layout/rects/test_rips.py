"""Layouts of ripped sheets keep every rule, fill well what can be filled, and are the same every time."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.problem import Box, Layout, Problem, Stock
from nestkit.layout.rects import rips
from nestkit.layout.rects.rips import KERNELS, Ripped, worth_ripping
from nestkit.layout.rects.space import score_of
from nestkit.layout.stop import Rounds
from tests.layout.checked import check_layout

PLAIN = KERNELS.plain()
SHEETS = {
    "one size": [(60, 40, None, 7)],
    "several": [(60, 40, None, 7), (40, 30, None, 4), (30, 30, 2, 0)],
    "short": [(60, 40, 1, 7), (30, 30, 1, 2)],
}
WAYS = {
    "free": {},
    "two stages": {"edge_to_edge": True, "stages": 2},
    "three stages, along x": {"edge_to_edge": True, "stages": 3, "first": "x"},
    "any stages, along y": {"edge_to_edge": True, "first": "y"},
}


def posed(sizes, sheets, gap=0, turns=(0, 90), **how) -> Problem:
    """Return a problem; ``sizes`` are width, height and number."""
    stocks = tuple(Stock(w, h, 0, 0, 0, 0, n, Fraction(c)) for w, h, n, c in sheets)
    boxes = tuple(Box(w, h, n, (turns,) * len(stocks)) for w, h, n in sizes)
    return Problem(boxes, stocks, gap if how.get("edge_to_edge") else 0, gap, **how)


def ripped(problem, tries=3, seed=1) -> Layout:
    """Return the best of some tries, from nothing."""
    nothing = Layout((), tuple(b.quantity for b in problem.boxes))
    return Ripped(problem, PLAIN, seed=seed)(nothing, Rounds(tries))


@pytest.mark.parametrize("sheets", SHEETS)
@pytest.mark.parametrize("how", WAYS)
@settings(max_examples=12, deadline=None)
@given(
    sizes=st.lists(
        st.tuples(st.integers(3, 30), st.integers(3, 30), st.integers(1, 5)), min_size=1, max_size=6
    ),
    gap=st.integers(0, 2),
    turning=st.booleans(),
)
def test_every_layout_keeps_every_rule(sheets, how, sizes, gap, turning):
    """Parts are apart, inside, in a way they may lie, sawable as asked, and none is laid twice or lost."""
    problem = posed(sizes, SHEETS[sheets], gap, (0, 90) if turning else (0,), **WAYS[how])
    layout = ripped(problem)
    check_layout(problem, layout)
    if sheets != "short" and WAYS[how].get("first") is None:
        assert not any(layout.left_over)


def test_the_same_seed_gives_the_same_layout():
    """Nothing but the problem and the seed decides."""
    problem = posed([(13, 7, 9), (11, 5, 8), (6, 6, 7), (17, 9, 4)], SHEETS["several"], gap=1)
    assert ripped(problem, seed=4) == ripped(problem, seed=4)


def test_sheets_cut_into_strips_without_waste_are_found_again():
    """Parts that fill two sheets to the last square, in strips, need two sheets."""
    sizes = [(20, 10, 6), (15, 10, 8), (30, 12, 4), (60, 8, 2)]
    problem = posed(sizes, [(60, 40, None, 1)], turns=(0,), edge_to_edge=True, stages=2)
    layout = ripped(problem, tries=10)
    assert sum(w * h * n for w, h, n in sizes) == 2 * 60 * 40
    assert len(layout.sheets) == 2


def test_sizes_finer_than_the_cells_are_rounded_to_the_safe_side():
    """On a sheet of many more steps than cells, parts that would overlap by a step are not laid."""
    problem = posed([(50_001, 30_000, 2), (49_999, 30_000, 2)], [(100_000, 60_001, None, 1)], turns=(0,))
    layout = ripped(problem)
    check_layout(problem, layout)
    assert not any(layout.left_over)


def test_a_cheap_end_is_taken_when_it_holds_all_that_is_left():
    """The last part goes on the small sheet, not on a large one that is cheaper by area."""
    problem = posed([(60, 20, 2), (30, 30, 1)], [(60, 40, None, 10), (30, 30, None, 5)], turns=(0,))
    layout = ripped(problem)
    assert sorted(s.stock for s in layout.sheets) == [0, 1]


def test_no_better_layout_gives_back_the_first():
    """A layout that cannot be beaten comes back as it is."""
    problem = posed([(60, 40, 2)], [(60, 40, None, 1)], turns=(0,))
    best = ripped(problem)
    assert Ripped(problem, PLAIN, seed=2)(best, Rounds(3)) is best
    assert score_of(problem, best) == (0, 2, 2)


def test_few_parts_on_a_sheet_or_one_stage_are_not_worth_ripping():
    """Strips need something to choose from, and a second stage to cut them up."""
    dense, sparse = posed([(10, 10, 24)], SHEETS["one size"]), posed([(40, 30, 4)], SHEETS["one size"])
    one = posed([(10, 40, 6)], SHEETS["one size"], edge_to_edge=True, stages=1)
    assert worth_ripping(dense, ripped(dense))
    assert not worth_ripping(sparse, ripped(sparse))
    assert not worth_ripping(one, Layout((), (6,)))


def test_work_without_end_is_given_up(monkeypatch):
    """Where one layout alone takes too long, or a table too much memory, the start comes back."""
    problem = posed([(13, 7, 40), (11, 5, 30)], SHEETS["one size"])
    start = ripped(problem)
    poorer = Layout((*start.sheets, start.sheets[0]), start.left_over)
    assert Ripped(problem, PLAIN, seed=1)(poorer, Rounds(3)) != poorer
    monkeypatch.setattr(rips, "MOST_WORK", 1000)
    assert Ripped(problem, PLAIN, seed=1)(poorer, Rounds(3)) is poorer
    monkeypatch.undo()
    monkeypatch.setattr(rips, "LARGEST_TABLE", 100)
    assert Ripped(problem, PLAIN, seed=1)(poorer, Rounds(3)) is poorer


def test_a_user_who_ends_it_waits_for_one_sheet_only():
    """The rule that says the user ended it is asked for each sheet, and what was begun is given up."""
    problem = posed([(13, 7, 40), (11, 5, 30)], SHEETS["one size"])
    start, asked = ripped(problem), []
    poorer = Layout((*start.sheets, start.sheets[0]), start.left_over)

    def ended() -> bool:
        asked.append(1)
        return len(asked) > 1

    assert Ripped(problem, PLAIN, seed=1)(poorer, Rounds(3), ended) is poorer
    assert len(asked) == 2


def test_of_many_sizes_the_likeliest_are_tried_and_others_where_needed():
    """With eight sizes a part that fits only the dearest finds its place."""
    sheets = [(20 + n, 20, None, 4 + n) for n in range(7)] + [(60, 40, None, 90)]
    layout = ripped(posed([(10, 10, 12), (50, 30, 1)], sheets))
    assert not any(layout.left_over)
    assert sum(s.stock == 7 for s in layout.sheets) == 1
