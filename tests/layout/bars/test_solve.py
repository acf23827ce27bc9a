"""Cut lists keep every rule, are the cheapest there are, and are the same every time."""

from __future__ import annotations

import pickle
from fractions import Fraction

import pytest
from hypothesis import given, settings

from nestkit.errors import ToolFault
from nestkit.layout.bars.check import check_cut_list
from nestkit.layout.bars.problem import CutList, LengthProblem, Load
from nestkit.layout.bars.search import BY_TRYING
from nestkit.layout.bars.solve import solve_lengths
from tests.layout.bars.lengths import least_cost, most_placed, posed, problems


def counted(problem: LengthProblem, found: CutList) -> None:
    """Assert, apart from the package's own check, that nothing is overrun, lost or made twice."""
    cut = {p.length: 0 for p in problem.pieces}
    for load in found.loads:
        stick = problem.sticks[load.stick]
        lengths = [problem.pieces[p].length for p, n in load.pieces for _ in range(n)]
        at = stick.trim
        for i, length in enumerate(lengths):
            at += (problem.kerf if i else 0) + length
            cut[length] += 1
        assert lengths
        assert at <= stick.length - stick.trim
    for i, stick in enumerate(problem.sticks):
        assert stick.count is None or sum(load.stick == i for load in found.loads) <= stick.count
    for piece, left in zip(problem.pieces, found.left_over, strict=True):
        assert left >= 0
        assert cut[piece.length] + left == piece.quantity


@settings(max_examples=150, deadline=None)
@given(problems(most=30))
def test_nothing_is_lost_and_no_stick_is_overrun(problem):
    """With kerf, trims, several stock lengths and limited sticks every rule and bound holds."""
    solved = solve_lengths(problem, seed=1, rounds=1)
    counted(problem, solved.found)
    if not any(solved.found.left_over):
        assert solved.least_cost <= solved.found.cost(problem)


@settings(max_examples=60, deadline=None)
@given(problems())
def test_small_problems_are_solved_to_the_optimum(problem):
    """CP-SAT, which fills stick by stick, finds nothing cheaper, nothing below the bound; all is proved."""
    solved, optimum = solve_lengths(problem, seed=1, rounds=2), least_cost(problem)
    if optimum is None:
        assert any(solved.found.left_over)
    else:
        assert not any(solved.found.left_over)
        assert solved.least_cost <= optimum
        assert solved.found.cost(problem) == optimum
        assert solved.proved(problem)


@settings(max_examples=40, deadline=None)
@given(problems())
def test_as_many_parts_as_can_be_are_placed(problem):
    """Where sticks are few, CP-SAT places no part more."""
    solved = solve_lengths(problem, seed=1, rounds=2)
    placed = sum(p.quantity for p in problem.pieces) - sum(solved.found.left_over)
    assert placed == most_placed(problem)


def test_the_same_seed_gives_the_same_bytes():
    """Nothing but the problem, the seed and the rounds decides."""
    problem = posed([(371, 9), (299, 7), (213, 14), (167, 11), (89, 20)], [(1000, None, 1, 0)], 3)
    one, two = (solve_lengths(problem, seed=7, rounds=1) for _ in range(2))
    assert pickle.dumps(one) == pickle.dumps(two)


def test_a_stick_for_nothing_that_gives_nothing_wanted_ends_no_search():
    """A dive in which sticks on hand are taken for parts that are cut already goes on with the others."""
    pieces = [(23652064, 2), (17686207, 5), (15412800, 7), (7868889, 5), (3330000, 2)]
    sticks = [
        (20979661, 3, 0, 0),
        (20979661, None, Fraction(6189, 11800), 0),
        (5417560, None, Fraction(5553, 41000), 127000),
        (4273333, 2, 0, 200000),
    ]
    problem = posed(pieces, sticks, 40000)
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert solved.found.left_over == (2, 0, 0, 0, 0)
    assert solved.found.cost(problem) == solved.least_cost


def test_thirteen_widths_of_paper_take_73_rolls():
    """A paper machine's rolls of 5600 mm, 219 reels of 13 widths: 73 rolls are needed, and do.

    The worked example of the article "Cutting stock problem", Wikipedia; from memory.
    """
    widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200]
    numbers = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20]
    problem = posed(list(zip(widths, numbers, strict=True)), [(5600, None, 1, 0)])
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert sum(numbers) == 219
    assert len(solved.found.loads) == 73
    assert solved.proved(problem)


def test_lengths_that_fill_sticks_to_the_end_are_proved():
    """Six of 30 and nine of 20 fill four sticks of 100 but for 40."""
    problem = posed([(30, 6), (20, 9)], [(100, None, 1, 0)], 0)
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert len(solved.found.loads) == 4
    assert solved.proved(problem)


def test_the_last_cut_needs_no_kerf_of_its_own():
    """Two halves and one kerf fill a stick to its end, between trims."""
    problem = posed([(48, 2)], [(103, None, 5, 2)], 3)
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert [load.pieces for load in solved.found.loads] == [((0, 2),)]
    assert solved.proved(problem)


def test_what_is_here_is_used_before_anything_is_bought():
    """A stick that costs nothing gives what it can."""
    problem = posed([(40, 3)], [(130, None, 9, 0), (90, 1, 0, 0)], 2)
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert sorted(load.stick for load in solved.found.loads) == [0, 1] or solved.found.cost(problem) == 9
    assert solved.found.cost(problem) == 9


def test_the_cheapest_mix_of_lengths_is_taken():
    """Two short sticks for 12 beat one long one for 13."""
    problem = posed([(45, 4)], [(200, None, 13, 0), (100, None, 6, 0)])
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert [load.stick for load in solved.found.loads] == [1, 1]
    assert solved.least_cost == 12


def test_what_fits_no_stick_is_left_over():
    """A part longer than every stick is told, the others are cut."""
    problem = posed([(120, 2), (40, 2)], [(100, None, 5, 0)])
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert solved.found.left_over == (2, 0)
    assert len(solved.found.loads) == 1
    assert not solved.proved(problem)


def test_without_prices_sticks_count():
    """Where nothing costs anything the fewest sticks are taken, and the least cost is nothing."""
    problem = posed([(60, 3), (40, 3)], [(100, None, 0, 0)])
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert len(solved.found.loads) == 3
    assert solved.least_cost == 0


def test_a_user_who_ends_it_gets_the_best_so_far():
    """The first list there is comes back, whole, and it is told that the search was ended."""
    problem = posed([(371, 9), (299, 7), (213, 14), (167, 11), (344, 20)], [(1000, None, 1, 0)], 3)
    solved = solve_lengths(problem, seed=1, rounds=5, stop=lambda: True)
    counted(problem, solved.found)
    assert solved.stopped or solved.proved(problem)


@pytest.mark.parametrize(
    ("loads", "left", "what"),
    [
        ([((0, 3),)], (0,), "overrun"),
        ([((0, 2),)], (0,), "wanted"),
        ([((0, 1),)] * 3, (0,), "there are 2"),
        ([()], (3,), "nothing"),
        ([((0, 0),)], (3,), "gives 0"),
    ],
)
def test_the_check_finds_what_is_wrong(loads, left, what):
    """An overrun stick, a lost piece, a stick too many, and a stick for nothing are faults of the tool."""
    problem = posed([(40, 3)], [(100, 2, 1, 0)], 2)
    with pytest.raises(ToolFault, match=what):
        check_cut_list(problem, CutList(tuple(Load(0, pieces) for pieces in loads), left))


def test_the_value_of_a_cut_list_is_its_sticks_prices():
    """Cost is the sum over sticks, alike ones too."""
    problem = posed([(40, 3)], [(100, None, "7/2", 0)], 2)
    assert solve_lengths(problem, seed=1, rounds=1).found.cost(problem) == Fraction(7)


def test_what_fractions_of_sticks_leave_open_is_proved_by_trying():
    """Where whole sticks must cost more than the best mix in fractions, that no list is cheaper is proved."""
    problem = posed([(38, 6), (9, 4)], [(64, 2, 1, 4), (96, None, 7, 4), (68, None, 7, 0)], 2)
    solved = solve_lengths(problem, seed=1, rounds=1)
    assert solved.found.cost(problem) == solved.least_cost == least_cost(problem)
    assert solved.why == BY_TRYING
