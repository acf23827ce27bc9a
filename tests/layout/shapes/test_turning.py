"""Angles of parts that may lie at any: all that were allowed stay, edges come level, long parts fit."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from nestkit.layout.efforts import EFFORTS
from nestkit.layout.shapes.problem import Kind, Plate, Shape, ShapesProblem
from nestkit.layout.shapes.sheets import solve
from nestkit.layout.shapes.states import matrix_of
from nestkit.layout.shapes.turning import with_more_turns
from tests.layout.shapes.made_shapes import TURNS, check_laid

WEDGE = Shape(((0.0, 0.0), (40.0, 0.0), (0.0, 25.0)))
BAR = Shape(((0.0, 0.0), (130.0, 0.0), (130.0, 6.0), (0.0, 6.0)))
SQUARE = (Plate(100.0, 100.0, Fraction(1)),)


def test_what_may_not_lie_at_any_angle_is_left_alone():
    """Without kinds that may lie at any angle there are no more turns; other kinds keep theirs."""
    fixed = Kind(WEDGE, 1, TURNS)
    assert with_more_turns(ShapesProblem((fixed,), SQUARE)) is None
    free = with_more_turns(ShapesProblem((fixed, Kind(WEDGE, 1, TURNS, any_turn=True)), SQUARE))
    assert free is not None
    assert free.kinds[0] == fixed
    assert set(TURNS) < set(free.kinds[1].turns)


def test_the_longest_slanting_edge_comes_level():
    """In some turn the long side of a wedge is level, in another it is upright."""
    free = with_more_turns(ShapesProblem((Kind(WEDGE, 1, TURNS, any_turn=True),), SQUARE))
    assert free is not None
    edge = np.array([-40.0, 25.0])
    turned = [edge @ matrix_of(turn, False).T for turn in free.kinds[0].turns]
    length = float(np.hypot(*edge))
    for axis in (0, 1):
        assert min(abs(t[axis]) for t in turned) == pytest.approx(0.0, abs=1e-6 * length)


def test_a_bar_that_is_too_long_is_laid_slanting():
    """A bar longer than the plate's sides is told as left in quarter turns, and lies on it at an angle."""
    problem = ShapesProblem((Kind(BAR, 1, TURNS, any_turn=True),), SQUARE)
    assert solve(problem, seed=1, effort=EFFORTS["quick"]).left == (1,)
    free = with_more_turns(problem)
    assert free is not None
    found = solve(free, seed=1, effort=EFFORTS["quick"])
    assert found.left == (0,)
    check_laid(free.kinds, found.plates[0].pieces, 100.0, 100.0)
