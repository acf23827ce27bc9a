"""What templates show and say: every face and hand, words, labels, seams, names however extreme."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import svgelements

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Inset
from nestkit.drawing.record import dump, record
from nestkit.drawing.template import template, template_pages
from nestkit.errors import UserError
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import corners_cut, rectangle
from nestkit.job.model import Job, Paper, Printing
from nestkit.parts.panel import Panel
from nestkit.writers.job_files import template_files
from nestkit.writers.pdf import pdf_bytes
from nestkit.writers.svg import svg_bytes
from tests.drawing import bench
from tests.drawing.bench import BORDER

GOLDEN = Path(__file__).parent.parent / "golden"
TRUE = 0.01
"""Millimetres: what is printed may differ by this from what was asked for."""


def test_svg_is_the_whole_part_nominal():
    """The SVG holds outline and holes at nominal size in mm, whatever the printer's scale."""
    part = bench.lid()
    data = svg_bytes(template(bench.job(part, scale_x=0.9, scale_y=1.1), part))
    # svgelements works in pixels of 1/96 in.
    picture = svgelements.SVG.parse(io.BytesIO(data), reify=True)
    pixel = 25.4 / 96
    shapes = list(picture.elements())
    circles = [s for s in shapes if isinstance(s, svgelements.Circle)]
    outline = max(
        (s.bbox() for s in shapes if isinstance(s, svgelements.Path)),
        key=lambda b: (b[2] - b[0]) * (b[3] - b[1]),
    )
    assert (outline[2] - outline[0]) * pixel == pytest.approx(368.3, abs=TRUE)
    assert (outline[3] - outline[1]) * pixel == pytest.approx(247.65, abs=TRUE)
    for hole in part.holes:
        x, y = outline[0] + hole.at.x / pixel, outline[3] - hole.at.y / pixel
        assert any(
            abs(c.cx - x) * pixel < TRUE
            and abs(c.cy - y) * pixel < TRUE
            and abs(2 * c.rx * pixel - hole.dia) < TRUE
            for c in circles
        ), hole


@pytest.mark.parametrize(("unit", "words"), [("in", "must read 8.000,"), ("mm", "must read 210.0,")])
def test_whole_part_page_has_long_rulers_however_small_the_part(unit, words):
    """A page of its own size has room for two rulers of 8 in or 200 mm and more."""
    part = bench.panel(25, 12, name="shim")
    said = [text for text, _ in record(template(bench.job(part, unit=unit), part)).texts if "CHECK" in text]
    assert len(said) == 2
    assert words in said[0]
    assert "must read 8.000," in said[1] or "must read 200.0," in said[1]


def rings(job: Job, part: Panel, **view: bool) -> list[tuple[float, float, float]]:
    """Hole rings of the whole-part page, from the left lower corner of the outline."""
    pen = record(template(job, part, **view))
    edges = [points for layer, points, _ in pen.paths if layer == Layer.PART_EDGE]
    left, bottom = min(p.x for p in edges[0]), min(p.y for p in edges[0])
    return [
        (round(c.x - left, 6), round(c.y - bottom, 6), radius)
        for layer, c, radius in pen.circles
        if layer == Layer.DRILLED_HOLE
    ]


@pytest.mark.parametrize("part", [bench.lid(), bench.bracket(), bench.gusset()], ids=lambda p: p.name)
def test_back_and_opposite_hand_are_mirrors(part):
    """Back and opposite hand have every hole at width - x; the back of the opposite hand is as drawn."""
    job = bench.job(part)
    drawn = rings(job, part)
    mirrored = [(round(float(part.width) - x, 6), y, r) for x, y, r in drawn]
    assert mirrored != drawn
    assert rings(job, part, opposite=True) == mirrored
    assert rings(job, part, back=True) == mirrored
    assert rings(job, part, opposite=True, back=True) == drawn


def texts(job: Job, part: Panel, **view: bool) -> list[str]:
    """All texts of the pages of a template."""
    return [text for page in template_pages(job, part, **view) for text, _ in record(page).texts]


def test_each_print_says_its_face_hand_and_datum():
    """Face, hand and datum corner are said in words, differently for each of the four prints."""
    part = bench.bracket()
    job = bench.job(part)
    drawn, opposite = texts(job, part), texts(job, part, opposite=True)
    back, both = texts(job, part, back=True), texts(job, part, opposite=True, back=True)
    assert "THIS FACE UP" in drawn
    assert "DATUM" in drawn
    assert not any("OPPOSITE" in t or "BACK" in t for t in drawn)
    assert "OPPOSITE HAND" in opposite
    assert "THIS FACE UP" in opposite
    assert "BACK FACE - MIRRORED" in back
    assert "DATUM (BACK)" in back
    assert "DATUM" not in back
    assert not any("THIS FACE UP" in t for t in back + both)
    assert {"OPPOSITE HAND", "BACK FACE - MIRRORED"} <= set(both)


def test_datum_of_a_back_has_another_shape_at_the_other_corner():
    """One bracket at the lower left of a face, two at the lower right of a back."""
    part = bench.bracket()
    for back, count in ((False, 1), (True, 2)):
        pen = record(template(bench.job(part), part, back=back))
        edge = next(points for layer, points, _ in pen.paths if layer == Layer.PART_EDGE)
        middle = (min(p.x for p in edge) + max(p.x for p in edge)) / 2
        brackets = [points for layer, points, _ in pen.paths if layer == Layer.HEAVY]
        assert len(brackets) == count
        assert all((points[1].x > middle) == back for points in brackets)


def test_marks_are_not_shown_on_the_back():
    """A text on the face that is up does not appear on a back, and the back says so."""
    part = bench.lid()
    job = bench.job(part, paper="roll 24 in")
    assert "BATTERY" in texts(job, part)
    back = texts(job, part, back=True)
    assert "BATTERY" not in back
    assert any("on the other face" in t for t in back)


def test_words_of_the_title_block_and_the_hole_table():
    """What the bench needs is on the first page: part, job, stock, count, drills and table, cautions."""
    part = bench.lid()
    pages = bench.read(pdf_bytes(template_pages(bench.job(part), part), title=part.name))
    first = " ".join(pages[0].words.split())
    for wanted in (
        "console lid", "Solar boat: console and hatches", "polycarbonate, .118 in thick (sold as 1/8)",
        "2 + 1 spare", "14 1/2 x 9 3/4 in", "2026-03-01", "#2", ".221 in 5.61 mm", "hinge: 10-32 normal",
        "ASME B18.2.8, normal fit", "1 to 4", "5 to 10", "Saw to size first. This line means: edge here.",
        "The shop's rules",
    ):  # fmt: skip
        assert wanted in first, wanted
    for page in pages[1:]:
        assert "Print at 100 %, do not fit to page." in page.words
        assert "THIS FACE UP" in page.words
        assert "console lid" in page.words
        assert "inch · 1:1" in page.words
    labels = " ".join(" ".join(page.words for page in pages[1:]).split())
    for wanted in ("1 #2 .221", "5 #7 .201", "12 1/4 .250"):
        assert wanted in labels


def test_label_in_millimetres_names_the_diameter_once():
    """A metric drill is its diameter; it is not said twice."""
    assert "3  Ø5.5" in texts(bench.job(bench.hatch(), unit="mm", paper="A4"), bench.hatch())


@pytest.mark.parametrize(
    ("part", "how", "order"),
    [
        (bench.deck(), "saw", "Saw to size first. This line means: edge here."),
        (
            bench.deck(),
            "router",
            "Edges and holes are cut by router: nothing to drill. This print is for checking.",
        ),
        (bench.bracket(), "saw", "Saw to size first. This line means: edge here. Corners and notches last."),
        (bench.hatch(), "saw", "Saw the box to size first, 150 x 150 mm. Drill, then cut the outline last."),
        (bench.gusset(), "jigsaw", "Drill first, cut last, outside the line."),
    ],
)
def test_order_of_work_follows_outline_and_way_of_cutting(part, how, order):
    """A rectangle is cut first, an odd outline last; a saw makes the box first."""
    assert order in texts(bench.job(part, unit="mm", paper="A3", how=how), part)


def test_neighbours_name_each_other():
    """Each tile says which page joins at which side, and the other says the same of it."""
    part = bench.deck()
    pages = template_pages(bench.job(part, all_pages=True), part)
    joins: dict[int, set[int]] = {}
    for number, page in enumerate(pages, start=1):
        words = [t for t, _ in record(page).texts if " joins here" in t]
        joins[number] = {int(t.split()[1]) for t in words}
    assert joins.pop(1) == set()
    assert len(joins) == len(pages) - 1
    for here, others in joins.items():
        assert 2 <= len(others) <= 4
        assert all(here in joins[other] for other in others)


def test_no_label_is_cut_by_a_seam():
    """Each label of a tiled template is whole on a page."""
    part = bench.deck()
    pages = template_pages(bench.job(part), part)
    for hole in part.holes:
        shown = [
            window.clip
            for page in pages[1:]
            for window in page.marks
            if hasattr(window, "clip") and window.clip is not None
            for mark in window.drawing.marks
            if getattr(mark, "text", "").startswith(f"{hole.number}  ")
            and window.clip.left <= mark.bounds.left
            and mark.bounds.right <= window.clip.right
            and window.clip.bottom <= mark.bounds.bottom
            and mark.bounds.top <= window.clip.top
        ]
        assert shown, hole


def test_holes_without_room_for_a_label_are_listed():
    """Where the drawing is too crowded, every hole's place from the datum is listed; none is lost."""
    part = bench.dense()
    job = bench.job(part, unit="mm", paper="A4")
    for pages in (template_pages(job, part), (template(job, part),)):
        words = [t for page in pages for t, _ in record(page).texts]
        for hole in part.holes:
            assert f"{hole.number}: {hole.at.x:g}, {hole.at.y:g}" in words
    listed = [t for t, _ in record(template(job, part, back=True)).texts]
    assert "1: 20, 20" in listed
    assert any("left and up from DATUM" in t for t in listed)


@pytest.mark.parametrize(
    "name",
    [
        "W" * 60,
        "中文字面板零件" * 8,
        "<script>alert('x')</script> & \"quotes\"",
        "ÄÖÜ ½ Ø ° ±",
        "\U0001f6a4 boat",
    ],
)
def test_extreme_names_stay_inside_and_harm_nothing(name):
    """Any name is printed, cut at the title if need be but whole in the facts, and stays on its page."""
    for base in (bench.bracket(), bench.deck()):
        part = replace(base, name=name[:60])
        job = bench.job(part)
        for page in template_pages(job, part):
            boxes = [mark.bounds for mark in page.marks]
            assert all(b.right < page.width - BORDER and b.left > BORDER for b in boxes)
            titles = [m for m in page.marks if getattr(m, "bold", False) and m.height >= 6.0]
            boxes = [m.bounds for m in titles]
            assert not any(a.grown(-0.3).meets(b.grown(-0.3)) for i, a in enumerate(boxes) for b in boxes[:i])
        data = pdf_bytes(template_pages(job, part), title=part.name)
        assert len(bench.read(data)) == len(template_pages(job, part))
        svg = svg_bytes(template(job, part)).decode()
        assert "<script" not in svg
        svgelements.SVG.parse(io.BytesIO(svg.encode()))


def test_same_bytes_twice():
    """Drawing and writing twice gives the same files."""
    part = bench.lid()
    job = bench.job(part)
    assert pdf_bytes(template_pages(job, part), title="lid") == pdf_bytes(
        template_pages(job, part), title="lid"
    )
    assert svg_bytes(template(job, part)) == svg_bytes(template(job, part))


def test_a_reader_is_asked_not_to_scale():
    """pdfium reads PrintScaling None: the viewer's own fitting is off."""
    part = bench.bracket()
    document = pypdfium2.PdfDocument(pdf_bytes(template_pages(bench.job(part), part), title="x"))
    assert pdfium.FPDF_VIEWERREF_GetPrintScaling(document) == 0
    document.close()


def test_small_paper_is_refused_with_a_remedy():
    """Paper too small to be joined, or needing hundreds of pages, is a mistake that says what to do."""
    part = bench.deck()
    job = bench.job(part)
    tiny = replace(job, printing=Printing(Paper("60 x 80", 60, 80)))
    with pytest.raises(UserError, match="choose a larger paper or a roll"):
        template_pages(tiny, part)
    huge = bench.panel(20_000, 20_000)
    with pytest.raises(UserError, match="more than anyone can join"):
        template_pages(bench.job(huge), huge)


def test_a_cover_too_long_for_a_page_goes_on_and_says_so():
    """With fifty groups of holes the table takes further pages, each named and numbered, no row lost."""
    groups = [(f"group {i}", replace(bench.NO_7, dia=4.0 + i / 100), [(20 + 12 * i, 300)]) for i in range(50)]
    part = bench.panel(640, 600, name="rack rail", holes=bench.numbered_holes(*groups))
    pages = bench.read(pdf_bytes(template_pages(bench.job(part, all_pages=True), part), title="x"))
    covers = [page for page in pages if "joins here" not in page.words]
    assert len(covers) > 1
    for number, page in enumerate(covers[1:], start=2):
        assert "rack rail" in page.words
        assert f"page {number} of {len(pages)}" in " ".join(page.words.split())
    words = "\n".join(page.words for page in covers)
    assert all(f"group {i}" in words for i in range(50))


def test_small_parts_say_their_face_in_smaller_type():
    """Words that would not fit a small part in large type stand on it in smaller type, not nowhere."""
    large, small = (
        bench.panel(120, 80),
        bench.panel(56, 40, holes=bench.numbered_holes(("a", bench.M5, [(10, 20)]))),
    )
    sizes = []
    for part in (large, small):
        page = template(bench.job(part), part)
        window = next(m for m in page.marks if isinstance(m, Inset))
        sizes.append([m.height for m in window.drawing.marks if getattr(m, "text", "") == "THIS FACE UP"])
    assert sizes == [[7.0], [5.0]]


def test_no_date_prints_none():
    """Without a date in the job no date is on the print: the clock is never read."""
    part = bench.bracket()
    words = texts(replace(bench.job(part), date=None), part)
    assert not any("Date" in t or "2026" in t for t in words)


def test_golden_small_template():
    """A small template is drawn as it was when it was last looked at."""
    part = bench.panel(
        60,
        40,
        name="tag",
        outline=rectangle(60, 40),
        holes=bench.numbered_holes(("ends", bench.M5, [(10, 20), (50, 20)])),
    )
    want = (GOLDEN / "template_tag.txt").read_text(encoding="utf-8")
    [page] = template_pages(bench.job(part, unit="mm", paper="A4"), part)
    assert dump(page) == want


def test_a_template_that_no_paper_can_hold_loses_no_other():
    """In a whole job its PDF says why it is not printed and where it is whole; alone it is refused."""
    huge = bench.panel(8000, 3500, name="deck outline", shape="points")
    job = bench.job(huge, unit="mm", paper="A4", how="jigsaw")
    with pytest.raises(UserError, match="more than anyone can join"):
        list(template_files(job, [huge]))
    files = dict(template_files(job, [huge], instead=True))
    [page] = bench.read(files["deck-outline.pdf"])
    words = " ".join(page.words.split())
    assert "This template is not printed here." in words
    assert "choose a larger [printing] paper or a roll." in words
    assert b"<svg" in files["deck-outline.svg"]


def test_a_hole_that_no_page_shows_whole_has_its_number_and_costs_no_overlap():
    """A 150 mm hole is named or listed though it lies on a seam, and other holes are printed once."""
    holes = bench.numbered_holes(
        ("middle", replace(bench.QUARTER, dia=150.0), [(250, 250)]),
        ("ring", bench.M5, [(30, 30), (470, 470)]),
    )
    part = bench.panel(500, 500, name="ring", holes=holes, shape="points")
    job = bench.job(part, unit="mm", paper="A4", how="jigsaw")
    pages = bench.read(pdf_bytes(template_pages(job, part), title="x"))
    assert "overlap 12 mm" in " ".join(pages[0].words.split())
    assert any("Ø150" in page.words for page in pages[1:])
    assert sum(len(page.circles(bench.M5.dia, bench.M5.dia)) for page in pages) == 2


@pytest.mark.parametrize(
    ("part", "how", "words"),
    [
        (bench.gusset(), "jigsaw", "where the picture of the sheet has this part"),
        (bench.gusset(), "router", "Lay its outline on the edges of the part"),
        (bench.gusset(), "saw", "Lay its lines on the sawn edges"),
    ],
)
def test_a_joined_print_says_what_it_is_laid_on(part, how, words):
    """Sawn edges, edges that a machine has cut, or the uncut sheet: what is there by then."""
    holes = bench.numbered_holes(("a", replace(bench.M5, dia=2.0), [(60, 500), (60, 100)]))
    large = bench.panel(500, 600, shape="points", holes=holes, name="large")
    job = bench.job(large, unit="mm", paper="A4", how=how, all_pages=True)
    cover = bench.read(pdf_bytes(template_pages(job, large), title="x"))[0]
    assert words in " ".join(cover.words.split())


def test_the_sawn_box_is_drawn_where_the_outline_is_cut_later():
    """Under a saw every page of an odd outline has the straight edges that it is laid by, and says so."""
    part = bench.panel(
        381, 228.6, name="half", shape="points",
        outline=corners_cut([Point(0, 0), Point(381, 0), Point(330, 228.6), Point(13, 180)]),
        holes=bench.numbered_holes(("a", bench.NO_2, [(30, 20), (350, 20)])),
    )  # fmt: skip
    job = bench.job(part, paper="letter")
    pages = bench.read(pdf_bytes(template_pages(job, part), title="x"))
    for page in pages[1:]:
        boxes = [
            p for p in page.paths
            if p.closed and len(set(p.points)) == 4
            and abs(p.box.width - 381) < TRUE and abs(p.box.height - 228.6) < TRUE
            and {round(q.x - p.box.left) for q in p.points} == {0, 381}
        ]  # fmt: skip
        assert boxes
        assert "SAWN EDGE" in page.words
