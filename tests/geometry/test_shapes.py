"""The outlines that a job can ask for, against their formulas."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.points import Point
from nestkit.geometry.regions import is_simple, region
from nestkit.geometry.shapes import corners_cut, disc, mixed_corners, rectangle, slot

SIDE = st.floats(1, 500)
SHARE = st.floats(0, 0.5)


@given(SIDE, SIDE, SHARE)
def test_a_rounded_rectangle_has_area_and_box_of_the_formula(width, height, share):
    """Rounding takes (4 - pi) r^2 from the area and nothing from the box, up to half the short side."""
    radius = share * min(width, height)
    made = rectangle(width, height, radius=radius)
    assert made.area == pytest.approx(width * height - (4 - math.pi) * radius**2, rel=1e-9)
    assert made.bounds == pytest.approx((0, 0, width, height), abs=1e-9)


@given(SIDE, SIDE, SHARE)
def test_a_chamfered_rectangle_has_area_and_box_of_the_formula(width, height, share):
    """Chamfers take twice the square of the leg from the area and nothing from the box."""
    leg = share * min(width, height)
    made = rectangle(width, height, chamfer=leg, at=Point(7, -3))
    assert made.area == pytest.approx(width * height - 2 * leg**2, rel=1e-9)
    assert made.bounds == pytest.approx((7, -3, 7 + width, height - 3), abs=1e-9)


@pytest.mark.parametrize("cut", [{"radius": 6}, {"chamfer": 6}])
def test_more_than_half_the_short_side_is_refused(cut):
    """Radius and chamfer go to half the shorter side and no further."""
    rectangle(20, 12, **cut)
    with pytest.raises(ValueError, match="too short"):
        rectangle(20, 11.9, **cut)


def test_a_rectangle_rounded_to_the_full_is_without_edges_of_no_length():
    """Half the short side leaves two half circles and two straight edges, no vertex twice."""
    made = rectangle(20, 10, radius=5)
    assert made.area == pytest.approx(100 + 25 * math.pi)
    for a, b in made.edges():
        assert a.point.to(b.point) > 1e-6


@given(SIDE, st.floats(0.05, 0.95), st.floats(-360, 360))
def test_a_slot_has_area_and_length_of_the_formula(length, share, angle):
    """Length is overall: the area is that of the middle and one disc, at every angle."""
    width = share * length
    made = slot(Point(11, 5), length, width, angle)
    assert made.area == pytest.approx((length - width) * width + math.pi * width**2 / 4, rel=1e-9)
    assert made.length == pytest.approx(2 * (length - width) + math.pi * width, rel=1e-9)
    assert made.bounds.centre == pytest.approx((11, 5), abs=1e-6)


def test_a_slot_lies_along_its_angle():
    """At 0 it lies along x, at 90 along y; the box is exact."""
    assert slot(Point(0, 0), 30, 10).bounds == pytest.approx((-15, -5, 15, 5))
    assert slot(Point(0, 0), 30, 10, 90).bounds == pytest.approx((-5, -15, 5, 15))


def test_a_slot_no_longer_than_wide_is_refused():
    """A round hole is not a slot."""
    with pytest.raises(ValueError, match="longer than it is wide"):
        slot(Point(0, 0), 10, 10)


def test_a_disc_stands_on_both_axes_or_about_its_centre():
    """Without a centre the disc touches both axes from inside the first quadrant."""
    assert disc(8).bounds == pytest.approx((0, 0, 8, 8))
    assert disc(8, centre=Point(1, 2)).bounds == pytest.approx((-3, -2, 5, 6))


def test_corners_inwards_and_outwards_are_rounded():
    """An L is rounded in its inner corner as in its outer ones."""
    ell = [Point(0, 0), Point(40, 0), Point(40, 20), Point(20, 20), Point(20, 40), Point(0, 40)]
    made = corners_cut(ell, radius=4)
    corner = (1 - math.pi / 4) * 16
    assert made.area == pytest.approx(1200 - 5 * corner + corner)
    assert is_simple(made)


def test_each_corner_may_have_its_own_cut():
    """Radius, chamfer and sharp corners mix in one outline."""
    corners = [(Point(0, 0), 5, 0), (Point(40, 0), 0, 6), (Point(40, 30), 0, 0), (Point(0, 30), 0, 0)]
    made = mixed_corners(corners)
    assert made.area == pytest.approx(1200 - (1 - math.pi / 4) * 25 - 18)
    assert region(made).area == pytest.approx(made.area, rel=1e-5)


def test_a_corner_that_folds_back_cannot_be_rounded():
    """A spike has no room for a radius."""
    with pytest.raises(ValueError):
        corners_cut([Point(0, 0), Point(10, 0), Point(5, 0)], radius=1)
