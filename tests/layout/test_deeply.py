"""The long search on sheets: bounds that are raised in its course are told, and end it once they are met."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.layout import deeply as module
from nestkit.layout import solve as solving
from nestkit.layout.bounds import Bounds
from nestkit.layout.efforts import Effort, flat_rounds
from nestkit.layout.events import Progress
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.proof import Bound
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.solve import solve

pytestmark = pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")

SIZES = [(61, 37), (48, 22), (35, 55), (29, 41), (52, 18), (44, 44), (23, 67), (31, 28), (58, 26), (39, 33)]


def problem_of(*costs: int) -> Problem:
    """Return thirty parts on sheets of the same size at some prices."""
    stocks = tuple(Stock(100, 100 + i, 0, 0, 0, 0, None, Fraction(c)) for i, c in enumerate(costs))
    return Problem(tuple(Box(w, h, 3, ((0, 90),) * len(costs)) for w, h in SIZES), stocks, 0, 0)


WEAK = Bounds(Bound(Fraction(1), "one at least"), Bound(Fraction(5), "which costs that"))


@pytest.fixture
def proving(monkeypatch):
    """Let quick bounds say little, and the third trial of better ones prove whatever layout it is shown.

    The first is in plain Python, the second a quick one, the third comes after the first rounds.
    """
    trials = []
    monkeypatch.setattr(solving, "bounds_of", lambda problem, **more: WEAK)

    def stronger(problem, bounds, layout, **more):
        trials.append(layout)
        if len(trials) < 3:
            return bounds
        cost, sheets = layout.cost(problem), len(layout.sheets)
        return replace(
            bounds, cost=Bound(cost, "so it is"), sheets=Bound(Fraction(sheets), "so they are"), fewest=sheets
        )

    monkeypatch.setattr(module, "stronger", stronger)
    return trials


@pytest.mark.parametrize("costs", [(5,), (5, 6)])
def test_raised_bounds_are_told_and_end_the_search(proving, costs):
    """The last event has the bounds of the answer, not those of the start, and the reason that counts."""
    told: list[Progress] = []
    problem = problem_of(*costs)
    effort = Effort(1, 1, 0, deep=10**6, seeds=3)
    found = solve(problem, seed=1, effort=effort, on_event=told.append)
    assert len(proving) == 3
    last = told[-1]
    assert (last.least_cost, last.least_sheets) == (found.bounds.cost.value, found.bounds.sheets.value)
    assert last.least_cost == found.layout.cost(problem) > told[0].least_cost
    assert last.why == ("so they are" if len(costs) == 1 else "so it is")
    assert last.by_cost == (len(costs) > 1)


def test_a_search_says_whether_it_met_the_bound(proving):
    """A layout is as good as its score, and cannot be better than the bounds that it meets."""
    problem = problem_of(5)
    found = solve(problem, seed=1, effort=Effort(1, 1, 0, deep=10**6))
    task = module.Seeded(problem, found.layout, found.bounds, 1, 5)
    assert task.rank(found.layout) == (0, found.layout.cost(problem), len(found.layout.sheets))
    assert task.met(found.layout)
    assert not module.Seeded(problem, found.layout, WEAK, 1, 5).met(found.layout)


def long_rounds(problem, bounds, monkeypatch, rounds):
    """Return how many more rounds a search takes than one that has a single long round, and the seeds begun.

    These bounds are known, and nothing makes them better.
    """
    monkeypatch.setattr(solving, "bounds_of", lambda problem, **more: bounds)
    monkeypatch.setattr(module, "stronger", lambda problem, bounds, layout, **more: bounds)
    begun = []

    def best_of(first, others, ended, *, kept):
        begun.extend(others)
        return first()

    monkeypatch.setattr(module, "best_of", best_of)
    number = []
    for deep in (rounds, 1):
        told: list[Progress] = []
        solve(problem, seed=1, effort=Effort(1, 1, 0, deep=deep, seeds=4), on_event=told.append)
        number.append(len(told))
    return number[0] - number[1], begun


def test_where_no_layout_costs_less_few_rounds_look_for_fewer_sheets(monkeypatch):
    """Five sheets are at once known to cost least; whether four would do is open for a few rounds only."""
    met = Bounds(Bound(Fraction(1), "one at least"), Bound(Fraction(25), "which costs that"), 1)
    rounds, begun = long_rounds(problem_of(5, 5), met, monkeypatch, 10**6)
    assert 0 < rounds <= module.FOR_SHEETS
    assert begun == []


def test_a_small_job_ends_after_rounds_without_gain(monkeypatch):
    """However much effort there is, a search that has not gained for so many rounds a part is over."""
    boxes = (Box(60, 60, 2, ((0,),)), Box(30, 30, 2, ((0,),)))
    few = Problem(boxes, (Stock(100, 100, 0, 0, 0, 0, None, Fraction(1)),), 0, 0)
    rounds, begun = long_rounds(few, WEAK, monkeypatch, 10**6)
    assert 0 < rounds <= flat_rounds(4)
    assert begun == []


def test_a_large_job_goes_on_from_other_seeds(monkeypatch):
    """Where the first rounds may well have missed something, the other seeds have their turn."""
    rounds, begun = long_rounds(problem_of(5), WEAK, monkeypatch, module.FIRST_ROUNDS + 3)
    assert [task.seed for task in begun] == [2, 3, 4]
    assert rounds >= module.FIRST_ROUNDS
