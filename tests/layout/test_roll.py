"""Goods off a roll: lengths by hand and by other programs, prices, borders, extras, what has no place."""

from __future__ import annotations

import pickle
import random
from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.layout import roll as module
from nestkit.layout.efforts import Effort
from nestkit.layout.events import Progress
from nestkit.layout.problem import Box, Problem
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.roll import ONE_PIECE
from nestkit.layout.solve import solve
from nestkit.layout.solved import Solved
from nestkit.units import grid_mm
from tests.layout.roll_problems import (
    check_roll,
    cut_up,
    least_length_free,
    least_length_sawn,
    off_rolls,
    roll,
)

SAWN = {"edge_to_edge": True}
SHORT = Effort(3, 3, 2, deep=3)
"""Rounds enough for a handful of parts."""
BRIEF = Effort(3, 3, 2)
"""A few rounds in plain Python."""


def solved(problem: Problem, effort: Effort = SHORT, **more: object) -> Solved:
    """Return a problem solved; its layout is sound, and no bound is above it."""
    found = solve(problem, seed=1, effort=effort, **more)
    check_roll(problem, found.layout)
    if any(found.layout.left_over):
        assert found.bounds.cost is None
    else:
        assert found.bounds.cost.value <= found.layout.cost(problem)
        assert (found.bounds.sheets.value, found.bounds.sheets.why) == (1, ONE_PIECE)
    return found


def length(problem: Problem) -> int:
    """Return the length that all parts take."""
    found = solved(problem)
    assert not any(found.layout.left_over)
    return problem.length_used(found.layout.sheets[0])


@pytest.mark.parametrize("way", [{}, SAWN, {"turning": True}, {"turning": True, **SAWN}])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_piece_cut_up_without_waste_is_found_again(way, seed):
    """Ten parts of 30 x 40: so long again, and no shorter, which the area proves."""
    sizes = cut_up(30, 40, 10, random.Random(seed))
    found = solved(problem := off_rolls(sizes, roll(30), **way), Effort(3, 3, 2, deep=12))
    assert found.layout.cost(problem) == found.bounds.cost.value == 40


@pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")
def test_a_larger_piece_cut_up_without_waste_is_found_nearly():
    """Twenty parts of 100 x 150 fill it to within a tenth after a short compiled search; the bound is 150."""
    sizes = cut_up(100, 150, 20, random.Random(4))
    found = solved(problem := off_rolls(sizes, roll(100)))
    assert found.bounds.cost.value == 150
    assert found.layout.cost(problem) <= 165
    assert found.engine == "compiled"


WHEEL = [(3, 2), (2, 3), (3, 2), (2, 3), (1, 1)]


def test_a_wheel_is_laid_where_any_path_can_be_cut():
    """By hand: four 3 x 2 around 1 x 1 fill 5 x 5; no straight cut parts them, so a saw needs 6."""
    assert length(off_rolls(WHEEL, roll(5))) == 5
    assert length(sawn := off_rolls(WHEEL, roll(5), **SAWN)) == least_length_sawn(sawn) == 6


def test_a_part_is_turned_where_that_is_shorter():
    """By hand: three 10 x 3 lie side by side on 9 only turned, 10 long; on 10 they are stacked, 9 long."""
    sizes = [(10, 3, 3)]
    assert length(off_rolls(sizes, roll(9), turning=True)) == 10
    assert length(off_rolls(sizes, roll(10), turning=True)) == 9
    assert length(off_rolls(sizes, roll(30))) == 3


@pytest.mark.parametrize("way", [{}, SAWN])
def test_a_piece_is_as_long_as_its_highest_part_and_the_border(way):
    """By hand: two rows of 20 with 3 between them, on 7 and under 5."""
    border = {"left": 4, "right": 6, "bottom": 7, "top": 5}
    wide = roll(4 + 30 + 3 + 30 + 6, **border)
    problem = off_rolls([(30, 20, 4)], wide, gap=3, **way)
    found = solved(problem)
    (piece,) = found.layout.sheets
    assert min(p.x for p in piece.placed) == 4
    assert min(p.y for p in piece.placed) == 7
    assert problem.length_used(piece) == 7 + 20 + 3 + 20 + 5
    # Without a saw parts might pass each other at corners: the bound is for 2 between them along x or y.
    assert found.bounds.cost.value == (55 if way else 54)
    narrow = off_rolls([(30, 20, 4)], replace(wide, width=wide.width - 1), gap=3, **way)
    assert length(narrow) == 7 + 4 * 20 + 3 * 3 + 5


@pytest.mark.parametrize("way", [{}, SAWN])
@pytest.mark.parametrize(("narrow", "wide", "taken"), [(3, 5, 1), (3, 7, 0), (2, 5, 0), (4, 7, 1)])
def test_of_two_widths_the_cheaper_piece_is_taken(way, narrow, wide, taken):
    """By hand: four 10 x 8 take 32 of a roll of 11, and 16 of one of 20."""
    problem = off_rolls([(10, 8, 4)], roll(11, narrow), roll(20, wide), **way)
    found = solved(problem)
    assert found.layout.sheets[0].stock == taken
    assert found.layout.cost(problem) == found.bounds.cost.value == (32 * narrow, 16 * wide)[taken]


@pytest.mark.parametrize("way", [{}, SAWN])
def test_of_pieces_that_cost_the_same_the_first_is_taken(way):
    """By hand: 32 off the narrow roll at 2 and 16 off the wide one at 4 are both 64."""
    for rolls in ([roll(11, 2), roll(20, 4)], [roll(20, 4), roll(11, 2)]):
        problem = off_rolls([(10, 8, 4)], *rolls, **way)
        found = solved(problem)
        assert (found.layout.sheets[0].stock, found.layout.cost(problem)) == (0, 64)


def test_a_part_that_fits_the_wide_roll_only_decides():
    """By hand: 15 x 5 does not come off 11, however cheap, so that all come off 20: 5 + 8 + 8."""
    problem = off_rolls([(10, 8, 4), (15, 5)], roll(11, 1), roll(20, 100))
    found = solved(problem)
    assert found.layout.sheets[0].stock == 1
    assert found.layout.cost(problem) == found.bounds.cost.value == 21 * 100


@pytest.mark.parametrize("way", [{}, SAWN])
def test_a_part_wider_than_every_roll_is_left_over(way):
    """The others are laid as short as without it, and nothing is claimed."""
    sizes = [(10, 8, 4), (21, 5, 2)]
    for rolls in ([roll(20)], [roll(11, 1), roll(20, 1)]):
        found = solved(problem := off_rolls(sizes, *rolls, **way))
        assert found.layout.left_over == (0, 2)
        assert found.layout.cost(problem) == 16
        assert found.bounds == type(found.bounds)(None, None)


@pytest.mark.parametrize("way", [{}, SAWN])
def test_a_part_longer_than_the_roll_is_left_over(way):
    """By hand: of a roll of 30 neither 5 x 31 nor what has no room any more is cut."""
    found = solved(problem := off_rolls([(5, 31), (10, 8, 2)], roll(20, length=30), **way))
    assert found.layout.left_over == (1, 0)
    assert problem.length_used(found.layout.sheets[0]) == 8
    found = solved(problem := off_rolls([(20, 8, 5)], roll(20, length=30), **way))
    assert found.layout.left_over == (2,)
    assert problem.length_used(found.layout.sheets[0]) == 24


def test_where_nothing_fits_there_is_no_piece():
    """All parts are left over, and nothing is claimed."""
    found = solved(off_rolls([(30, 5, 3)], roll(20), roll(25)))
    assert (found.layout.sheets, found.layout.left_over) == ((), (3,))
    assert (found.bounds.sheets, found.bounds.cost) == (None, None)


def test_where_nothing_is_needed_nothing_is_bought():
    """Spares for which there might be room do not make a piece."""
    problem = replace(off_rolls([(5, 5)], roll(20)), boxes=(Box(5, 5, 0, ((0,),)),), extra=(3,))
    found = solve(problem, seed=1, effort=SHORT)
    assert found.layout.sheets == ()


@pytest.mark.parametrize("way", [{}, SAWN, {"turning": True}])
@pytest.mark.parametrize("effort", [BRIEF, SHORT])
def test_extras_never_lengthen_a_piece(way, effort):
    """By hand: beside 12 x 10 on 20 there is room for one 8 x 10, or four 4 x 5, and none above."""
    for size, copies in (((8, 10), 1), ((4, 5), 4)):
        problem = replace(off_rolls([(12, 10), size], roll(20), **way))
        needed = replace(problem.boxes[1], quantity=0)
        problem = replace(problem, boxes=(problem.boxes[0], needed), extra=(0, 9))
        found = solved(problem, effort)
        (piece,) = found.layout.sheets
        assert problem.length_used(piece) == 10
        assert sum(p.box == 1 for p in piece.placed) == copies


def sixty(**way: object) -> Problem:
    """Return a problem of sixty different parts."""
    rng = random.Random(8)
    sizes = [(rng.randint(5, 60), rng.randint(5, 50)) for _ in range(60)]
    return off_rolls(sizes, roll(100, 3), roll(70, 2), gap=2, turning=True, **way)


@pytest.mark.parametrize("way", [{}, SAWN])
def test_who_stops_at_once_still_gets_a_layout(way):
    """All parts lie there; that the user stopped is said; the user is asked."""
    asked = []
    found = solved(problem := sixty(**way), stop=lambda: asked.append(1) or True)
    assert found.stopped
    assert asked
    assert not any(found.layout.left_over)
    assert found.layout.cost(problem) < 1.5 * float(found.bounds.cost.value)


def test_a_stop_on_the_way_is_kept():
    """From the round in which the user says stop nothing more is tried, and it is not asked away again."""
    asked = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) == 3

    found = solved(sixty(), stop=stop)
    assert found.stopped
    assert len(asked) == 3


@pytest.mark.parametrize("way", [{}, SAWN, {"stages": 2, "first": "x", **SAWN}])
def test_the_same_seed_gives_the_same_bytes(way):
    """Two runs agree to the byte."""
    problem = sixty(**way)
    one, two = (solved(problem, BRIEF) for _ in range(2))
    assert pickle.dumps(one) == pickle.dumps(two)


def test_every_round_is_told():
    """Each event is of this group, has the cost so far, which never rises, and the bounds."""
    told: list[Progress] = []
    found = solved(problem := sixty(), BRIEF, on_event=told.append, group=3)
    costs = [event.cost for event in told]
    assert costs == sorted(costs, reverse=True)
    assert costs[-1] >= found.layout.cost(problem) >= told[0].least_cost > 0
    assert all(event.group == 3 and event.roll and event.left_over == 0 for event in told)
    assert all(event.length >= event.least_length > 0 for event in told)
    assert told[-1].length >= grid_mm(problem.length_used(found.layout.sheets[0]))


@pytest.mark.parametrize("rolls", [[roll(100, 3), roll(130, 4)], [roll(130, 4), roll(100, 3)]])
def test_of_several_rolls_the_best_piece_is_told(rolls):
    """Whichever roll is searched, the event is of the cheapest piece so far, and its cost never rises."""
    told: list[Progress] = []
    sizes = cut_up(100, 150, 20, random.Random(4))
    found = solved(problem := off_rolls(sizes, *rolls), SHORT, on_event=told.append)
    costs = [event.cost for event in told]
    assert costs == sorted(costs, reverse=True)
    assert costs[0] == min(costs) or costs[-1] >= found.layout.cost(problem)
    assert all(event.by_cost for event in told)


def test_more_effort_is_never_longer():
    """The search goes on from what the smaller effort found."""
    for way in ({}, SAWN):
        problem = sixty(**way)
        quick, normal = (
            solved(problem, effort).layout.cost(problem) for effort in (BRIEF, Effort(3, 3, 2, deep=2))
        )
        assert normal <= quick


@pytest.mark.parametrize("way", [{}, SAWN, {"stages": 3, **SAWN}])
def test_many_parts_are_laid(way):
    """Of 450 parts all lie there after a quick run, within a tenth of the bound."""
    rng = random.Random(2)
    sizes = [(rng.randint(20, 300), rng.randint(20, 200), 5) for _ in range(90)]
    found = solved(problem := off_rolls(sizes, roll(600, length=10**6), gap=3, turning=True, **way), BRIEF)
    assert not any(found.layout.left_over)
    assert found.layout.cost(problem) <= Fraction(11, 10) * found.bounds.cost.value


LONGER = {(0, "x"): 1, (2, "y"): 2, 7: 1}
"""Of the samples below, those in which the search stays above the least; in all others it reaches it.

Parts that turn are laid as they fit best, and an order of parts cannot say otherwise.
"""
WAYS = [(stages, first) for stages in (0, 3, 2, 1) for first in ("any", "x", "y")]


def random_roll(rng: random.Random, parts: int, **way: object) -> Problem:
    """Return a small random job; each part fits the roll as it is drawn."""
    width = rng.randint(8, 12)
    sizes = [(rng.randint(1, width - 1), rng.randint(1, 9)) for _ in range(parts)]
    return off_rolls(sizes, roll(width), turning=rng.random() < 0.5, gap=rng.randint(0, 1), **way)


@pytest.mark.parametrize("parts", [3, 4, 5, 6, 7])
def test_pieces_are_as_short_as_can_be_where_any_path_can_be_cut(parts):
    """Between our bound and our length lies the least that CP-SAT proves, which we nearly always reach."""
    rng = random.Random(parts)
    longer = 0
    for _ in range(4):
        problem = random_roll(rng, parts)
        least = least_length_free(problem)
        found = solved(problem)
        assert found.bounds.cost.value <= least <= found.layout.cost(problem)
        longer += found.layout.cost(problem) > least
    assert longer <= LONGER.get(parts, 0)


@pytest.mark.parametrize(("stages", "first"), WAYS)
def test_pieces_are_as_short_as_can_be_under_a_saw(stages, first):
    """Between our bound and our length lies the least of all cuts, which we nearly always reach.

    Parts are left over only where no cuts part all of them.
    """
    rng = random.Random(10 * stages + len(first) + 1)
    longer = 0
    for parts in (3, 4, 5):
        problem = random_roll(rng, parts, edge_to_edge=True, stages=stages, first=first)
        least = least_length_sawn(problem)
        found = solved(problem)
        assert any(found.layout.left_over) == (least is None), problem
        if least is not None:
            assert found.bounds.cost.value <= least <= found.layout.cost(problem)
            longer += found.layout.cost(problem) > least
    assert longer <= LONGER.get((stages, first), 0)


def test_no_bound_is_above_a_piece_that_a_quick_layout_missed(monkeypatch):
    """By hand: 30 of the cheap roll hold all parts; that a quick layout did not see it is no proof.

    The roll is only 30 long, so that a layout which wastes anything leaves parts over.
    """
    sizes = cut_up(10, 30, 9, random.Random(3))
    problem = off_rolls(sizes, roll(10, 1, length=30), roll(30, 10))
    cheap = off_rolls(sizes, problem.stocks[0])
    quick = module.first_laid
    monkeypatch.setattr(
        module, "first_laid", lambda space: quick(space)[: -1 if space.extent[0][0] == 10 else None]
    )
    assert any(solve(cheap, seed=1, effort=SHORT).layout.left_over)
    found = solved(problem, SHORT)
    assert found.layout.sheets[0].stock == 1
    assert found.bounds.cost.value <= 30


@pytest.mark.parametrize("stages", [0, 3, 2])
def test_where_the_first_cut_runs_along_the_roll_all_parts_are_laid(stages):
    """By hand: 6 x 7 and 5 x 9 one above the other leave 4 for 4 x 2, and nothing else can be cut so."""
    for copies in (1, 6):
        problem = off_rolls(
            [(6, 7, copies), (5, 9, copies), (4, 2)], roll(10), edge_to_edge=True, stages=stages, first="y"
        )
        assert length(problem) == copies * 16


def test_one_direction_of_cuts_is_a_row_or_a_stack():
    """By hand: along y parts lie side by side if they can, along x one above the other; any is shorter."""
    sizes = [(4, 9), (3, 8), (3, 7)]
    for first, least in (("any", 9), ("y", 9), ("x", 24)):
        assert length(off_rolls(sizes, roll(10), edge_to_edge=True, stages=1, first=first)) == least
    found = solved(off_rolls(sizes, roll(9), edge_to_edge=True, stages=1, first="any"))
    assert found.layout.left_over == (0, 0, 0)
