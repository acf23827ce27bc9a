"""What is said while a search runs."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.cli.progress import Teller
from nestkit.layout import solve as solving
from nestkit.layout.efforts import effort_named
from nestkit.layout.events import Progress
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.solve import solve

EVENT = Progress(0, 3, Fraction(7), 0, Fraction(2), Fraction(5), "", 1)
PREPARING = Progress(0, 3, Fraction(7), 0, Fraction(2), Fraction(5), "", 1, preparing=True)


def test_a_pipe_hears_notices_once_and_no_progress(capsys):
    """Where nobody watches, only what concerns the search itself is said, and once."""
    with Teller(quiet=False) as tell:
        for event in (EVENT, PREPARING, EVENT, PREPARING):
            tell(event)
    assert (
        capsys.readouterr().err == "preparing the fast search, once on this computer: about half a minute\n"
    )


def test_quiet_says_nothing(capsys):
    """With --quiet not even notices are said."""
    with Teller(quiet=True) as tell:
        tell(PREPARING)
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("roll", [False, True])
def test_that_the_slow_search_works_alone_is_said_once(monkeypatch, roll):
    """Where the compiler is missing the job is laid out all the same, and one event says so."""
    monkeypatch.setattr(solving, "can_compile", lambda: False)
    monkeypatch.setattr("nestkit.layout.rects.engine.twin.can_compile", lambda: False)
    sizes = [(7, 5), (5, 4), (6, 3), (4, 4), (3, 5), (2, 7), (5, 5), (6, 6)]
    stock = Stock(20, 400 if roll else 11, 0, 0, 0, 0, 1 if roll else None, Fraction(1), roll)
    problem = Problem(tuple(Box(w, h, 2, ((0, 90),)) for w, h in sizes), (stock,), 0, 0)
    told: list[Progress] = []
    solved = solve(problem, seed=1, effort=effort_named("normal"), on_event=told.append)
    assert not any(solved.layout.left_over)
    assert solved.engine == "plain"
    said = [e for e in told if e.plain_alone]
    assert len(said) <= 1
    if solved.bounds.cost is not None and solved.layout.cost(problem) > solved.bounds.cost.value:
        assert [e.sentence() for e in said] == [
            "the fast search cannot be had on this Python; the slow one goes on longer instead"
        ]
