"""The roomiest place in a part for a number that has no room in its middle."""

from __future__ import annotations

import pytest

from nestkit.drawing.deepest import deepest
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc, rectangle
from tests.layout.shapes.shaped import BRACKET


def corners(outline):
    """Return an outline's corners, flattened as pictures are."""
    return tuple(outline.flattened(0.2))


def test_it_is_the_middle_of_what_is_widest():
    """In a plate and a disc it is the middle; of a strip that is as wide everywhere, too."""
    for outline, depth in ((rectangle(60, 40), 20), (disc(50), 25), (rectangle(90, 10), 5)):
        at, found = deepest(corners(outline), ())
        assert found == pytest.approx(depth, rel=0.05)
        assert at.to(outline.bounds.centre) < 4


def test_it_is_never_beside_the_part():
    """In an angle bracket, whose middle is outside, it lies in a leg or in their corner."""
    at, depth = deepest(corners(BRACKET), ())
    assert depth > 9
    assert min(at) < 20


def test_what_is_busy_is_kept_clear_of():
    """A box in the middle pushes it aside; where nothing is free the radius says so."""
    at, depth = deepest(corners(rectangle(60, 20)), (Rect(0, 0, 40, 20),))
    assert at == pytest.approx(Point(50, 10), abs=1.5)
    assert depth == pytest.approx(10, abs=1.0)
    assert deepest(corners(rectangle(60, 20)), (Rect(-1, -1, 61, 21),))[1] <= 0
