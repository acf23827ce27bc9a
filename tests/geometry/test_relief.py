"""Relieved corners: a square part sits home in them, a cutter can follow them, and nothing else changes."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis.strategies import floats

from nestkit.geometry.notches import Notch, notched
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.geometry.regions import region
from nestkit.geometry.relief import ROOM, relieved
from nestkit.geometry.shapes import corners_cut, disc, rectangle

R = 3.175


def test_a_square_opening_takes_a_square_part():
    """All of the square is open after relief, and a cutter of that radius reaches all of what is open."""
    opening = rectangle(30, 20, at=Point(5, 5))
    made = relieved(opening, R, opening=True)
    assert (made.count, made.left) == (4, ())
    area = region(made.outline)
    assert area.buffer(2e-3).contains(region(opening))
    reached = area.buffer(-R, quad_segs=64).buffer(R, quad_segs=64)
    assert area.difference(reached).area < 0.05
    assert (made.outline.bounds.width, made.outline.bounds.height) == pytest.approx(
        (31.918, 21.918), abs=1e-3
    )


def test_the_round_goes_through_the_tip():
    """The round's radius is a tenth of a mm above the cutter's, and its line meets the corner."""
    made = relieved(notched(100, 50, [Notch("top right", 20, 20)]), R, opening=False)
    assert made.count == 1
    assert region(made.outline).exterior.distance(shapely.Point(80, 30)) < 2e-3
    taken = region(notched(100, 50, [Notch("top right", 20, 20)])).area - region(made.outline).area
    # A half circle, less the right-angled triangle that was open already.
    assert taken == pytest.approx((math.pi / 2 - 1) * (R + ROOM) ** 2, abs=0.01)


@settings(max_examples=40, deadline=None)
@given(floats(92, 150), floats(1, 4))
def test_any_blunt_corner(angle, cutter):
    """An obtuse inner corner of a part is relieved so that the cutter reaches its tip."""
    a = math.radians(angle / 2)
    arms = [Point(100 + s * 60 * math.sin(a), 40 + 60 * math.cos(a)) for s in (1, -1)]
    outline = corners_cut([Point(0, 0), Point(200, 0), arms[0], Point(100, 40), arms[1]])
    made = relieved(outline, cutter, opening=False)
    if not made.count:
        assert cutter * (1 / math.sin(a) - 1) <= 0.1
        return
    free = region(rectangle(400, 400, at=Point(-100, -100))).difference(region(made.outline))
    reached = free.buffer(-cutter, quad_segs=64).buffer(cutter, quad_segs=64)
    assert reached.distance(shapely.Point(100, 40)) < 5e-3
    assert free.difference(reached).intersection(shapely.box(85, 30, 115, 60)).area < 0.05


@pytest.mark.parametrize(
    "outline",
    [rectangle(30, 20), rectangle(30, 20, radius=4), disc(30)],
)
def test_outer_and_round_corners_stay(outline):
    """A part without sharp inner corners comes back as it is."""
    assert relieved(outline, R, opening=False).outline is outline


def test_where_there_is_no_room_the_corner_stays_and_is_told():
    """Too acute, or two corners too near each other: what cannot be relieved is listed."""
    acute = corners_cut(
        [
            Point(0, 0),
            Point(200, 0),
            Point(200, 100),
            Point(110, 100),
            Point(100, 60),
            Point(90, 100),
            Point(0, 100),
        ]
    )
    made = relieved(acute, R, opening=False)
    assert (made.outline, made.count, made.left) == (acute, 0, (Point(100, 60),))
    narrow = relieved(rectangle(9, 40), R, opening=True)
    assert (narrow.count, len(narrow.left)) == (2, 2)


def test_twice_is_as_once():
    """What is relieved already does not change again."""
    once = relieved(rectangle(30, 20), R, opening=True).outline
    assert relieved(once, R, opening=True).outline is once
    assert isinstance(once, Outline)
