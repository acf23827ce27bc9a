"""Every solver over every problem it supports: sound, never worse than its start, the same again."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.bounds import bounds_of
from nestkit.layout.efforts import EFFORTS
from nestkit.layout.problem import Box, Layout, Problem, Stock
from nestkit.layout.rects.space import score_of
from nestkit.layout.solve import solve
from nestkit.layout.solvers import SOLVERS
from nestkit.layout.stop import Rounds
from tests.layout.checked import check_layout
from tests.layout.oracle import least_cost_free, least_cost_sawn, small_problem

ALL = {turn.solver.name: turn.solver for turn in SOLVERS}


def made(
    kinds: int,
    copies: int,
    stocks: list[tuple[int, int, int | None, int]],
    *,
    turns: tuple[int, ...] = (0, 90),
    gap: int = 0,
    border: int = 0,
    **more: object,
) -> Problem:
    """Return a problem of seeded boxes; a stock is width, height, count and cost."""
    rng = random.Random(kinds * 100 + copies)
    boxes = tuple(
        Box(rng.randint(3, 40), rng.randint(3, 30), copies, (turns,) * len(stocks)) for _ in range(kinds)
    )
    sheets = tuple(Stock(w, h, *(border,) * 4, count, Fraction(cost)) for w, h, count, cost in stocks)
    return Problem(boxes, sheets, gap if more.get("edge_to_edge") else 0, gap, **more)


ONE = [(100, 60, None, 7)]
MIXED = [(60, 50, 2, 0), (100, 60, None, 7), (50, 60, None, 4)]
SHORT = [(60, 50, 1, 0), (45, 45, 2, 0)]
SAMPLES = {
    "free": made(12, 2, ONE),
    "free, fixed": made(12, 2, ONE, turns=(0,)),
    "free, gap and border": made(10, 2, ONE, gap=3, border=4),
    "several sheets": made(12, 2, MIXED, gap=1),
    "short stock": made(8, 3, SHORT, gap=1),
    "many": made(15, 20, ONE, gap=1),
    "sawn": made(12, 2, ONE, gap=2, edge_to_edge=True, stages=3),
    "sawn, two stages": made(12, 2, ONE, gap=2, edge_to_edge=True, stages=2),
    "sawn, one stage": made(6, 2, ONE, gap=2, edge_to_edge=True, stages=1),
    "sawn, any stages": made(10, 2, MIXED, gap=2, edge_to_edge=True),
    "sawn, rips first": made(12, 2, ONE, gap=2, edge_to_edge=True, stages=3, first="x"),
    "sawn, cross first": made(12, 2, MIXED, gap=2, border=1, edge_to_edge=True, stages=2, first="y"),
    "sawn, short stock": made(8, 3, SHORT, gap=1, edge_to_edge=True, stages=3),
    "turned only": made(8, 2, ONE, turns=(90, 270)),
}


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("name", ALL)
def test_every_solver_is_sound(name, sample):
    """What a solver proposes keeps every rule, again and again, and is no worse than its start."""
    problem, solver = SAMPLES[sample], ALL[name]
    if not solver.supports(problem):
        # A solver that does not support a problem is never asked for it.
        assert name in ("packed", "strips")
        return
    layout = solver(problem, seed=3, stop=Rounds(10))
    check_layout(problem, layout)
    assert layout == solver(problem, seed=3, stop=Rounds(10))
    start = ALL["greedy"](problem, seed=3, stop=Rounds(1))
    better = solver(problem, seed=4, stop=Rounds(10), start=start)
    check_layout(problem, better)
    assert score_of(problem, better) <= score_of(problem, start)


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_whole_run_is_sound(sample):
    """The run over all solvers with its finish keeps every rule and its bound."""
    problem = SAMPLES[sample]
    solved = solve(problem, seed=1, effort=EFFORTS["quick"])
    check_layout(problem, solved.layout)
    if not any(solved.layout.left_over):
        assert solved.layout.cost(problem) >= solved.bounds.cost.value
        assert len(solved.layout.sheets) >= solved.bounds.sheets.value


def test_extras_change_neither_cost_nor_sheets():
    """Copies for which there is room lie on the same sheets for the same cost, as many as are asked for."""
    problem = SAMPLES["sawn"]
    plain = solve(problem, seed=1, effort=EFFORTS["quick"]).layout
    boxes, stocks = problem.boxes, problem.stocks
    more = Problem(boxes, stocks, problem.kerf, problem.gap, True, 3, extra=(0, 2, 0, 3) + (1,) * 8)
    rich = solve(more, seed=1, effort=EFFORTS["quick"]).layout
    check_layout(more, rich)
    assert score_of(more, rich) == score_of(problem, plain)
    assert sum(len(s.placed) for s in rich.sheets) > sum(len(s.placed) for s in plain.sheets)


def test_nothing_to_lay_is_no_sheet():
    """A problem without parts, or without stock, comes back as it is."""
    empty = Problem((), SAMPLES["free"].stocks, 0, 0)
    assert solve(empty, seed=1, effort=EFFORTS["quick"]).layout == Layout((), ())
    no_stock = Problem((Box(1, 1, 4, ()),), (), 0, 0)
    assert solve(no_stock, seed=1, effort=EFFORTS["quick"]).layout == Layout((), (4,))


def random_problem(rng: random.Random, edge_to_edge: bool) -> Problem:
    """Return a problem of three to six parts, on one to three kinds of sheets."""
    stocks = rng.choice([[(10, 10, 1)], [(12, 8, 3), (8, 8, 2)], [(10, 6, 5), (6, 6, 3), (5, 10, 5)]])
    width, height, _ = stocks[0]
    return small_problem(
        [(rng.randint(1, width), rng.randint(1, height)) for _ in range(rng.randint(3, 6))],
        stocks,
        turning=rng.random() < 0.5,
        gap=rng.randint(0, 1),
        edge_to_edge=edge_to_edge,
        stages=rng.choice([0, 2, 3]),
        first=rng.choice(["any", "any", "x", "y"]),
    )


@pytest.mark.slow
@pytest.mark.parametrize("edge_to_edge", [False, True])
def test_small_problems_are_solved_to_the_optimum(edge_to_edge):
    """On thirty seeded problems the run reaches the least cost that CP-SAT, or trying all cuts, proves."""
    rng = random.Random(11)
    for _ in range(30):
        problem = random_problem(rng, edge_to_edge)
        optimum = least_cost_sawn(problem) if edge_to_edge else least_cost_free(problem)
        solved = solve(problem, seed=1, effort=EFFORTS["normal"])
        check_layout(problem, solved.layout)
        assert solved.bounds.cost.value <= optimum
        assert solved.layout.cost(problem) == optimum, problem


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 30), st.integers(1, 30), st.integers(1, 9)), min_size=1, max_size=8))
def test_a_gap_is_the_same_as_larger_parts_on_a_larger_sheet(sizes):
    """Parts with a gap lie just as parts grown by the gap on a sheet grown by the gap."""
    gap = 4
    plain = Problem(
        tuple(Box(w + gap, h + gap, n, ((0, 90),)) for w, h, n in sizes),
        (Stock(50 + gap, 40 + gap, 0, 0, 0, 0, None, Fraction(1)),),
        0,
        0,
    )
    gapped = Problem(
        tuple(Box(w, h, n, ((0, 90),)) for w, h, n in sizes),
        (Stock(50, 40, 0, 0, 0, 0, None, Fraction(1)),),
        0,
        gap,
    )
    one, two = (solve(p, seed=1, effort=EFFORTS["quick"]).layout for p in (plain, gapped))
    assert len(one.sheets) == len(two.sheets)
    assert bounds_of(plain, boxes_only=True).sheets.value == bounds_of(gapped, boxes_only=True).sheets.value
