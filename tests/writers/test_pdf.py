"""PDF files as pdfium sees them."""

from __future__ import annotations

import math
import unicodedata

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab import rl_config

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Fill, Inset, Path, Text, line, outlined
from nestkit.drawing.type import text_width
from nestkit.geometry.outline import Arc, Outline, Vertex, arc_of
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc, rectangle, slot
from nestkit.text import TYPE_LETTERS
from nestkit.writers.pdf import pdf_bytes
from nestkit.writers.pdf_operators import POINTS_PER_MM, curves
from tests.drawing.bench import read


def one_page(*marks, width: float = 300, height: float = 300):
    """A page of marks, as pdfium reads it."""
    [page] = read(pdf_bytes([Drawing(width, height, marks)], title="t"))
    return page


def test_pages_have_their_own_sizes():
    """Each page is as large as its drawing, from a label to five metres off a roll."""
    sizes = [(215.9, 279.4), (297, 210), (609.6, 5000), (50, 30)]
    pages = read(
        pdf_bytes([Drawing(w, h, (Circle(Point(9, 9), 2, Layer.FINE),)) for w, h in sizes], title="t")
    )
    for page, (width, height) in zip(pages, sizes, strict=True):
        assert (page.width, page.height) == pytest.approx((width, height), abs=1e-3)


@pytest.mark.parametrize("radius", [0.5, 2.8067, 50.0, 145.0])
def test_circles_are_round_and_in_place(radius):
    """A circle's outermost points lie where they belong to a micrometre's part."""
    page = one_page(Circle(Point(150, 150), radius, Layer.DRILLED_HOLE))
    [(centre, across, up)] = [p.circle for p in page.paths]
    assert centre == pytest.approx((150, 150), abs=1e-3)
    assert (across, up) == pytest.approx((radius, radius), abs=1e-3)


@pytest.mark.parametrize("radius", [0.3, 3.0, 40.0, 1000.0, 5000.0])
@pytest.mark.parametrize("sweep", [360.0, -270.0, 90.0, 33.0, -1.5])
def test_curves_stray_less_than_a_micrometre_from_their_arc(radius, sweep):
    """Every place on the curves lies within 0.001 mm of the arc, up to a radius of several metres."""
    bent = curves(Arc(Point(0, 0), radius * POINTS_PER_MM, 20.0, sweep))
    start = Point(radius * POINTS_PER_MM, 0).turned(20)
    for x1, y1, x2, y2, x3, y3 in bent:
        for i in range(21):
            t = i / 20
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            x = a * start.x + b * x1 + c * x2 + d * x3
            y = a * start.y + b * y1 + c * y2 + d * y3
            assert abs(math.hypot(x, y) / POINTS_PER_MM - radius) < 0.001
        start = Point(x3, y3)
    assert start == pytest.approx(Point(radius * POINTS_PER_MM, 0).turned(20 + sweep), abs=1e-6)


@pytest.mark.parametrize(
    "outline",
    [
        rectangle(100, 50, radius=12, at=Point(20, 30)),
        slot(Point(80, 80), 60, 20, 30),
        disc(80, centre=Point(70, 60)),
        Outline((Vertex(20, 20, 0.2), Vertex(120, 20, -0.3), Vertex(120, 90, 2.0), Vertex(90, 100))),
    ],
)
def test_corners_of_outlines_lie_true(outline):
    """Every corner of an outline is on its closed path, and all else on that path is on an arc."""
    [path] = one_page(outlined(outline, Layer.PART_EDGE)).paths
    assert path.closed
    for vertex in outline.vertices:
        assert min(vertex.point.to(p) for p in path.points) < 1e-3
    arcs = [arc_of(a.point, b.point, a.bulge) for a, b in outline.edges() if a.bulge]
    for p in path.points:
        near = [abs(p.to(arc.centre) - arc.radius) for arc in arcs]
        assert min([*near, *(v.point.to(p) for v in outline.vertices)]) < 1e-3


def test_insets_move_scale_and_clip():
    """What stands in an inset lies where its place, its two scales and outer insets put it."""
    inner = Drawing(50, 50, (Circle(Point(10, 20), 5, Layer.FINE),))
    middle = Drawing(100, 100, (Inset(inner, Point(5, 5), 2.0, 1.0),))
    page = one_page(Inset(middle, Point(100, 50), 0.5, 0.5, Rect(0, 0, 90, 90)))
    [(centre, across, up)] = [p.circle for p in page.paths]
    assert centre == pytest.approx((100 + 0.5 * (5 + 20), 50 + 0.5 * (5 + 20)), abs=1e-3)
    assert (across, up) == pytest.approx((5.0, 2.5), abs=1e-3)


def test_line_width_is_on_paper_also_in_a_scaled_inset():
    """Lines of an inset at a tenth print as wide as any other."""
    inner = Drawing(900, 900, (line(Point(0, 0), Point(900, 0), Layer.HEAVY),))
    data = pdf_bytes([Drawing(100, 100, (Inset(inner, Point(5, 50), 0.1, 0.1),))], title="t")
    document = pypdfium2.PdfDocument(data)
    grey = document[0].render(scale=8).to_pil().convert("L")
    column = [grey.getpixel((400, y)) for y in range(grey.height)]
    dark = sum(255 - v for v in column) / 255
    assert dark / 8 / POINTS_PER_MM == pytest.approx(0.7, abs=0.05)
    document.close()


def test_clip_hides_what_lies_outside():
    """A disc that reaches over the clip is cut off there."""
    inner = Drawing(50, 50, (Fill(disc(40, centre=Point(25, 25)), 0.0),))
    data = pdf_bytes([Drawing(50, 50, (Inset(inner, Point(0, 0), clip=Rect(0, 0, 25, 50)),))], title="t")
    document = pypdfium2.PdfDocument(data)
    picture = document[0].render(scale=2).to_pil().convert("L")
    assert picture.getpixel((int(20 * 2 * POINTS_PER_MM), int(25 * 2 * POINTS_PER_MM))) < 20
    assert picture.getpixel((int(30 * 2 * POINTS_PER_MM), int(25 * 2 * POINTS_PER_MM))) > 235
    document.close()


def test_text_is_live_and_in_place():
    """pdfium finds the text; its start is where anchor and turn put it."""
    marks = (
        Text(Point(100, 100), "15/16 Ø ½ lid", 5, anchor="end"),
        Text(Point(100, 200), "up", 5, turn_deg=90, anchor="middle"),
    )
    page = one_page(*marks)
    first, second = page.texts
    assert first[0] == "15/16 Ø ½ lid"
    assert first[1] == pytest.approx((100 - text_width("15/16 Ø ½ lid", 5), 100), abs=1e-2)
    assert second[1] == pytest.approx((100, 200 - text_width("up", 5) / 2), abs=1e-2)


@settings(max_examples=40, deadline=None)
@given(text=st.text(max_size=60))
def test_any_text_gives_a_file_that_can_be_read(text):
    """No text, however hostile, breaks the file or its title."""
    data = pdf_bytes([Drawing(50, 50, (Text(Point(5, 5), text, 4),))], title=text, subject=text)
    document = pypdfium2.PdfDocument(data)
    assert len(document) == 1
    document.close()


def test_letters_without_a_shape_are_shown_as_codes():
    """A letter that the type lacks is printed as its code, never as an empty box."""
    page = one_page(Text(Point(5, 5), "面 lid", 4))
    assert page.words.strip() == "U+9762 lid"


def test_viewer_is_asked_not_to_scale_and_told_what_it_is():
    """PDF 1.7, PrintScaling None, title and maker set, no date of today."""
    data = pdf_bytes([Drawing(50, 50, ())], title="lid", subject="template")
    assert data.startswith(b"%PDF-1.7")
    document = pypdfium2.PdfDocument(data)
    assert pdfium.FPDF_VIEWERREF_GetPrintScaling(document) == 0
    about = document.get_metadata_dict()
    assert (about["Title"], about["Author"], about["Subject"]) == ("lid", "nestkit", "template")
    assert about["Producer"].startswith("nestkit")
    assert about["Creator"].startswith("nestkit")
    assert about["CreationDate"].startswith("D:2000")
    document.close()


def test_same_bytes_twice_whatever_was_written_between():
    """Writing is the same again, also after another file used the same types; settings are put back."""
    page = Drawing(
        80,
        60,
        (Text(Point(5, 5), "Ø ½ abc", 4, bold=True), outlined(slot(Point(30, 30), 20, 8, 17), Layer.MARK)),
    )
    before = rl_config.useA85
    first = pdf_bytes([page, page], title="t")
    pdf_bytes([Drawing(50, 50, (Text(Point(5, 5), "zyxwvu", 4),))], title="other")
    assert pdf_bytes([page, page], title="t") == first
    assert rl_config.useA85 == before


def test_a_file_needs_a_page():
    """Without a drawing there is nothing to write."""
    with pytest.raises(ValueError, match="at least one page"):
        pdf_bytes([], title="t")


def test_open_path_stays_open():
    """An open path of two points is one line of two points: what a check ruler must be."""
    [path] = one_page(Path((Vertex(10, 10), Vertex(210, 10)), False, Layer.FINE)).paths
    assert len(path.points) == 2
    assert not path.closed
    assert path.box.width == pytest.approx(200, abs=1e-3)


def test_every_letter_of_the_type_is_live_text_on_one_page():
    """All letters of the type, more than one table of a PDF holds, and those that its strings escape."""
    letters = [chr(c) for first, last in TYPE_LETTERS for c in range(first, last + 1)]
    letters = [c for c in letters if not c.isspace() and not 0x300 <= ord(c) < 0x370]
    assert len(letters) > 256
    for bold in (False, True):
        lines = ["".join(letters[i : i + 20]) for i in range(0, len(letters), 20)]
        marks = [Text(Point(5, 5 + 10 * i), text, 4, bold=bold) for i, text in enumerate(lines)]
        # A line that goes on in another table is two texts.
        found = "".join(text for text, _ in one_page(*marks).texts)
        assert unicodedata.normalize("NFKD", found) == unicodedata.normalize("NFKD", "".join(lines))


@pytest.mark.parametrize("text", ["(a) 1/2", ") \\ (", "\\053 \\n"])
def test_brackets_and_backslashes_come_out_as_they_are(text):
    """What a PDF's strings mean otherwise is printed as it was written."""
    assert one_page(Text(Point(5, 5), text, 4)).words.strip() == text
