"""Marking-out tables: every hole of every panel and hand, legible, true, on paper."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.marking_out import drilled, marking_pages
from nestkit.drawing.marking_table import error_text, measured_text
from nestkit.drawing.marking_words import how_to_mark
from nestkit.drawing.template import template_pages
from nestkit.geometry.points import Point
from nestkit.job.model import Paper
from nestkit.job.reader import read_job, read_text
from nestkit.job.settings import LEAST_PRINT, known_paper
from nestkit.parts.marking import Dimension, marked
from nestkit.trade.cautions import cautions
from nestkit.units import parse_length
from nestkit.writers.pdf import pdf_bytes

SAMPLES = Path(__file__).resolve().parent.parent.parent / "sample_parts"

JOB = """
job = "marks"
unit = "mm"
[cutting]
how = "saw"
kerf = 3
[[panel]]
name = "plate"
material = "MDF"
thickness = 6
size = [2400, 1200]
opposite_hand = 1
[[panel.holes]]
name = "g"
dia = 5
grid = {{ start = [20, 20], columns = {columns}, rows = {rows}, pitch = [11.3, 9.7] }}
"""


@pytest.mark.parametrize("sample", ["solar_boat", "rescue_float"])
def test_every_hole_of_every_hand_stands_in_the_tables(sample):
    """pdfium reads each panel's page: title, hand, and a line for each hole that is drilled by hand."""
    job = read_job(SAMPLES / f"{sample}.toml")
    document = pypdfium2.PdfDocument(pdf_bytes(marking_pages(job), title="marking out"))
    pages = [page.get_textpage().get_text_range() for page in document]
    document.close()
    for panel in (p for p in job.panels if drilled(job, p)):
        for opposite in [False] * bool(panel.quantity) + [True] * bool(panel.opposite_hand):
            title = f"{panel.name}, OPPOSITE HAND" if opposite else panel.name
            mine = "\n".join(p for p in pages if p.splitlines()[0].removesuffix(" (continued)") == title)
            assert mine, title
            shown = panel.mirrored() if opposite else panel
            for m in marked(drilled(job, shown), job.marking_to):
                x, y = measured_text(m.x, job.unit), measured_text(m.y, job.unit)
                words = " ".join(mine.split())
                row = f"{m.hole.number} {x} {error_text(m.x, job.unit)} {y} {error_text(m.y, job.unit)}"
                assert row in words, (title, row)


@given(columns=st.integers(1, 16), rows=st.integers(1, 16), paper=st.sampled_from(["A4", "letter", "A3"]))
@settings(max_examples=25, deadline=None)
def test_any_number_of_holes_stays_on_the_page_without_overlap(columns, rows, paper):
    """However many holes: each once, no text over another or over the page's edge."""
    job = read_text(JOB.format(columns=columns, rows=rows), Path())
    job = replace(job, printing=replace(job.printing, paper=known_paper(paper)))
    numbers = []
    for page in marking_pages(job):
        boxes = [m.bounds for m in page.marks]
        for i, box in enumerate(boxes):
            assert min(box.left, box.bottom) >= 0
            assert box.right <= page.width
            assert box.top <= page.height
            assert not any(box.meets(other) for other in boxes[:i])
        left = min(m.at.x for m in page.marks)
        numbers += [int(m.text) for m in page.marks if m.at.x == left and m.text.isdigit()]
    assert sorted(numbers) == sorted([*range(1, columns * rows + 1)] * 2)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("long", [False, True])
def test_the_smallest_paper_holds_every_word(unit, long):
    """Down to the least paper: caution whole, no cell of the table in two lines, no name cut short."""
    job = read_text(JOB.format(columns=7, rows=9), Path())
    job = replace(job, unit=unit, marking_to=job.marking_to if unit == "mm" else Fraction("25.4") / 32)
    least = Paper("least", float(LEAST_PRINT.short), float(LEAST_PRINT.long))
    (panel,) = job.panels
    if long:
        sixty = "a name of sixty letters as long as any that a job may have x"
        panel = replace(panel, name=sixty, used_for=sixty, material=sixty)
        job = replace(job, name=f"{sixty} {sixty}"[:120])
    job = replace(job, panels=(panel,), printing=replace(job.printing, paper=least))
    pages = marking_pages(job)
    numbers = []
    for page in pages:
        boxes = [m.bounds for m in page.marks]
        for i, box in enumerate(boxes):
            assert min(box.left, box.bottom, page.width - box.right, page.height - box.top) >= 6.35
            assert not any(box.meets(other) for other in boxes[:i])
        texts = [m.text for m in page.marks]
        flat = " ".join(texts)
        assert "…" not in flat
        assert cautions("footer")[-1] in flat
        assert min(m.height for m in page.marks) >= 2.4
        assert not {"right", "out", f"[{unit}]"} & set(texts)
        left = min(m.at.x for m in page.marks)
        rows = {m.at.y for m in page.marks if m.at.x == left and m.text.isdigit()}
        assert sum(m.at.y in rows for m in page.marks) == 6 * len(rows)
        numbers += [int(m.text) for m in page.marks if m.at.x == left and m.text.isdigit()]
    assert sorted(numbers) == sorted([*range(1, 64)] * 2)
    flat = " ".join(m.text for m in pages[0].marks)
    assert panel.name in flat
    assert job.name in flat


def test_paper_that_no_job_may_have_does_not_hang():
    """On paper too small for anything every page still takes a row: the tables come to an end."""
    job = read_text(JOB.format(columns=3, rows=2), Path())
    job = replace(job, printing=replace(job.printing, paper=Paper("stamp", 60.0, 60.0)))
    assert len(marking_pages(job)) < 20


def test_the_longest_names_fit():
    """A name and a purpose of 60 letters each lie on the page and leave the table legible."""
    job = read_text(JOB.format(columns=3, rows=3), Path())
    wide = replace(job.panels[0], name="W" * 60, used_for="M" * 60, material="MDF " + "Q" * 50)
    for page in marking_pages(replace(job, panels=(wide,))):
        boxes = [m.bounds for m in page.marks]
        assert all(b.right <= page.width for b in boxes)
        assert not any(a.meets(b) for i, a in enumerate(boxes) for b in boxes[:i])


@pytest.mark.parametrize("unit", ["in", "mm"])
@given(steps=st.integers(0, 4000))
@settings(max_examples=50)
def test_what_is_printed_is_what_is_meant(unit, steps):
    """The printed dimension, read as a length again, is the rounded one."""
    step = Fraction("25.4") / 64 if unit == "in" else Fraction(1, 2)
    measured = steps * step
    assert parse_length(measured_text(Dimension(measured, Fraction(0)), unit), unit) == measured


def test_errors_are_told_and_small_ones_in_words():
    """A rounding error has its sign; none is said to be exact, and one too small to show is not."""
    assert error_text(Dimension(Fraction(1), Fraction(0)), "in") == "exact"
    assert error_text(Dimension(Fraction(1), Fraction("0.2032")), "in") == "+.008"
    assert error_text(Dimension(Fraction(1), Fraction("-0.12")), "mm") == "-0.12"
    assert error_text(Dimension(Fraction(1), Fraction("-0.001")), "mm") == "under 0.01"
    assert error_text(Dimension(Fraction(1), Fraction("0.001")), "in") == "under .001"


@pytest.mark.parametrize(
    ("material", "word"),
    [
        ("acrylic", "No blow"),
        ("polycarbonate", "prick lightly"),
        ("plywood birch", "awl"),
        ("aluminium", "punch"),
    ],
)
def test_the_mark_suits_the_material(material, word):
    """No scriber on plastics, no blow on acrylic, awl in wood, punch on metal (rules R098 to R101)."""
    assert word in how_to_mark(material)


def test_an_opposite_hand_is_the_mirror_of_its_twin():
    """Measured from their own lower left corners, x of one is the width less x of the other."""
    panel = read_text(JOB.format(columns=4, rows=2), Path()).panels[0]
    drawn, mirrored = marked(panel.holes, Fraction(1, 2)), marked(panel.mirrored().holes, Fraction(1, 2))
    for a, b in zip(drawn, mirrored, strict=True):
        assert a.hole.number == b.hole.number
        assert b.hole.at == Point(pytest.approx(2400 - a.hole.at.x), a.hole.at.y)


def test_where_one_hand_serves_as_the_other_one_table_does():
    """Faces alike: all copies are marked out as drawn from one table, which says how many and why."""
    job = read_text(JOB.format(columns=2, rows=2), Path())
    (panel,) = job.panels
    for quantity, spare in ((1, 0), (0, 2)):
        both = replace(panel, quantity=quantity, opposite_hand=1, spare=spare, faces="alike")
        (page,) = marking_pages(replace(job, panels=(both,)))
        said = " ".join(m.text for m in page.marks)
        assert "plate" in said
        assert "OPPOSITE HAND" not in said
        assert f"Make {quantity + 1}{f' + {spare} spare' if spare else ''} ·" in said
        assert "Faces alike: turned over, it is the opposite hand." in said
    assert len(marking_pages(replace(job, panels=(replace(panel, quantity=2),)))) == 2


def test_the_same_job_gives_the_same_bytes():
    """The tables are written twice alike."""
    job = read_job(SAMPLES / "rescue_float.toml")
    assert pdf_bytes(marking_pages(job), title="x") == pdf_bytes(marking_pages(job), title="x")


ROUTED = """
job = "routed"
unit = "mm"
[cutting]
how = "router"
kerf = 6
[[panel]]
name = "plate"
material = "MDF"
thickness = 6
size = [200, 150]
[[panel.holes]]
name = "large"
dia = 10
corners = 20
{small}
"""
SMALL = '[[panel.holes]]\nname = "small"\ndrill = "3.3"\nat = [[100, 75]]'


def test_holes_that_the_router_cuts_are_not_marked_out():
    """A table lists only what is left to drill, says so, and is left out where nothing is."""
    job = read_text(ROUTED.format(small=SMALL), Path())
    texts = [m.text for page in marking_pages(job) for m in page.marks]
    assert "4 of its holes are cut with the part and are not listed here." in texts
    assert "5" in texts
    assert not {"1", "2", "3", "4"} & set(texts)
    assert marking_pages(read_text(ROUTED.format(small=""), Path())) == ()


def test_templates_say_which_holes_the_router_has_cut():
    """Order, hole table and labels tell the holes that are there from the one that is left to drill."""
    job = read_text(ROUTED.format(small=SMALL), Path())
    pages = template_pages(job, job.panels[0], opposite=False, back=False)
    texts = words(pages)
    assert "Edges and some holes are cut by router. Drill only hole 5." in texts
    assert "1 to 4 - CUT ALREADY 10.00 mm" in texts
    assert "1 CUT Ø10" in texts
    assert "5 Ø3.3" in texts
    assert "to size first" not in texts
    assert "Corners and notches last" not in texts
    job = read_text(ROUTED.format(small=""), Path())
    texts = words(template_pages(job, job.panels[0], opposite=False, back=False))
    assert "Edges and holes are cut by router: nothing to drill." in texts
    assert "punch every hole" not in texts


def words(pages) -> str:
    """All text of the pages as pdfium reads it."""
    document = pypdfium2.PdfDocument(pdf_bytes(pages, title="x"))
    found = " ".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    return " ".join(found.split())
