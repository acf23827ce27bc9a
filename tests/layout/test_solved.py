"""What is told of a search: each round, against the bounds known at its start, never a wish to stop."""

from __future__ import annotations

from fractions import Fraction

from nestkit.layout.bounds import Bounds
from nestkit.layout.events import Progress
from nestkit.layout.result import Bound
from nestkit.layout.solved import Telling

SCORE = 2, Fraction(9, 2), 3
BOUNDS = Bounds(Bound(Fraction(2), "two parts are long"), Bound(Fraction(4), "so is the cost"), 2)


def test_each_round_is_told():
    """Rounds count from 1; parts left over, cost, sheets and bounds are those given; the search goes on."""
    told: list[Progress] = []
    telling = Telling(told.append, 5, BOUNDS)
    assert [telling(SCORE), telling((0, Fraction(4), 2))] == [False, False]
    one, two = told
    assert (one.group, one.left_over, one.cost, one.sheets, one.round) == (5, 2, Fraction(9, 2), 3, 1)
    assert (two.left_over, two.cost, two.sheets, two.round) == (0, 4, 2, 2)
    assert all((e.least_sheets, e.least_cost, e.why) == (2, 4, "two parts are long") for e in told)
    assert not any(e.roll or e.preparing for e in told)


def test_compiling_is_told_without_counting_a_round():
    """It comes between two rounds, with what is known then."""
    told: list[Progress] = []
    telling = Telling(told.append, 0, BOUNDS, roll=True)
    telling.preparing(SCORE)
    telling(SCORE)
    assert [(e.preparing, e.round, e.roll) for e in told] == [(True, 0, True), (False, 1, True)]


def test_without_bounds_nothing_is_claimed():
    """Where parts have no place the least is nothing, and the reason says so."""
    told: list[Progress] = []
    Telling(told.append, 0, Bounds(None, None))(SCORE)
    assert (told[0].least_sheets, told[0].least_cost) == (0, 0)
    assert told[0].why == "not all parts can be placed"
