"""Points and boxes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.points import Point, Rect, cos_sin

COORDINATE = st.floats(-1e5, 1e5)


@pytest.mark.parametrize(
    ("angle", "there"),
    [(0, (3, 1)), (90, (-1, 3)), (180, (-3, -1)), (270, (1, -3)), (-90, (1, -3)), (450, (-1, 3))],
)
def test_quarter_turns_are_exact(angle, there):
    """A quarter turn changes coordinates and signs and nothing else."""
    assert Point(3, 1).turned(angle) == there


@given(COORDINATE, COORDINATE, st.floats(-720, 720))
def test_turning_keeps_the_distance_from_the_origin(x, y, angle):
    """A turn changes no distance."""
    assert Point(0, 0).to(Point(x, y).turned(angle)) == pytest.approx(math.hypot(x, y), abs=1e-6)


@given(st.floats(-720, 720))
def test_cosine_and_sine_are_those_of_mathematics(angle):
    """cos_sin agrees with the library's functions."""
    c, s = cos_sin(angle)
    assert c == pytest.approx(math.cos(math.radians(angle)), abs=1e-12)
    assert s == pytest.approx(math.sin(math.radians(angle)), abs=1e-12)


def test_a_box_knows_its_sides_and_middle():
    """Width, height, centre and growing."""
    box = Rect(1, 2, 5, 10)
    assert (box.width, box.height, box.centre) == (4, 8, (3, 6))
    assert box.grown(1) == (0, 1, 6, 11)
    assert box.grown(1).grown(-1) == box


def test_boxes_that_only_touch_do_not_meet():
    """Two boxes meet where they share area, not where they share a side or a corner."""
    box = Rect(0, 0, 2, 2)
    assert box.meets(Rect(1, 1, 3, 3))
    assert not box.meets(Rect(2, 0, 3, 2))
    assert not box.meets(Rect(2, 2, 3, 3))
    assert Point(1, 2).moved(3, -1) == (4, 1)
