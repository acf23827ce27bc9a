"""What is told of a search: each round, against the bounds known by then, never a wish to stop."""

from __future__ import annotations

from fractions import Fraction

from nestkit.layout.bounds import Bounds
from nestkit.layout.events import Progress
from nestkit.layout.proof import Bound
from nestkit.layout.solved import Telling

SCORE = 2, Fraction(9, 2), 3
BOUNDS = Bounds(Bound(Fraction(2), "two parts are long"), Bound(Fraction(4), "so is the cost"), 2)


def test_each_round_is_told():
    """Rounds count from 1; parts left over, cost, sheets and bounds are those given; the search goes on."""
    told: list[Progress] = []
    telling = Telling(told.append, 5, BOUNDS, by_cost=False)
    assert [telling(SCORE), telling((0, Fraction(4), 2))] == [False, False]
    one, two = told
    assert (one.group, one.left_over, one.cost, one.sheets, one.round) == (5, 2, Fraction(9, 2), 3, 1)
    assert (two.left_over, two.cost, two.sheets, two.round) == (0, 4, 2, 2)
    assert all((e.least_sheets, e.least_cost, e.why) == (2, 4, "two parts are long") for e in told)
    assert not any(e.roll or e.preparing or e.by_cost for e in told)


def test_compiling_is_told_without_counting_a_round():
    """It comes between two rounds, with what is known then."""
    told: list[Progress] = []
    telling = Telling(told.append, 0, BOUNDS, by_cost=False)
    telling.preparing(SCORE)
    telling(SCORE)
    assert [(e.preparing, e.round) for e in told] == [(True, 0), (False, 1)]


def test_without_bounds_nothing_is_claimed():
    """Where parts have no place the least is nothing, and the reason says so."""
    told: list[Progress] = []
    Telling(told.append, 0, Bounds(None, None), by_cost=False)(SCORE)
    assert (told[0].least_sheets, told[0].least_cost) == (0, 0)
    assert told[0].why == "not all parts can be placed"


def test_where_cost_decides_its_reason_is_told():
    """Of the two bounds that counts by which layouts are compared first."""
    told: list[Progress] = []
    Telling(told.append, 0, BOUNDS, by_cost=True)(SCORE)
    assert (told[0].by_cost, told[0].why) == (True, "so is the cost")


def test_bounds_that_are_raised_are_told_from_then_on():
    """What is known better later is said later, and takes nothing back."""
    told: list[Progress] = []
    telling = Telling(told.append, 0, BOUNDS, by_cost=False)
    telling(SCORE)
    telling.know(Bounds(Bound(Fraction(3), "it was tried"), Bound(Fraction(5), "it was tried, too"), 3))
    telling(SCORE)
    assert [(e.least_sheets, e.least_cost, e.why) for e in told] == [
        (2, 4, "two parts are long"),
        (3, 5, "it was tried"),
    ]
