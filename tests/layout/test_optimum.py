"""The whole run against proved optima: CP-SAT for free layouts, every cut tried for layouts under a saw."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from nestkit.layout.bounds import bounds_of
from nestkit.layout.efforts import EFFORTS
from nestkit.layout.problem import Problem
from nestkit.layout.solve import solve
from tests.layout.checked import check_layout
from tests.layout.oracle import least_cost_free, least_cost_sawn, small_problem
from tests.layout.reference import Reference

STOCKS = [[(10, 10, 1)], [(12, 8, 3), (8, 8, 2)], [(10, 6, 5), (6, 6, 3), (5, 10, 5)]]
WAYS = [(stages, first) for stages in (0, 3, 2) for first in ("any", "x", "y")]


def sawn(rng: random.Random, parts: int, stages: int, first: str) -> Problem:
    """Return a problem of single parts for the saw; each fits the first stock as it is drawn."""
    stocks = rng.choice(STOCKS)
    width, height, _ = stocks[0]
    return small_problem(
        [(rng.randint(2, width - 2), rng.randint(1, height - 2)) for _ in range(parts)],
        stocks,
        turning=rng.random() < 0.5,
        gap=rng.randint(0, 1),
        edge_to_edge=True,
        stages=stages,
        first=first,
    )


@pytest.mark.parametrize(("stages", "first"), WAYS)
def test_layouts_under_a_saw_cost_the_least_that_any_cuts_allow(stages, first):
    """With any, three or two stages and every first direction: as cheap as trying all cuts, never cheaper."""
    rng = random.Random(10 * stages + len(first))
    for parts in (4, 5, 6, 7):
        problem = sawn(rng, parts, stages, first)
        least = Reference(problem).least_cost()
        solved = solve(problem, seed=1, effort=EFFORTS["normal"])
        check_layout(problem, solved.layout)
        assert solved.bounds.cost.value <= least
        assert solved.layout.cost(problem) == least, problem


def test_two_references_agree():
    """Cutting the sheet down and joining the parts up come to the same least cost."""
    rng = random.Random(6)
    for stages, first in WAYS * 3:
        problem = sawn(rng, rng.randint(3, 5), stages, first)
        assert Reference(problem).least_cost() == least_cost_sawn(problem)


def test_the_reference_knows_the_wheel_that_no_saw_can_cut():
    """Four 3 x 2 around 1 x 1 fill 5 x 5, but no straight cut starts: under a saw they take two sheets."""
    sizes = [(3, 2), (2, 3), (3, 2), (2, 3), (1, 1)]
    wheel = small_problem(sizes, [(5, 5, 1)], turning=False, edge_to_edge=True)
    assert least_cost_free(small_problem(sizes, [(5, 5, 1)], turning=False)) == 1
    assert Reference(wheel).least_cost() == 2


def test_the_reference_counts_stages():
    """By hand: two rows of which one has two heights need a third direction of cuts."""
    sizes = [(4, 4), (4, 4), (8, 2), (4, 2), (4, 2)]
    for stages, least in ((1, 2), (2, 1), (3, 1)):
        made = small_problem(sizes, [(8, 8, 1)], turning=False, edge_to_edge=True, stages=stages, first="x")
        assert Reference(made).least_cost() == least
    sizes = [(4, 4), (4, 2), (4, 2), (8, 4)]
    for stages, least in ((2, 2), (3, 1)):
        made = small_problem(sizes, [(8, 8, 1)], turning=False, edge_to_edge=True, stages=stages, first="x")
        assert Reference(made).least_cost() == least


def free(rng: random.Random, parts: int) -> Problem:
    """Return a problem of single parts for any path of cuts, two or three sheets' worth."""
    stocks = rng.choice(STOCKS[:2])
    width, height, _ = stocks[0]
    return small_problem(
        [(rng.randint(2, width // 2 + 2), rng.randint(2, height // 2 + 2)) for _ in range(parts)],
        stocks,
        turning=rng.random() < 0.5,
        gap=rng.randint(0, 1),
    )


@pytest.mark.parametrize("parts", [7, 8, 9, 10])
def test_free_layouts_of_up_to_ten_parts_cost_the_least_that_is_possible(parts):
    """CP-SAT proves that nothing is cheaper, and no bound is above what it proves."""
    rng = random.Random(parts)
    for _ in range(4):
        problem = free(rng, parts)
        least = least_cost_free(problem)
        assert bounds_of(problem).cost.value <= least
        solved = solve(problem, seed=1, effort=EFFORTS["normal"])
        check_layout(problem, solved.layout)
        assert solved.bounds.cost.value <= least
        assert solved.layout.cost(problem) == Fraction(least), problem
