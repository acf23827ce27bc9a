"""Bounds: never above what is really possible, and tight where the reason is plain."""

from __future__ import annotations

import math
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.shapes import disc, rectangle
from nestkit.layout.bounding.hulls import hull_of
from nestkit.layout.bounding.view import distance_along
from nestkit.layout.bounds import bounds_of
from nestkit.layout.build import problem_of
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.parts.holes import Opening
from tests.layout.made import MM, group, panel, sheet
from tests.layout.oracle import least_cost_free, least_cost_sawn, small_problem

STOCKS = [[(10, 10, 1)], [(12, 8, 3), (8, 8, 2)], [(10, 6, 5), (6, 6, 3), (5, 10, 5)]]


@st.composite
def problems(draw: st.DrawFn, most: int, edge_to_edge: bool) -> Problem:
    """Small problems that surely can be laid: every part fits the first stock."""
    stocks = draw(st.sampled_from(STOCKS))
    gap = draw(st.integers(0, 2))
    width, height, _ = stocks[0]
    size = st.tuples(st.integers(1, width), st.integers(1, height))
    return small_problem(
        draw(st.lists(size, min_size=1, max_size=most)),
        stocks,
        turning=draw(st.booleans()),
        gap=gap,
        edge_to_edge=edge_to_edge,
        stages=draw(st.sampled_from([0, 2, 3])) if edge_to_edge else 0,
    )


@settings(max_examples=25, deadline=None)
@given(problems(5, edge_to_edge=False))
def test_no_bound_beats_the_proved_optimum_of_free_layouts(problem):
    """The least cost that CP-SAT proves is never below ours, the stronger bound for boxes included."""
    optimum = least_cost_free(problem)
    assert bounds_of(problem).cost.value <= optimum
    assert bounds_of(problem, boxes_only=True).cost.value <= optimum


@settings(max_examples=60, deadline=None)
@given(problems(5, edge_to_edge=True))
def test_no_bound_beats_the_optimum_of_sawn_layouts(problem):
    """The least cost over all edge-to-edge layouts is never below ours."""
    assert bounds_of(problem, boxes_only=True).cost.value <= least_cost_sawn(problem)


def stock(width: int, height: int, cost: int = 1, count: int | None = None) -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost))


def problem(boxes: list[Box], stocks: list[Stock], gap: int = 0, **more: object) -> Problem:
    """Return a free problem."""
    return Problem(tuple(boxes), tuple(stocks), 0, gap, **more)


def test_area_is_the_plainest_reason():
    """Small parts that fill 2.5 sheets need three."""
    found = bounds_of(problem([Box(1, 1, 250, ((0,),))], [stock(10, 10)]))
    assert found.sheets.value == 3
    assert found.sheets.why == "all parts together fill 2.50 sheets"


def test_parts_that_cannot_share_a_sheet_are_counted():
    """Nine parts over half a sheet both ways need nine sheets."""
    found = bounds_of(problem([Box(6, 6, 9, ((0, 90),))], [stock(10, 10)]))
    assert found.sheets.value == 9
    assert "9 parts" in found.sheets.why


def test_parts_that_block_room_count_more_than_they_fill():
    """A 6 x 10 part on a 10 x 10 sheet leaves no room for parts 5 wide."""
    boxes = [Box(6, 10, 3, ((0,),)), Box(5, 5, 8, ((0,),))]
    found = bounds_of(problem(boxes, [stock(10, 10)]))
    assert found.sheets.value == 5
    assert found.sheets.why.startswith("large parts block more room")


def test_parts_that_turn_block_as_much_whichever_way_they_lie():
    """Beside a 6 x 6 part a 10 x 10 sheet holds two of 3 x 6: for five of them two sheets are too few.

    By hand: the part leaves a strip 4 wide and one 4 high, each for one; no two 6 x 6 share a sheet.
    """
    boxes = [Box(6, 6, 2, ((0, 90),)), Box(3, 6, 5, ((0, 90),))]
    found = bounds_of(problem(boxes, [stock(10, 10)]))
    assert found.sheets.value == 3
    assert found.sheets.why.startswith("large parts block more room")


def test_whole_sheets_of_several_prices_are_weighed():
    """Area for 1.2 large sheets costs a large and a small one, not 1.2 times the price."""
    boxes = [Box(1, 1, 120, ((0,),) * 2)]
    found = bounds_of(problem(boxes, [stock(10, 10, 10), stock(5, 5, 4)]))
    assert found.cost.value == 14
    assert found.sheets.value == 2


def test_what_is_on_hand_is_free_as_far_as_it_goes():
    """Two sheets on hand and one to buy: the bound is the price of one."""
    boxes = [Box(10, 9, 3, ((0,),) * 2)]
    found = bounds_of(problem(boxes, [stock(10, 10, 0, 2), stock(10, 10, 7)]))
    assert (found.cost.value, found.sheets.value) == (7, 3)


def test_stock_that_cannot_hold_all_parts_has_no_bound():
    """Where the sheets do not suffice there is no layout of all parts to speak of."""
    boxes = [Box(10, 9, 3, ((0,),))]
    found = bounds_of(problem(boxes, [stock(10, 10, 0, 2)]))
    assert (found.cost, found.sheets) == (None, None)
    assert bounds_of(problem([Box(11, 2, 1, ((0,),))], [stock(10, 10)])).cost is None


def test_parts_may_pass_each_other_at_a_corner():
    """Boxes at a slant keep the gap although they are nearer along x and along y: the bound knows it."""
    gap = 10
    assert distance_along(problem([], [], gap)) == 7
    # 8 right and 8 up of each other is a distance of 11.3: two such parts share one sheet.
    made = problem([Box(20, 20, 2, ((0,),))], [stock(48, 48)], gap)
    assert bounds_of(made).sheets.value == 1
    assert bounds_of(made, boxes_only=True).sheets.value == 2
    assert math.dist((20, 20), (28, 28)) >= gap


def triangle(name: str, **more: object):
    """Return a panel that fills half of its box."""
    outline = Outline((Vertex(0, 0), Vertex(300, 0), Vertex(0, 300)))
    return panel(name, 300, 300, outline=outline, shape="points", **more)


def test_bounds_hold_for_true_outlines():
    """Two triangles may share one square: boxes would need two sheets, the bound says one."""
    sheets = [sheet("square", 310, 310, price=5)]
    free = problem_of(group([triangle("gusset", quantity=2)], sheets, "router", 3)).problem
    assert bounds_of(free).sheets.value == 1
    assert bounds_of(free, boxes_only=True).sheets.value == 2
    sawn = problem_of(group([triangle("gusset", quantity=2)], sheets, "saw", 3)).problem
    assert bounds_of(sawn).sheets.value == 2


def test_a_hull_is_what_a_part_surely_fills():
    """A full rectangle has none; rounded corners leave two cores; a disc of any turn an upright square."""
    assert hull_of(panel("lid", 100, 60), 10) is None
    rounded = panel("lid", 100, 60, outline=rectangle(100, 60, radius=5))
    cores = hull_of(rounded, 10).cores
    assert [(round(w / MM, 3), round(h / MM, 3)) for w, h in cores] == [(100, 50), (90, 60)]
    round_lid = panel("port", 80, 80, outline=disc(80), shape="disc", turn="any")
    hull = hull_of(round_lid, 10)
    assert [round(side / MM, 3) for side in hull.cores[0]] == [56.569, 56.569]
    assert abs(hull.area / MM**2 - math.pi * 1600) < 0.01


def test_an_opening_that_could_hold_a_part_is_not_counted_as_filled():
    """A frame with a wide opening counts only its rim, with a narrow one all of it."""
    opening = Opening("cutout", rectangle(60, 40), "cutouts[0]")
    frame = panel("frame", 100, 60, openings=(opening,))
    assert hull_of(frame, 50) is None
    hull = hull_of(frame, 40)
    assert abs(hull.area / MM**2 - 3600) < 0.01
    assert hull.cores == ()


def test_a_cheap_set_of_sheets_may_be_more_of_them():
    """Four small sheets for 2 each are cheaper than a large one for 9, which alone would hold all parts."""
    made = problem([Box(5, 5, 4, ((0,),) * 2)], [stock(10, 10, 9), stock(5, 5, 2)])
    found = bounds_of(made)
    assert (found.cost.value, found.sheets.value, found.fewest) == (8, 1, 4)
    assert found.reached_by(Fraction(8), 4)
    assert not found.reached_by(Fraction(8), 5)
    assert not found.reached_by(Fraction(9), 1)


def test_bounds_of_one_size_are_reached_by_their_number_of_sheets():
    """With one price the fewest sheets at the least cost are the fewest sheets."""
    found = bounds_of(problem([Box(6, 6, 9, ((0, 90),))], [stock(10, 10, 5)]))
    assert (found.cost.value, found.fewest) == (45, 9)
    assert found.reached_by(Fraction(45), 9)
