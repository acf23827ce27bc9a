"""How a search is told in a sentence: by sheets, by cost, or by the length off a roll."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.layout.events import Progress

SHEETS = Progress(0, 3, Fraction("71.005"), 0, Fraction(2), Fraction("64.509"), "", 1)
ROLL = replace(
    SHEETS, sheets=1, roll=True, length=Fraction("1612.9"), least_length=Fraction("1500.3"), unit="in"
)


@pytest.mark.parametrize(
    ("event", "said"),
    [
        (SHEETS, "3 sheets so far; no layout needs fewer than 2"),
        (replace(SHEETS, sheets=1), "1 sheet so far; no layout needs fewer than 2"),
        (replace(SHEETS, left_over=1), "3 sheets so far, 1 part has no place yet"),
        (replace(SHEETS, left_over=2, by_cost=True), "3 sheets so far, 2 parts have no place yet"),
        (replace(SHEETS, by_cost=True), "71.01 so far, 3 sheets; no layout costs less than 64.50"),
        (
            replace(SHEETS, by_cost=True, cost_in="m2"),
            "71.01 m2 so far, 3 sheets; no layout takes less than 64.5 m2",
        ),
        (ROLL, "5 ft 3 1/2 in off the roll so far, 71.01; no layout needs less than 4 ft 11 1/16 in"),
        (
            replace(ROLL, cost_in="m2", unit="mm"),
            "1.613 m off the roll so far; no layout needs less than 1.5 m",
        ),
        (
            replace(ROLL, by_cost=True),
            "71.01 so far, 5 ft 3 1/2 in off the roll; no layout costs less than 64.50",
        ),
        (replace(ROLL, left_over=2), "5 ft 3 1/2 in off the roll so far, 2 parts have no place yet"),
    ],
)
def test_the_state_is_said_by_what_decides(event, said):
    """What is paid rounds up and what nothing can beat down, so that neither says too much."""
    assert event.sentence() == said


def test_notices_say_nothing_of_the_state():
    """Compiling, and the lack of a compiler, are said instead."""
    assert "once on this computer" in replace(SHEETS, preparing=True).sentence()
    assert "slow one" in replace(ROLL, plain_alone=True).sentence()
    assert "one by one" in replace(SHEETS, one_by_one=True).sentence()
    assert replace(SHEETS, preparing=True).notice
    assert replace(SHEETS, one_by_one=True).notice
    assert not SHEETS.notice
