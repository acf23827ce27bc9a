"""Rectangles with notches: area, box and simplicity, whatever the notches."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.notches import Notch, notched
from nestkit.geometry.regions import is_simple, region

CORNERS = ("bottom left", "bottom right", "top right", "top left")
SIDES = ("bottom", "right", "top", "left")


@pytest.mark.parametrize("corner", CORNERS)
def test_a_corner_notch_is_taken_out_of_its_corner(corner):
    """The corner's rectangle is gone, the other corners are there."""
    area = region(notched(100, 60, [Notch(corner, 30, 20)]))
    import shapely

    x, y = (99 if "right" in corner else 1), (59 if "top" in corner else 1)
    assert not area.covers(shapely.Point(x, y))
    assert area.covers(shapely.Point(100 - x, 60 - y))
    assert area.area == pytest.approx(6000 - 600)


@pytest.mark.parametrize(
    ("side", "box"),
    [
        ("bottom", (20, 0, 35, 10)),
        ("top", (20, 50, 35, 60)),
        ("left", (0, 20, 15, 30)),
        ("right", (85, 20, 100, 30)),
    ],
)
def test_a_side_notch_starts_at_its_left_or_lower_end(side, box):
    """On each side ``at`` is the notch's left or lower end."""
    import shapely

    plate = shapely.box(0, 0, 100, 60)
    taken = plate.difference(region(notched(100, 60, [Notch(side, 15, 10, at=20)])))
    assert taken.bounds == pytest.approx(box)
    assert taken.area == pytest.approx(150)


def test_inner_corners_are_rounded_and_outer_ones_as_asked():
    """A notch's radius adds to the area what it leaves standing; the part's radius takes away."""
    quarter = 1 - math.pi / 4
    made = notched(
        100, 60, [Notch("top", 20, 10, at=40, radius=4), Notch("top left", 10, 10, radius=2)], radius=5
    )
    assert made.area == pytest.approx(6000 - 200 - 100 + 2 * 16 * quarter + 4 * quarter - 3 * 25 * quarter)


LONG = st.integers(1, 60)
RADIUS = st.integers(0, 4)
NOTCH = st.one_of(
    st.builds(Notch, st.sampled_from(CORNERS), LONG, LONG, radius=RADIUS),
    st.builds(Notch, st.sampled_from(SIDES), LONG, LONG, st.integers(0, 90), RADIUS),
)


@given(st.lists(NOTCH, max_size=5), st.integers(0, 5))
def test_what_is_made_is_sound_and_what_is_not_is_refused(notches, radius):
    """Any notches either raise ValueError or give a simple outline with the box of the rectangle."""
    try:
        made = notched(100, 80, notches, radius=radius)
    except ValueError:
        return
    assert is_simple(made)
    assert made.bounds == pytest.approx((0, 0, 100, 80))
    taken = sum(n.width * n.height for n in notches)
    assert made.area == pytest.approx(8000 - taken, abs=200)
