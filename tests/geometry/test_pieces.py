import math

import pytest

from nestkit.geometry.pieces import Bow, Line, crosses, gap_between, piece_distance, pieces_of
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc, rectangle, slot

HALF = Bow(Point(5, 0), Point(-5, 0), Point(0, 0), 5, 0.0, math.pi)


def test_gap_between_boxes():
    """Boxes that overlap or touch have no gap; else it is the shortest way."""
    a = Rect(0, 0, 10, 10)
    assert gap_between(a, Rect(10, 0, 12, 5)) == 0
    assert gap_between(a, Rect(5, 5, 20, 20)) == 0
    assert gap_between(a, Rect(13, 14, 20, 20)) == 5


@pytest.mark.parametrize(
    ("other", "apart"),
    [
        (Line(Point(-9, 7), Point(9, 7)), 2),
        (Line(Point(-9, 3), Point(9, 3)), 0),
        (Line(Point(-3, -1), Point(3, -1)), math.hypot(2, 1)),  # only the ends of the half circle are near
        (Line(Point(-1, 1), Point(1, 1)), 5 - math.sqrt(2)),
        (Bow(Point(14, 4), Point(14, 4), Point(12, 4), 2, 0.0, math.tau), math.hypot(12, 4) - 7),
        (Bow(Point(6, 4), Point(6, 4), Point(4, 4), 2, 0.0, math.tau), 0),
        (Bow(Point(1, 2), Point(1, 2), Point(0, 2), 1, 0.0, math.tau), 2),
    ],
)
def test_a_half_circle_and_other_pieces(other, apart):
    """Lines and arcs beside, across, below and inside a half circle lie as far from it as worked by hand."""
    assert piece_distance(HALF, other) == pytest.approx(apart, abs=1e-9)
    assert piece_distance(other, HALF) == pytest.approx(apart, abs=1e-9)
    assert crosses(HALF, other) == crosses(other, HALF) == (apart == 0)


@pytest.mark.parametrize(
    ("outline", "lines", "bows"),
    [
        (rectangle(20, 10), 4, 0),
        (rectangle(20, 10, radius=2), 4, 4),
        (disc(10), 0, 2),
        (slot(Point(0, 0), 20, 10), 2, 2),
    ],
)
def test_pieces_follow_one_another(outline, lines, bows):
    """Each piece starts where the one before it ends, arcs stay arcs, and none is lost."""
    pieces = pieces_of(outline)
    assert sum(isinstance(p, Line) for p in pieces) == lines
    assert sum(isinstance(p, Bow) for p in pieces) == bows
    assert all(pieces[i - 1].end == piece.start for i, piece in enumerate(pieces))
