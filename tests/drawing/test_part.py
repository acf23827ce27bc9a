"""A part's marks lie where the contract's placed-part rule puts them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis.strategies import booleans, integers, sampled_from

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Path, Text
from nestkit.drawing.part import laid, part_drawing, placed_marks
from nestkit.geometry.points import Point
from tests.laid_boat import BRACKET, GUSSET, HATCH, LID, placed

CUTTING_LAYERS = {Layer.PART_EDGE, Layer.OPENING, Layer.DRILLED_HOLE, Layer.MARK}


def there(panel, p, turn, opposite, x, y):
    """Return a point by the contract: mirrored, turned, the turned outline's box brought to x, y."""
    points = [(q.x, q.y) for q in panel.outline.flattened(0.0005)] + [p]
    if opposite:
        points = [(float(panel.width) - a, b) for a, b in points]
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    points = [(a * c - b * s, a * s + b * c) for a, b in points]
    left, bottom = min(a for a, _ in points[:-1]), min(b for _, b in points[:-1])
    return Point(points[-1][0] - left + x, points[-1][1] - bottom + y)


@pytest.mark.parametrize("panel", [BRACKET, HATCH, LID], ids=lambda p: p.name)
@settings(max_examples=25)
@given(
    turn=sampled_from([0, 90, 180, 270, 17, 211]),
    opposite=booleans(),
    x=integers(0, 900),
    y=integers(0, 900),
)
def test_holes_follow_the_placed_part_rule(panel, turn, opposite, x, y):
    """Mirrored first, turned counter-clockwise, then moved so that the box's lower left is at x, y."""
    marks = placed_marks(placed(panel, 1, x, y, turn, opposite))
    circles = [m for m in marks if isinstance(m, Circle)]
    assert len(circles) == len(panel.holes)
    for circle, hole in zip(circles, panel.holes, strict=True):
        assert circle.centre.to(there(panel, hole.at, turn, opposite, x, y)) < 2e-3
        assert circle.radius == hole.dia / 2


@given(turn=sampled_from([0, 90, 180, 270]), opposite=booleans(), x=integers(0, 900), y=integers(0, 900))
def test_a_quarter_turn_lies_exactly(turn, opposite, x, y):
    """The box of a part turned by quarters starts at its x, y to the last digit of a float."""
    part = placed(BRACKET, 1, x, y, turn, opposite)
    box = laid(part).outline.bounds
    assert box.left == pytest.approx(x, abs=1e-12)
    assert box.bottom == pytest.approx(y, abs=1e-12)
    assert box.width == pytest.approx(float(part.width), abs=1e-9)
    assert box.height == pytest.approx(float(part.height), abs=1e-9)


@pytest.mark.parametrize("opposite", [False, True])
@pytest.mark.parametrize("panel", [BRACKET, HATCH, LID, GUSSET], ids=lambda p: p.name)
def test_a_part_shows_its_own_marks_and_nothing_else(panel, opposite):
    """A part's drawing has one edge, its openings, holes and marks, each on its layer, within its box."""
    drawing = part_drawing(panel, opposite)
    layers = [m.layer for m in drawing.marks]
    assert set(layers) <= CUTTING_LAYERS
    assert layers.count(Layer.PART_EDGE) == 1
    assert layers.count(Layer.OPENING) == len(panel.openings)
    assert layers.count(Layer.DRILLED_HOLE) == len(panel.holes)
    assert [m.text for m in drawing.marks if isinstance(m, Text)] == [m.text for m in panel.marks]
    edge = drawing.marks[0].bounds
    assert (edge.left, edge.bottom) == pytest.approx((0, 0), abs=1e-9)
    assert (edge.right, edge.top) == pytest.approx((drawing.width, drawing.height))


def test_the_opposite_hand_is_mirrored_left_to_right():
    """On the opposite hand x becomes width - x, and every area stays."""
    drawn, mirrored = part_drawing(BRACKET), part_drawing(BRACKET, True)
    for a, b in zip(drawn.marks, mirrored.marks, strict=True):
        if isinstance(a, Circle):
            assert b.centre == pytest.approx((180 - a.centre.x, a.centre.y))
    assert laid(placed(BRACKET, 1, 0, 0, 0, True)).outline.area == pytest.approx(BRACKET.outline.area)
    assert mirrored.title == "motor bracket, opposite hand"


def test_discs_and_round_openings_are_two_arcs():
    """A disc's edge and a round opening are closed paths of two half circles."""
    paths = [m for m in placed_marks(placed(HATCH, 1, 5, 5, 90)) if isinstance(m, Path)]
    assert [len(p.vertices) for p in paths] == [2, 2]
    assert all(abs(v.bulge) == pytest.approx(1) for p in paths for v in p.vertices)


def test_marks_turn_with_their_part():
    """A mark's text is turned as its part and stays readable, not mirrored."""
    (text,) = [m for m in placed_marks(placed(LID, 1, 0, 0, 90)) if isinstance(m, Text)]
    assert text.turn_deg == 90
    assert text.at == pytest.approx((247.65 - 38.1, 25.4))
