"""States: no two that are alike, boxes that hold the true outlines, growth that keeps the gap."""

from __future__ import annotations

import random
from fractions import Fraction

import numpy as np
import pytest
import shapely

from nestkit.layout.efforts import EFFORTS
from nestkit.layout.shapes.problem import Kind, Laid, Plate, Shape, ShapesProblem
from nestkit.layout.shapes.sheets import solve
from nestkit.layout.shapes.states import grown, matrix_of, moved_by, states_of
from tests.layout.shapes.made_shapes import (
    ALL,
    GUSSET,
    HORN,
    PLATE,
    TURNS,
    area_of,
    check_laid,
    lying,
    random_shape,
)


def test_turns_that_change_nothing_are_one_state():
    """A plate has two of four quarter turns; a fork all four in either hand, since its mirror is itself."""
    known = states_of([Kind(PLATE, 1, TURNS), Kind(HORN, 1, TURNS, either_hand=True)], 0.0)
    assert [len(s) for s in known.of_kind] == [2, 4]


def test_equal_shapes_share_a_form():
    """Two kinds of one shape with different turns share its form and the states they have in common."""
    known = states_of([Kind(GUSSET, 2, (0.0, 90.0)), Kind(GUSSET, 1, (90.0,))], 0.0)
    assert len(known.forms) == 1
    assert known.of_kind == ((0, 1), (1,))


def test_corners_at_the_same_places_do_not_make_outlines_the_same():
    """A square notched to its middle looks another way at each turn, though its corners stay."""
    notched = Shape(((0, 0), (2, 0), (2, 2), (1, 1), (0, 2)), ())
    other = Shape(((0, 0), (2, 0), (1, 1), (2, 2), (0, 2)), ())
    known = states_of([Kind(notched, 1, TURNS), Kind(other, 1, TURNS)], 0.0)
    assert len(known.of_kind[0]) == 4
    assert len(known.forms) == 2


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("turn", [*TURNS, 33.0])
@pytest.mark.parametrize("name", ALL)
def test_a_place_by_the_middle_is_a_place_by_the_origin(name, turn, mirrored):
    """A state's own outline at a place is the original one mirrored, turned and moved as a piece says."""
    known = states_of([Kind(ALL[name], 1, (turn,), either_hand=mirrored)], 0.0)
    state = known.states[known.of_kind[0][-1]]
    form = known.forms[state.form]
    dx, dy = moved_by(known.middles[0], state)
    there = shapely.transform(form.true, lambda p: p @ state.matrix.T + np.array([7.0, -3.0]))
    piece = Laid(0, 7.0 + dx, -3.0 + dy, state.turn_deg, state.mirrored)
    assert shapely.hausdorff_distance(there, lying(ALL[name], piece)) < 1e-9
    assert np.array(there.bounds) - np.tile([7.0, -3.0], 2) == pytest.approx(state.box)


def test_quarter_turns_are_exact():
    """A quarter turn has no rounding, and a whole one is none."""
    assert matrix_of(90, False).tolist() == [[0.0, -1.0], [1.0, 0.0]]
    assert matrix_of(360, True).tolist() == [[-1.0, 0.0], [0.0, 1.0]]


def test_what_is_grown_holds_all_that_is_near():
    """No point of the grown border is nearer to the shape than asked; it grows little more than that."""
    rng = random.Random(3)
    for _ in range(40):
        area = area_of(random_shape(rng, 40.0))
        big = grown(area, 1.5)
        assert shapely.distance(shapely.boundary(big), area) >= 1.5 - 1e-12
        assert big.area < shapely.buffer(area, 1.5, quad_segs=32).area * 1.1


def test_kinds_of_one_shape_keep_their_own_origins():
    """Two kinds whose shapes differ by where they were drawn lie where they are said to lie."""
    far = Shape(tuple((x + 100.0, y - 7.0) for x, y in PLATE.outer))
    problem = ShapesProblem((Kind(PLATE, 1, TURNS), Kind(far, 1, TURNS)), (Plate(60.0, 60.0, Fraction(1)),))
    found = solve(problem, seed=1, effort=EFFORTS["quick"])
    assert len(found.plates) == 1
    check_laid(problem.kinds, found.plates[0].pieces, 60.0, 60.0)
