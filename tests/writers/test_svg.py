"""SVG files as svgelements and an XML reader see them."""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Fill, Inset, Path, Text, line, outlined
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc, rectangle, slot
from nestkit.writers.svg import svg_bytes, svg_inline

SPACE = "{http://www.w3.org/2000/svg}"
PIXEL = 25.4 / 96
"""Millimetres to the unit in which svgelements gives places: 1/96 in, by the CSS definition."""


def shapes(drawing: Drawing) -> list:
    """All shapes of a drawing, as svgelements places them, in its pixels."""
    picture = svgelements.SVG.parse(io.BytesIO(svg_bytes(drawing)), reify=True)
    return [s for s in picture.elements() if isinstance(s, svgelements.Shape)]


def box_mm(shape: svgelements.Shape, height: float) -> Rect:
    """A shape's box in mm, y up again."""
    left, top, right, bottom = (v * PIXEL for v in shape.bbox())
    return Rect(left, height - bottom, right, height - top)


@pytest.mark.parametrize(
    "outline",
    [
        rectangle(100, 50, at=Point(20, 30)),
        rectangle(100, 50, radius=12, at=Point(20, 30)),
        disc(80, centre=Point(70, 60)),
        slot(Point(80, 80), 60, 20, 30),
        Outline((Vertex(20, 20, 0.2), Vertex(120, 20, -0.3), Vertex(120, 90, 2.0), Vertex(90, 100))),
    ],
)
def test_outlines_measure_what_they_are(outline):
    """Lines and arcs, both ways round and more than half a circle, have the outline's box to 0.001 mm."""
    [shape] = shapes(Drawing(200, 150, (outlined(outline, Layer.PART_EDGE),)))
    assert box_mm(shape, 150) == pytest.approx(outline.bounds, abs=1e-3)


def test_page_is_in_millimetres():
    """Width and height carry mm, the view box the same numbers: 1 user unit is 1 mm."""
    root = ET.fromstring(svg_bytes(Drawing(215.9, 279.4, (), "lid")))
    assert (root.get("width"), root.get("height")) == ("215.9mm", "279.4mm")
    assert root.get("viewBox") == "0 0 215.9 279.4"
    assert root.find(f"{SPACE}title").text == "lid"


def test_circles_and_insets_lie_true():
    """A circle stays a circle; in an inset it is moved and scaled with it, y up."""
    inner = Drawing(50, 50, (Circle(Point(10, 20), 5, Layer.DRILLED_HOLE),))
    page = Drawing(
        100, 100, (Circle(Point(30, 40), 2.5, Layer.DRILLED_HOLE), Inset(inner, Point(50, 10), 2, 2))
    )
    plain, moved = (s for s in shapes(page) if isinstance(s, svgelements.Circle))
    assert box_mm(plain, 100) == pytest.approx((27.5, 37.5, 32.5, 42.5), abs=1e-4)
    assert box_mm(moved, 100) == pytest.approx((60, 40, 80, 60), abs=1e-4)


def test_clip_is_in_the_frame_of_its_inset():
    """The clip path's rectangle lies where the inset's clip is, y down."""
    inset = Inset(
        Drawing(50, 50, (Circle(Point(10, 20), 5, Layer.FINE),)), Point(0, 0), clip=Rect(1, 2, 30, 40)
    )
    root = ET.fromstring(svg_bytes(Drawing(100, 100, (inset,))))
    window = root.find(f".//{SPACE}clipPath")
    rect = window.find(f"{SPACE}rect")
    assert [float(rect.get(k)) for k in ("x", "y", "width", "height")] == [1, -40, 29, 38]
    group = root.find(f"{SPACE}g")
    assert group.get("clip-path") == f"url(#{window.get('id')})"


def test_line_width_is_on_paper_also_in_a_scaled_inset():
    """An inset at a tenth draws its lines ten times as wide, so that they print as wide as any."""
    inner = Drawing(500, 500, (line(Point(0, 0), Point(500, 0), Layer.SAW_CUT),))
    root = ET.fromstring(svg_bytes(Drawing(100, 100, (*inner.marks, Inset(inner, Point(0, 0), 0.1, 0.1)))))
    plain, scaled = root.iter(f"{SPACE}path")
    assert float(scaled.get("stroke-width")) == pytest.approx(10 * float(plain.get("stroke-width")))
    assert scaled.get("stroke-dasharray") == "40 10 10 10"


@settings(max_examples=60)
@given(text=st.text(max_size=60), title=st.text(max_size=60))
def test_any_text_gives_a_file_that_can_be_read(text, title):
    """No text, however hostile, breaks the file or adds an element to it."""
    data = svg_bytes(Drawing(50, 50, (Text(Point(5, 5), text, 4),), title))
    root = ET.fromstring(data)
    assert [e.tag.removeprefix(SPACE) for e in root] == ["title", "defs", "text"]


def test_hostile_names_are_text():
    """Mark-up in a name is shown, not obeyed; controls are shown as codes."""
    name = "<script>alert(1)</script> & \"q\" 'a' ]]> \x1b 面"
    data = svg_bytes(Drawing(50, 50, (Text(Point(5, 5), name, 4),), name))
    assert b"<script" not in data
    root = ET.fromstring(data)
    assert root.find(f"{SPACE}text").text == name.replace("\x1b", "U+001B")


def test_text_keeps_its_place_turn_and_spaces():
    """Live text, turned about its place, with double spaces kept."""
    root = ET.fromstring(
        svg_bytes(Drawing(50, 50, (Text(Point(5, 10), "3  #2", 4, anchor="end", turn_deg=90),)))
    )
    text = root.find(f"{SPACE}text")
    assert text.get("transform") == "rotate(-90 5 40)"
    assert text.get("text-anchor") == "end"
    assert text.get("{http://www.w3.org/XML/1998/namespace}space") == "preserve"
    assert text.text == "3  #2"


def test_fills_have_no_edge():
    """A fill is its grey and nothing else."""
    root = ET.fromstring(svg_bytes(Drawing(50, 50, (Fill(rectangle(10, 10), 0.7),))))
    path = root.find(f"{SPACE}path")
    assert path.get("fill") == "#b2b2b2"
    assert path.get("stroke") is None


def test_no_colour_only_black_and_grey():
    """Every colour in a file is black or a grey."""
    marks = [line(Point(0, 0), Point(9, 9), layer) for layer in Layer]
    text = svg_bytes(Drawing(50, 50, (*marks, Fill(rectangle(5, 5), 0.3)))).decode()
    for colour in re.findall(r"#[0-9a-f]{3,6}", text):
        assert len(set(re.findall(".." if len(colour) == 7 else ".", colour[1:]))) == 1


def test_inline_has_no_header_and_its_own_ids():
    """A picture for a page is one element without header; two of them share no id."""
    clipped = Inset(Drawing(9, 9, (Circle(Point(4, 4), 2, Layer.FINE),)), Point(0, 0), clip=Rect(0, 0, 9, 9))
    page = Drawing(100, 50, (clipped, clipped), "sheet 1")
    one, two = svg_inline(page, prefix="a"), svg_inline(page, "12cm", prefix="b")
    assert one.startswith("<svg ")
    assert 'width="100%"' in one
    assert 'width="12cm"' in two
    assert "height=" not in one.split(">")[0]
    ids = [re.findall(r' id="([^"]+)"', text) for text in (one, two)]
    assert len(ids[0]) == 2
    assert not set(ids[0]) & set(ids[1])
    assert ET.fromstring(one).get("viewBox") == "0 0 100 50"


def test_same_bytes_twice_and_the_drawing_unchanged():
    """Writing leaves a drawing as it was and gives the same bytes again."""
    page = Drawing(
        80,
        60,
        (
            outlined(slot(Point(30, 30), 20, 8, 17), Layer.OPENING),
            Path((Vertex(0, 0, 0.3), Vertex(9, 9)), False, Layer.FINE),
        ),
    )
    first = svg_bytes(page)
    assert svg_bytes(page) == first
    assert not re.search(rb"\d\.\d{7,}", first)
