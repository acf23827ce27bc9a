"""Pens in front of pens: flipping, scaling, and the pen that records."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.drawing.layers import STYLES, Layer
from nestkit.drawing.model import Circle, Drawing, Fill, Inset, Path, Text, line, outlined
from nestkit.drawing.pen import FlipPen, ScalePen
from nestkit.drawing.record import RecordPen, dump, record
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import rectangle, slot

INNER = Drawing(20, 10, (Circle(Point(5, 4), 2, Layer.DRILLED_HOLE), Text(Point(1, 2), "in", 3)), "inner")
PAGE = Drawing(
    100,
    80,
    (
        outlined(rectangle(40, 20, radius=5, at=Point(10, 10)), Layer.PART_EDGE),
        line(Point(0, 0), Point(30, 40), Layer.FINE),
        Fill(rectangle(4, 4), 0.5),
        Text(Point(50, 60), "out", 4, anchor="middle", turn_deg=30, bold=True),
        Inset(INNER, Point(60, 20), 2.0, 3.0, Rect(0, 0, 10, 8)),
    ),
    "page",
)


def drawn(pen_before) -> RecordPen:
    """Record the page through a pen that stands in front."""
    pen = RecordPen()
    PAGE.draw(pen_before(pen))
    return pen


def test_record_pen_sees_places_on_the_page():
    """Marks in an inset are recorded where they come to lie on the page, in the order drawn."""
    pen = record(PAGE)
    assert pen.circles == [(Layer.DRILLED_HOLE, Point(70, 32), 4.0)]
    assert pen.texts == [("out", Point(50, 60)), ("in", Point(62, 26))]
    assert [layer for layer, _, _ in pen.paths] == [Layer.PART_EDGE, Layer.FINE]
    assert pen.lines[4] == "inset 60,20 scale 2 3 clip 0 0 10 8"
    assert pen.lines[5] == "  circle DRILLED_HOLE 5,4 r 2"
    assert pen.lines[7] == "end of inset"


def test_dump_opens_with_the_page():
    """A dump is one line for the page and one for each mark."""
    text = dump(PAGE)
    assert text.startswith("page 100 x 80 'page'\n")
    assert text.count("\n") == 9


def test_flipping_turns_y_and_keeps_text_upright():
    """A flipped page has its origin at the upper left; bulges and turns change their sense with it."""
    pen = drawn(lambda pen: FlipPen(pen, 80))
    assert pen.lines[1] == "open FINE 0,80 30,40"
    assert pen.lines[3] == "text LABEL 50,20 middle 4 turn -30 bold 'out'"
    assert "~-0.4142" in pen.lines[0]
    assert "~0.4142" not in pen.lines[0]
    # In the inset y is counted down from the inset's origin.
    assert pen.lines[4] == "inset 60,60 scale 2 3 clip 0 -8 10 0"
    assert pen.lines[5] == "  circle DRILLED_HOLE 5,-4 r 2"
    assert pen.circles == [(Layer.DRILLED_HOLE, Point(70, 48), 4.0)]


def test_flipping_twice_changes_nothing():
    """Two flips are none, inset and clip included."""
    assert drawn(lambda pen: FlipPen(FlipPen(pen, 80), 80)).lines == record(PAGE).lines


def test_scaling_scales_all_lengths_and_no_shares():
    """A scaled page has all lengths times the factor; an inset's own scale is a share and stays."""
    pen = drawn(lambda pen: ScalePen(pen, 10))
    assert pen.lines[1] == "open FINE 0,0 300,400"
    assert pen.lines[3] == "text LABEL 500,600 middle 40 turn 30 bold 'out'"
    assert pen.lines[4] == "inset 600,200 scale 2 3 clip 0 0 100 80"
    assert pen.circles == [(Layer.DRILLED_HOLE, Point(700, 320), 40.0)]


@given(factor=st.floats(0.01, 100), height=st.floats(0, 1000))
def test_flipping_and_scaling_can_change_places(factor, height):
    """Scaling a flipped page, and flipping a scaled one, give the same marks."""
    first = drawn(lambda pen: FlipPen(ScalePen(pen, factor), height))
    second = drawn(lambda pen: ScalePen(FlipPen(pen, height * factor), factor))
    for (_, a, _), (_, b, _) in zip(first.circles, second.circles, strict=True):
        assert a == pytest.approx(b, abs=1e-6)
    for (_, a, _), (_, b, _) in zip(first.paths, second.paths, strict=True):
        for p, q in zip(a, b, strict=True):
            assert p == pytest.approx(q, abs=1e-6)


def test_bounds_of_marks():
    """Each mark knows the box around it: arcs bulge out, circles by their radius, insets by their clip."""
    assert Circle(Point(5, 4), 2, Layer.FINE).bounds == (3, 2, 7, 6)
    assert Fill(rectangle(4, 3)).bounds == (0, 0, 4, 3)
    assert line(Point(3, 9), Point(1, 2), Layer.FINE).bounds == (1, 2, 3, 9)
    assert outlined(slot(Point(0, 0), 10, 4), Layer.OPENING).bounds == pytest.approx((-5, -2, 5, 2))
    assert Inset(INNER, Point(60, 20), 2.0, 3.0, Rect(1, 1, 10, 8)).bounds == (62, 23, 80, 44)
    assert Inset(INNER, Point(60, 20)).bounds == (60, 20, 80, 30)


def test_bounds_of_an_open_path_count_its_corners():
    """An open path's box is that of its corners."""
    path = Path((Vertex(0, 0), Vertex(4, 0), Vertex(4, -3)), closed=False, layer=Layer.HEAVY)
    assert path.bounds == (0, -3, 4, 0)


def test_inset_leaves_out_what_its_clip_hides():
    """Marks well outside the clip are not drawn at all; those that touch it are."""
    far = Drawing(100, 100, (Circle(Point(5, 5), 2, Layer.FINE), Circle(Point(80, 80), 2, Layer.FINE)))
    pen = record(Drawing(100, 100, (Inset(far, Point(0, 0), clip=Rect(0, 0, 10, 10)),)))
    assert [centre for _, centre, _ in pen.circles] == [Point(5, 5)]


def test_every_layer_has_a_look_in_black_or_grey():
    """No layer is without a style, and no line is thinner than prints well."""
    assert set(STYLES) == set(Layer)
    assert all(style.line >= 0.13 and 0 <= style.grey < 0.6 for style in STYLES.values())
