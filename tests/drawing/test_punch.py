"""Punch marks, centre marks and the datum bracket."""

from __future__ import annotations

import pytest

from nestkit.drawing.datum import datum_bracket, room_for_datum
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Path, Text
from nestkit.drawing.punch import centre_mark, opening_centres, punch_boxes, punch_mark, reach
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc, rectangle, slot


@pytest.mark.parametrize("dia", [1.0, 5.6134, 40.0])
def test_punch_mark_is_cross_hole_and_sight_ring(dia):
    """A ring of the finished hole, a sight ring 2 to 3 mm larger, open-middled arms that end beyond."""
    at = Point(30, 40)
    marks = punch_mark(at, dia)
    hole, sight = (m for m in marks if isinstance(m, Circle))
    assert hole == Circle(at, dia / 2, Layer.DRILLED_HOLE)
    assert 2.0 <= 2 * (sight.radius - hole.radius) <= 3.0
    arms = [m for m in marks if isinstance(m, Path)]
    assert len(arms) == 4
    for arm in arms:
        near, far = (v.point.to(at) for v in arm.vertices)
        assert near == pytest.approx(0.5)
        assert far == pytest.approx(reach(dia))
        assert far > sight.radius + 1.0
    for mark in marks:
        box = mark.bounds
        assert any(b.left <= box.left and b.right >= box.right for b in punch_boxes(at, dia))


def test_openings_are_marked_at_their_centres():
    """A slot at both round ends, a round opening at its centre, any other at the middle of its box."""
    ends = opening_centres(slot(Point(50, 20), 40, 8, 90))
    assert sorted(round(p.y, 6) for p in ends) == [4.0, 36.0]
    assert opening_centres(disc(30, centre=Point(7, 9))) == (Point(7, 9),)
    assert opening_centres(rectangle(20, 10, radius=2, at=Point(5, 5))) == (Point(15, 10),)
    assert not any(isinstance(m, Circle) for m in centre_mark(Point(0, 0)))


def test_bracket_stands_outside_the_datum_corner():
    """The face has one L at the lower left, the back two at the lower right, both outside the part."""
    part = Rect(0, 0, 100, 60)
    face, back = datum_bracket(part, back=False), datum_bracket(part, back=True)
    legs = [m for m in face if isinstance(m, Path)]
    assert len(legs) == 1
    assert legs[0].bounds.left < 0
    assert legs[0].bounds.bottom < 0
    legs = [m for m in back if isinstance(m, Path)]
    assert len(legs) == 2
    assert all(leg.bounds.right > 100 for leg in legs)
    assert [m.text for m in face if isinstance(m, Text)] == ["DATUM"]
    assert [m.text for m in back if isinstance(m, Text)] == ["DATUM (BACK)"]


@pytest.mark.parametrize("back", [False, True])
def test_room_for_the_bracket_holds_all_of_it(back):
    """The room kept around a part holds bracket and word."""
    part = Rect(0, 0, 100, 60)
    room = room_for_datum(part, back=back)
    for mark in datum_bracket(part, back=back):
        box = mark.bounds
        assert room.left <= box.left
        assert room.bottom <= box.bottom
        assert box.right <= room.right
