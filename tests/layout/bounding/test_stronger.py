"""Bounds by shares of a sheet: above the quick ones where these are weak, never above what is possible."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.bounding.form import compiled, plain
from nestkit.layout.bounding.stronger import WORK, stronger
from nestkit.layout.bounds import Bounds, bounds_of
from nestkit.layout.problem import Box, Hull, Layout, Problem, Stock
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.stop import Rounds
from tests.layout.oracle import least_cost_free, least_cost_sawn, small_problem

STOCKS = [[(10, 10, 1)], [(12, 8, 3), (8, 8, 2)], [(10, 6, 5), (6, 6, 3), (5, 10, 5)]]


def laid(problem: Problem) -> Layout:
    """Return some layout of all parts."""
    layout = Greedy()(problem, seed=1, stop=Rounds(3))
    assert not any(layout.left_over)
    return layout


def found_for(problem: Problem, *, work: int = 3000, boxes_only: bool = True) -> Bounds:
    """Return the bounds that plain Python finds with some work."""
    bounds = bounds_of(problem, boxes_only=boxes_only)
    return stronger(problem, bounds, laid(problem), form=plain(), work=work, boxes_only=boxes_only)


@st.composite
def problems(draw: st.DrawFn, edge_to_edge: bool) -> Problem:
    """Up to seven parts, each of which fits the first stock, of sizes of which few fit together."""
    stocks = draw(st.sampled_from(STOCKS))
    width, height, _ = stocks[0]
    size = st.tuples(st.integers(2, width - 2), st.integers(2, height - 1))
    return small_problem(
        draw(st.lists(size, min_size=4, max_size=7)),
        stocks,
        turning=draw(st.booleans()),
        gap=draw(st.integers(0, 1)),
        edge_to_edge=edge_to_edge,
    )


@settings(max_examples=25, deadline=None)
@given(problems(edge_to_edge=False), st.sampled_from([0, 60, 3000]))
def test_no_bound_beats_the_proved_optimum_of_free_layouts(problem, work):
    """However little or much work: the least cost that CP-SAT proves is never below our bound."""
    optimum = least_cost_free(problem)
    assert found_for(problem, work=work).cost.value <= optimum
    assert found_for(problem, work=work, boxes_only=False).cost.value <= optimum


@settings(max_examples=40, deadline=None)
@given(problems(edge_to_edge=True))
def test_no_bound_beats_the_optimum_of_sawn_layouts(problem):
    """The least cost over all edge-to-edge layouts is never below our bound."""
    assert found_for(problem).cost.value <= least_cost_sawn(problem)


@settings(max_examples=25, deadline=None)
@given(problems(edge_to_edge=False))
def test_a_bound_that_was_found_is_not_given_up(problem):
    """Work never makes a bound weaker, nor the number of sheets that it allows at the least cost."""
    before, after = bounds_of(problem, boxes_only=True), found_for(problem)
    assert after.cost.value >= before.cost.value
    assert after.sheets.value >= before.sheets.value


def stock(width: int, height: int, cost: int = 1, count: int | None = None) -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost))


def test_parts_of_which_two_fit_together_and_two_with_nothing():
    """By hand: 6 x 7 and 6 x 5 share a 10 x 10 sheet with none of the others, of three 5 wide two share.

    Four sheets; measures of width and height alone say three.
    """
    problem = small_problem([(6, 7), (6, 5), (5, 8), (5, 7), (5, 6)], [(10, 10, 1)], turning=False)
    assert bounds_of(problem).sheets.value == 3
    found = found_for(problem)
    assert found.sheets.value == 4
    assert found.sheets.why == (
        "each part can be given a share of a sheet so that no parts that fit on one together have more than"
        " one sheet; all shares together are more than 3 sheets"
    )


def test_parts_that_turn_and_still_do_not_fit():
    """Four parts fill 96 % of a 10 x 10 sheet, yet do not fit on it however they are turned.

    That two sheets are needed is proved by CP-SAT as well.
    """
    problem = small_problem([(7, 3), (6, 4), (5, 5), (4, 6)], [(10, 10, 1)], turning=True)
    assert least_cost_free(problem) == 2
    assert bounds_of(problem).sheets.value == 1
    assert found_for(problem).sheets.value == 2


def test_cheap_sets_of_sheets_are_refuted_one_by_one():
    """Sheets of several sizes: the bound meets the optimum of CP-SAT where room enough says less."""
    stocks = [(12, 8, 3), (8, 8, 2)]
    problem = small_problem([(7, 5), (7, 5), (6, 5), (5, 5), (9, 4)], stocks, turning=True)
    before, found = bounds_of(problem), found_for(problem)
    assert before.cost.value < found.cost.value == least_cost_free(problem)


def test_true_outlines_count_for_what_they_surely_fill():
    """Parts of which only the area is sure may share a sheet that their boxes could not."""
    box = Box(6, 6, 2, ((0,),))
    loose = replace(box, hull=Hull(18))
    sheets = (stock(10, 10),)
    solid = Problem((box,), sheets, 0, 0)
    hollow = Problem((loose,), sheets, 0, 0)
    assert found_for(solid, boxes_only=False).sheets.value == 2
    assert found_for(hollow, boxes_only=False).sheets.value == 1
    cores = Problem((replace(box, hull=Hull(30, ((6, 4), (4, 6)))),), sheets, 0, 0)
    assert found_for(cores, boxes_only=False).sheets.value == 1


def test_stock_on_hand_is_counted_as_far_as_it_goes():
    """One sheet on hand is free, and holds one of three parts: two are bought."""
    boxes = (Box(7, 6, 3, ((0, 90), (0, 90))), Box(3, 3, 2, ((0,), (0,))))
    problem = Problem(boxes, (stock(10, 10, 0, 1), stock(10, 10, 7)), 0, 0)
    assert found_for(problem).cost.value == 14


def test_sheets_that_cost_nothing_are_counted():
    """Where all stock is on hand the fewest sheets are what is left to prove."""
    boxes = tuple(Box(w, h, 1, ((0,),) * 2) for w, h in [(6, 7), (6, 5), (5, 8), (5, 7), (5, 6)])
    problem = Problem(boxes, (stock(10, 10, 0, 3), stock(10, 10, 0, 4)), 0, 0)
    found = found_for(problem)
    assert (found.cost.value, found.sheets.value) == (0, 4)


def test_nothing_is_claimed_for_a_layout_that_lacks_parts():
    """Where parts have no place there is no layout to compare with, and the bounds stay."""
    problem = Problem((Box(9, 9, 2, ((0,),)),), (stock(10, 10, 1, 1),), 0, 0)
    bounds = bounds_of(problem)
    left = Greedy()(problem, seed=1, stop=Rounds(1))
    assert any(left.left_over)
    assert stronger(problem, bounds, left, form=plain()) == bounds


@pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")
def test_both_forms_prove_the_same():
    """With equal work plain and compiled come to the same bounds."""
    assert set(WORK) == {plain().name, compiled().name}
    sizes = [(3 + k * 7 % 6, 3 + k * 5 % 7) for k in range(14)]
    for turning in (False, True):
        problem = small_problem(sizes, [(12, 11, 1)], turning=turning)
        bounds, layout = bounds_of(problem), laid(problem)
        one, two = (stronger(problem, bounds, layout, form=f, work=4000) for f in (plain(), compiled()))
        assert one == two
