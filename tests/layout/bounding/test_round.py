"""Parts that may lie at any angle: bounds of more than their area that no layout of turned parts beats."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.shapes import disc, rectangle
from nestkit.layout.bounding.form import plain
from nestkit.layout.bounding.hulls import hull_of, least_side_of
from nestkit.layout.bounding.length import least_length
from nestkit.layout.bounding.round import most_discs
from nestkit.layout.bounding.stronger import stronger
from nestkit.layout.bounding.view import distance_along
from nestkit.layout.bounds import bounds_of, view_for
from nestkit.layout.build import problem_of
from nestkit.layout.problem import Problem
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.stop import Rounds
from nestkit.parts.holes import Opening
from tests.layout.made import MM, group, panel, sheet


def round_lid(name: str, diameter: float, quantity: int = 1):
    """Return a round panel."""
    return panel(
        name, diameter, diameter, outline=disc(diameter), shape="disc", turn="any", quantity=quantity
    )


def shaped(name: str, corners: list[tuple[float, float]], quantity: int = 1):
    """Return a panel of straight sides that may lie at any angle."""
    outline = Outline(tuple(Vertex(*c) for c in corners))
    width, height = outline.bounds.width, outline.bounds.height
    return panel(name, width, height, outline=outline, shape="points", turn="any", quantity=quantity)


def routed(panels: list, *sheets: tuple[float, float], gap: float = 0) -> Problem:
    """Return the problem of panels that are cut by any path."""
    stock = [sheet(f"{w} x {h}", w, h, price=Fraction(w) * Fraction(h)) for w, h in sheets]
    return problem_of(group(panels, stock, "router", kerf=gap, gap=gap)).problem


def least_sheets(problem: Problem) -> int:
    """Return what is said of the least number of sheets."""
    return int(bounds_of(problem).sheets.value)


def test_what_a_free_part_surely_fills():
    """By hand: at any angle a disc of 80 is 80 wide and holds an upright square of 80 / root 2.

    A bar of 100 x 20 is at least 20 wide, holds a disc of 20, and reaches root of 100^2 + 20^2 from corner to
    corner; a triangle of 300 x 300 with a right angle is as wide as its height over the long side.
    """
    lid = hull_of(round_lid("port", 80), 10)
    side = int((80 / math.sqrt(2)) * MM)
    assert abs(lid.cores[0][0] - side) <= 2
    assert lid.cores[0][0] == lid.cores[0][1]
    assert abs(lid.least - 80 * MM) <= 2
    bar = hull_of(shaped("bar", [(0, 0), (100, 0), (100, 20), (0, 20)]), 10)
    assert abs(bar.least - 20 * MM) <= 2
    assert abs(bar.longest - math.hypot(100, 20) * MM) <= 2
    assert abs(bar.cores[0][0] - 20 / math.sqrt(2) * MM) <= 0.01 * MM
    gusset = hull_of(shaped("gusset", [(0, 0), (300, 0), (0, 300)]), 10)
    assert abs(gusset.least - 300 / math.sqrt(2) * MM) <= 2
    inside = 300 * (1 - 1 / math.sqrt(2))
    assert inside * math.sqrt(2) * MM * 0.98 <= gusset.cores[0][0] <= inside * math.sqrt(2) * MM


def test_quarter_turns_are_not_any_angle():
    """A part that lies along the sheet's sides fills boxes as before, and no angle is thought of."""
    rounded = panel("lid", 100, 60, outline=rectangle(100, 60, radius=5))
    assert (hull_of(rounded, 10).least, hull_of(rounded, 10).longest) == (0, 0)
    assert len(hull_of(rounded, 10).cores) == 2


def test_an_opening_that_could_hold_a_part_leaves_a_free_part_its_widths():
    """A ring is filled nowhere for sure, yet it is as wide and as long as its outline."""
    ring = replace(round_lid("ring", 100), openings=(Opening("cutout", disc(60), "cutouts[0]"),))
    hull = hull_of(ring, 50)
    assert hull.cores == ()
    assert abs(hull.least - 100 * MM) <= 2


def test_a_slanting_part_is_as_narrow_as_it_can_be_turned():
    """By hand: a strip 10 wide from corner to corner of a square lies upright in an opening 20 wide."""
    a = 10 / math.sqrt(2)
    strip = shaped("strip", [(0, 0), (a, 0), (100, 100 - a), (100, 100), (100 - a, 100), (0, a)])
    assert least_side_of((strip,)) < 11
    assert least_side_of((panel("lid", 30, 20), strip)) < 11
    assert least_side_of((panel("lid", 30, 20),)) == 20


@pytest.mark.parametrize(
    ("diameter", "sheets"),
    [
        (610, 5),  # over 1000 / (1 + 1 / root 2) = 585.8: no two on one
        (590, 5),
        (580, 2),  # two lie corner to corner, three do not
    ],
)
def test_large_discs_need_sheets_that_their_area_does_not_tell(diameter, sheets):
    """By hand: of five discs on sheets of 1000 x 1000 as many as this, while their area is that of two."""
    problem = routed([round_lid("port", diameter, 5)], (1000, 1000))
    area = math.ceil(5 * math.pi * diameter**2 / 4 / 1e6)
    assert area == 2
    assert least_sheets(problem) >= sheets


def test_a_free_part_that_is_too_wide_or_too_long_fits_no_sheet():
    """Turned as it may be, a disc is as wide as it is, and a bar as long as the sheet's diagonal at most."""
    assert bounds_of(routed([round_lid("port", 501)], (500, 1000))).sheets is None
    assert bounds_of(routed([round_lid("port", 500)], (500, 1000))).sheets.value == 1
    bar = shaped("bar", [(0, 0), (1120, 0), (1120, 10), (0, 10)])
    assert bounds_of(routed([bar], (500, 1000))).sheets is None
    bar = shaped("bar", [(0, 0), (1100, 0), (1100, 10), (0, 10)])
    assert bounds_of(routed([bar], (500, 1000))).sheets.value == 1


def test_free_parts_that_fit_the_large_sheets_only_must_be_bought_for():
    """By hand: three discs wider than the small sheet is high take a large one each."""
    problem = routed([round_lid("port", 600, 3)], (1000, 500), (1000, 1000))
    assert bounds_of(problem).cost.value == 3 * 1000 * 1000


def test_the_reason_counts_discs():
    """The reason can be checked: each part covers a disc, and so many of them fit on a sheet at most."""
    problem = routed([round_lid("port", 300, 100)], (1000, 1000))
    found = bounds_of(problem).sheets
    assert found.value == 10  # 9.09 by count, 7.07 by area
    assert found.why == "each of 100 parts covers a disc of which at most 11 fit on one sheet"


def test_discs_of_several_sizes_count_from_the_largest():
    """Small discs beside large ones neither add to their number nor take from it."""
    large = routed([round_lid("port", 400, 40)], (1000, 1000))
    both = routed([round_lid("port", 400, 40), round_lid("plug", 30, 10)], (1000, 1000))
    assert least_sheets(both) >= least_sheets(large) > 40 * math.pi * 0.04


@pytest.mark.parametrize(
    ("width", "height", "diameter", "held"),
    [
        (10, 10, 10, 1),
        (9, 10, 10, 0),
        (20, 10, 10, 2),
        (35, 10, 10, 3),
        (20, 20, 10, 4),
        (30, 30, 10, 9),
        (100, 10, 10, 10),
        # Rows that lie in the gaps of the rows below, each root 3 / 2 of a diameter above the last.
        (105, 28, 10, 30),
        (100, 96, 10, 95),
    ],
)
def test_as_many_discs_as_really_fit_are_never_ruled_out(width, height, diameter, held):
    """In rows, squarely or staggered, so many lie on a sheet; the count says no less, and not much more."""
    found = most_discs((width, height), diameter, 0)
    assert held <= found <= 1.25 * held + 1


def test_the_count_of_discs_keeps_the_gap():
    """By hand: with 5 between them two of 10 lie on 25, and on 24 one does."""
    assert most_discs((25, 10), 10, 5) == 2
    assert most_discs((24, 10), 10, 5) == 1


@pytest.mark.parametrize("side", range(1, 9))
def test_the_count_of_discs_is_met_by_a_triangle_of_them_in_theory(side):
    """Oler's bound for any room is met by triangles: here only that a row never holds more than it does."""
    assert most_discs((10 * side, 10), 10, 0) == side


def placed_freely(kinds: list, room: tuple[float, float], gap: float, rng: random.Random, tries: int):
    """Lay copies of outlines at random places and angles; return how many of each have found one."""
    from shapely import affinity
    from shapely.geometry import Polygon, box

    sheet_area = box(0, 0, *room)
    shapes = [Polygon(outline.flattened(0.01)) for outline in kinds]
    laid, counts = [], [0] * len(kinds)
    for _ in range(tries):
        k = rng.randrange(len(kinds))
        turned = affinity.rotate(shapes[k], rng.choice([0, 45, 90, rng.uniform(0, 360)]), origin=(0, 0))
        left, bottom, right, top = turned.bounds
        if right - left > room[0] or top - bottom > room[1]:
            continue
        # Against a side or into a corner as often as anywhere, since there is most room beside.
        x = rng.choice([0, room[0] - (right - left), rng.uniform(0, room[0] - (right - left))])
        y = rng.choice([0, room[1] - (top - bottom), rng.uniform(0, room[1] - (top - bottom))])
        turned = affinity.translate(turned, x - left, y - bottom)
        if sheet_area.buffer(1e-6).covers(turned) and all(turned.distance(o) >= gap + 1e-6 for o in laid):
            laid.append(turned)
            counts[k] += 1
    return counts


OUTLINES = [
    [(0, 0), (60, 0), (60, 40), (0, 40)],
    [(0, 0), (90, 0), (90, 12), (0, 12)],
    [(0, 0), (70, 0), (0, 50)],
    [(20, 0), (50, 0), (70, 20), (70, 50), (50, 70), (20, 70), (0, 50), (0, 20)],
    [(0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)],
]


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 10**6),
    kinds=st.lists(st.sampled_from([*range(len(OUTLINES)), "35", "50", "80"]), min_size=1, max_size=3),
    room=st.sampled_from([(100.0, 100.0), (140.0, 90.0), (86.0, 170.0)]),
    gap=st.sampled_from([0.0, 3.0, 10.0]),
)
def test_no_layout_of_turned_parts_beats_the_bound(seed, kinds, room, gap):
    """Whatever lies on one sheet, at any angle, is never said to need two, nor a longer piece off a roll."""
    panels = [
        round_lid(f"p{i}", float(k)) if isinstance(k, str) else shaped(f"p{i}", OUTLINES[k])
        for i, k in enumerate(kinds)
    ]
    counts = placed_freely([p.outline for p in panels], room, gap, random.Random(seed), 40)
    used = [replace(p, quantity=n) for p, n in zip(panels, counts, strict=True) if n]
    if not used:
        return
    problem = routed(used, room, gap=gap)
    assert least_sheets(problem) == 1
    assert bounds_of(problem).cost.value == Fraction(room[0]) * Fraction(room[1])
    as_boxes = Greedy()(problem, seed=1, stop=Rounds(1))
    by_trial = stronger(problem, bounds_of(problem), as_boxes, form=plain(), work=2000)
    assert by_trial.sheets.value == 1
    (stock,) = problem.stocks
    # A roll as wide as the sheet: what lies on the sheet takes no more than its height.
    on_a_roll = replace(problem, stocks=(replace(stock, height=2 * stock.height, count=1, roll=False),))
    assert least_length(on_a_roll, 2 * stock.height).value <= stock.height


def test_discs_in_staggered_rows_are_never_said_to_need_two_sheets():
    """By hand: rows of ten and nine discs in turn, as dense as can be, on a sheet that just holds them."""
    for rows in range(1, 9):
        height = 10 * (1 + (rows - 1) * math.sqrt(3) / 2) + 1e-3
        number = sum(10 - i % 2 for i in range(rows))
        assert least_sheets(routed([round_lid("port", 10, number)], (100, round(height, 3)))) == 1


def test_two_discs_corner_to_corner_share_a_sheet():
    """By hand: on a square of 1707.2 two discs of 1000 lie corner to corner, with a gap of 10 on 1714.2."""
    for gap, side in ((0, 1707.2), (10, 1714.2)):
        assert least_sheets(routed([round_lid("port", 1000, 2)], (side, side), gap=gap)) == 1
        assert least_sheets(routed([round_lid("port", 1000, 2)], (side - 10, side - 10), gap=gap)) == 2


def test_rooms_shrink_only_where_all_parts_are_round():
    """The rim around a round part's core is of no use to others, but a solid part may lie in it."""
    discs = [round_lid("port", 100), round_lid("plug", 200)]
    view = view_for(routed(discs, (1000, 500)), boxes_only=False)
    rim = 100 * (1 - 1 / math.sqrt(2)) * MM
    assert abs(view.rooms[0][0] - (1000 * MM - rim)) <= 4
    mixed = view_for(routed([*discs, panel("lid", 30, 20)], (1000, 500)), boxes_only=False)
    assert mixed.rooms[0] == (1000 * MM, 500 * MM)


def test_solvers_are_still_bound_by_boxes():
    """What they lay are upright boxes a gap apart: their own bound may say more than that for all layouts."""
    problem = routed([round_lid("port", 510, 4)], (1000, 1000))
    assert bounds_of(problem, boxes_only=True).sheets.value == 4
    assert least_sheets(problem) < 4
    assert distance_along(problem) == 0
