"""The motion with the least largest miss, against an optimiser that knows nothing of it."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from nestkit.fit.minimax import least_largest, least_squares, smallest_circle

near = st.floats(-100, 100, allow_subnormal=False).map(lambda v: round(v, 4))
places = st.builds(complex, near, near)
slips = st.builds(complex, st.floats(-1, 1), st.floats(-1, 1))


def by_optimiser(fixed, moving, turn, move):
    """Return the least largest distance that a general optimiser finds from a start, in an epigraph form."""
    f, m = np.array(fixed), np.array(moving)

    def room(x):
        off = f - np.exp(1j * x[2]) * m - (x[0] + 1j * x[1])
        return x[3] ** 2 - np.abs(off) ** 2

    start = np.array([move.real, move.imag, turn, 0.0])
    start[3] = math.sqrt(max(0.0, -room(start).min())) + 0.01
    found = minimize(
        lambda x: x[3], start, constraints=[{"type": "ineq", "fun": room}], method="SLSQP",
        options={"maxiter": 400, "ftol": 1e-12},
    )  # fmt: skip
    return float(np.sqrt(np.abs(f - np.exp(1j * found.x[2]) * m - (found.x[0] + 1j * found.x[1])).max() ** 2))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(places, slips), min_size=3, max_size=12), st.floats(-3, 3))
def test_no_optimiser_finds_a_smaller_largest_miss(pairs, turn):
    """Whatever the slips of up to 1 mm, SLSQP of SciPy (Kraft, 1988) finds no motion with a smaller one."""
    moving = [p * 2 for p, _ in pairs]
    fixed = [2 * cmath.rect(1.0, turn) * p + 5 + slip for p, slip in pairs]
    turn_deg, move, largest = least_largest(fixed, moving)
    spin = cmath.rect(1.0, math.radians(turn_deg))
    misses = [abs(f - spin * m - move) for f, m in zip(fixed, moving, strict=True)]
    assert max(misses) == pytest.approx(largest, abs=2e-9)
    assert largest <= by_optimiser(fixed, moving, turn, complex(5)) + 1e-6
    start, square = least_squares(fixed, moving)
    assert math.sqrt(square) <= largest + 1e-6
    assert abs(start) == pytest.approx(1.0)


@given(st.lists(places, min_size=1, max_size=9), st.sampled_from([0, 90, 180, -90, 37, 0.125]), places)
def test_exact_patterns_give_plain_figures(points, turn, move):
    """A turn and a move that lay points exactly are found as they were written, with no miss and no -0.0."""
    spin = cmath.rect(1.0, math.radians(turn))
    found, moved, largest = least_largest([spin * p + move for p in points], points)
    assert largest == 0
    if max(abs(p - points[0]) for p in points) > 1:
        assert found == turn
        assert abs(moved - move) < 1e-9
    assert all(v or math.copysign(1.0, v) == 1.0 for v in (moved.real, moved.imag, found))


@given(st.lists(places, min_size=1, max_size=8))
def test_the_smallest_circle_holds_all_points_and_no_other_is_smaller(points):
    """Every point is inside; a circle through two or three of them that holds all is not smaller."""
    middle, radius = smallest_circle(points)
    assert all(abs(p - middle) <= radius + 1e-9 for p in points)
    grid = [middle + cmath.rect(radius * k / 8 + 1e-4, a) for k in range(4) for a in range(7)]
    assert all(max(abs(p - other) for p in points) >= radius - 1e-9 for other in grid)


def test_two_holes_share_a_difference_evenly():
    """Holes 100 and 90 mm apart miss by 5 mm each."""
    assert least_largest([0, 100], [0, 90]) == (0.0, 5, 5)


def test_one_slip_by_hand():
    """Of a rectangle with one corner 1 mm off along x all holes can be laid within half of it."""
    corners = [0, 100, 100 + 60j, 60j]
    turn, move, largest = least_largest(corners, [*corners[:3], 1 + 60j])
    assert largest == pytest.approx(0.5, abs=1e-9)
    assert (turn, move) == (0.0, -0.5)


def test_half_a_turn_is_positive():
    """Of 180 and -180 degrees the first is said."""
    assert least_largest([0, -10, -7j], [0, 10, 7j])[0] == 180.0
