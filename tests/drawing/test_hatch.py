"""Hatching fills a box with lines at 45 degrees."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from nestkit.drawing.hatch import hatch
from nestkit.drawing.layers import Layer
from nestkit.geometry.points import Rect

side = floats(1, 400)
place = floats(-300, 300)


@given(left=place, bottom=place, width=side, height=side, pitch=floats(0.8, 30))
def test_lines_lie_in_their_box_and_fill_it(left, bottom, width, height, pitch):
    """Every line rises at 45 degrees within the box; together they are as long as its area asks."""
    box = Rect(left, bottom, left + width, bottom + height)
    total = 0.0
    for mark in hatch(box, pitch):
        a, b = mark.vertices
        assert mark.layer is Layer.HATCH
        assert b.x - a.x == pytest.approx(b.y - a.y, abs=1e-9)
        for v in (a, b):
            assert box.left - 1e-9 <= v.x <= box.right + 1e-9
            assert box.bottom - 1e-9 <= v.y <= box.top + 1e-9
        total += a.point.to(b.point)
    # Lines a pitch apart along x are pitch / sqrt 2 apart: length times that is the area, but for the ends.
    missing = math.sqrt(2) * pitch * (min(width, height) / pitch + 1) * 2
    assert abs(total * pitch / math.sqrt(2) - width * height) <= missing * min(width, height)


def test_boxes_side_by_side_are_hatched_as_one():
    """The lines of neighbours run on into each other."""
    one = hatch(Rect(0, 0, 20, 10), 4)
    two = hatch(Rect(0, 0, 10, 10), 4) + hatch(Rect(10, 0, 20, 10), 4)
    starts = {round(m.vertices[0].x - m.vertices[0].y, 9) for m in one}
    assert starts == {round(m.vertices[0].x - m.vertices[0].y, 9) for m in two}


@pytest.mark.parametrize("box", [Rect(0, 0, 0, 5), Rect(0, 0, 5, 0), Rect(3, 3, 2, 2)])
def test_nothing_is_hatched_in_no_room(box):
    """A box without area has no lines, nor is a pitch of 0 an endless loop."""
    assert hatch(box, 2) == ()
    assert hatch(Rect(0, 0, 5, 5), 0) == ()
