"""A sheet's pages on the job's paper."""

from __future__ import annotations

import datetime
from dataclasses import replace
from fractions import Fraction

import pypdfium2
import pytest

from nestkit.drawing.model import Inset, Text
from nestkit.drawing.record import RecordPen
from nestkit.drawing.sheet_page import EDGE, sheet_pages
from nestkit.drawing.type import text_width
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Paper, Printing
from nestkit.job.settings import LEAST_PRINT
from nestkit.layout.result import CutSheet
from nestkit.trade.cautions import cautions
from nestkit.writers.pdf import pdf_bytes
from tests.laid_boat import A4, LETTER, PLY, lid_job, placed, routed_job, simple_panel

ROLL = Paper("roll 24 in", 609.6, None)
LEAST = Paper("least", float(LEAST_PRINT.short), float(LEAST_PRINT.long))
NARROW = Paper("narrow roll", float(LEAST_PRINT.short), None)
PAGE = Point(0, 0)
SIXTY = "a name of sixty letters as long as any that a job may have x"


def pages_of(make, paper, index=0, **job_values):
    """Return the pages of a job's sheet on a paper."""
    job, layout = make()
    job = replace(job, printing=Printing(paper), **job_values)
    laid = layout.groups[0]
    return sheet_pages(job, laid.group, laid.sheets[index], stem="stem-01")


@pytest.mark.parametrize("paper", [LETTER, A4, ROLL], ids=lambda p: p.name)
@pytest.mark.parametrize("make", [lid_job, routed_job])
def test_everything_stays_on_the_paper(make, paper):
    """No text and no picture reaches over the page's border, whichever way the paper is held."""
    for page in pages_of(make, paper):
        sides = sorted((page.width, page.height))
        assert sides[0] == paper.short
        assert sides[1] == pytest.approx(paper.long or paper.short * 4 / 3)
        for mark in page.marks:
            if isinstance(mark, Text | Inset):
                box = mark.bounds
                assert box.left >= EDGE - 0.1
                assert box.bottom >= EDGE - 1.0
                assert box.right <= page.width - EDGE + 0.1
                assert box.top <= page.height - EDGE + 0.1


def words_and_boxes(marks, at=PAGE, scale=1.0):
    """Yield every text of a page, also in its pictures, with its box on paper."""
    for mark in marks:
        if isinstance(mark, Text):
            box = mark.bounds
            corners = (at.x + box.left * scale, at.y + box.bottom * scale,
                       at.x + box.right * scale, at.y + box.top * scale)  # fmt: skip
            yield mark.text, Rect(*corners)
        elif isinstance(mark, Inset):
            inner = at.moved(mark.at.x * scale, mark.at.y * scale)
            yield from words_and_boxes(mark.drawing.marks, inner, scale * mark.scale_x)


@pytest.mark.parametrize("names", ["usual", "long"])
@pytest.mark.parametrize("paper", [LEAST, NARROW, A4, LETTER], ids=lambda p: p.name)
@pytest.mark.parametrize("make", [lid_job, routed_job])
def test_the_smallest_paper_holds_every_word(make, paper, names):
    """Down to the least paper: cautions whole, no name cut short, no text over another or off the page."""
    job, layout = make()
    laid = layout.groups[0]
    group, sheet = laid.group, laid.sheets[0]
    job = replace(job, printing=Printing(paper), date=datetime.date(2026, 3, 1))
    if names == "long":
        group = replace(group, material=SIXTY)
        sheet = replace(sheet, stock=replace(sheet.stock, name=SIXTY))
        job = replace(job, name=f"{SIXTY} {SIXTY}"[:120])
    stem = "-".join(SIXTY.split()) if names == "long" else "pc-01"
    for page in sheet_pages(job, group, sheet, stem=stem):
        found = list(words_and_boxes(page.marks))
        flat = " ".join(text for text, _ in found)
        for caution in cautions("footer")[1:3]:
            assert caution in flat
        assert "…" not in flat
        for i, (text, box) in enumerate(found):
            assert min(box.left, box.bottom, page.width - box.right, page.height - box.top) >= EDGE - 1.0
            # Type boxes are a little taller than the letters.
            over = [other for other, b in found[:i] if b.grown(-0.3).meets(box.grown(-0.3))]
            assert not over, (text, over)
    if names == "long":
        pages = sheet_pages(job, group, sheet, stem=stem)
        flat = " ".join(text for text, _ in words_and_boxes(pages[0].marks))
        for whole in (job.name, f"{SIXTY}, sheet 1", stem):
            assert whole in flat


def test_absurdly_wide_names_leave_room_for_the_picture():
    """Names of sixty of the widest letter are cut on the smallest paper before the picture is."""
    job, layout = lid_job()
    laid = layout.groups[0]
    stock = replace(laid.sheets[0].stock, name="W" * 60)
    sheet = replace(laid.sheets[0], stock=stock)
    job = replace(job, name="W" * 120, printing=Printing(LEAST))
    (page, *_) = sheet_pages(job, replace(laid.group, material="W" * 60), sheet, stem="w" * 63)
    (picture,) = [m for m in page.marks if isinstance(m, Inset)]
    box = picture.bounds
    assert min(box.width, box.height) > 30
    assert not any(m.bounds.meets(box.grown(-0.5)) for m in page.marks if isinstance(m, Text))


def test_the_paper_is_held_so_that_the_picture_is_larger():
    """A tall sheet stands on upright paper, a wide one on paper lying down."""
    (tall,) = pages_of(lid_job, LETTER)
    (wide, *_) = pages_of(routed_job, A4)
    assert tall.height > tall.width
    assert wide.width > wide.height


def test_the_title_says_what_it_is():
    """Stock, sheet, size, material, scale, job, date, file, and the cautions at the foot."""
    (page,) = pages_of(lid_job, LETTER, date=datetime.date(2026, 3, 1))
    words = " ".join(m.text for m in page.marks if isinstance(m, Text))
    for said in (
        "PC 1/8 2x4, sheet 1",
        "24 x 48 in",
        "polycarbonate",
        ".118 in (sold as 1/8 in)",
        "Scale 1:",
        "Solar boat: console and hatches",
        "2026-03-01",
        "stem-01",
        "page 1 of 1",
        "to buy",
    ):
        assert said in words
    assert cautions("footer")[1] in words


def test_a_long_key_goes_on_to_further_pages():
    """Two hundred kinds of small parts are keyed on as many pages as it takes, none left out."""
    job, layout = routed_job()
    panels = [simple_panel(f"small part number {i}", 20, 20, quantity=2) for i in range(200)]
    parts = tuple(placed(p, 1, 22 * (i % 40), 22 * (i // 40)) for i, p in enumerate(panels))
    sheet = CutSheet(PLY, 1, False, Fraction(0), parts, (), ())
    pages = sheet_pages(job, replace(layout.groups[0].group, panels=tuple(panels)), sheet, stem="x-01")
    assert len(pages) > 2
    words = []
    for number, page in enumerate(pages, start=1):
        pen = RecordPen()
        page.draw(pen)
        words += [text for text, _ in pen.texts]
        assert f"page {number} of {len(pages)}" in words
        assert all(at.y >= EDGE - 1 for _, at in pen.texts)
    for panel in panels:
        assert sum(f"{panel.name}," in text for text in words) == 1


def test_long_names_stay_in_their_line():
    """Sixty wide letters in job and stock are made smaller or cut, never run off the page."""
    job, layout = lid_job()
    stock = replace(job.sheets[0], name="W" * 60)
    sheet = replace(layout.groups[0].sheets[0], stock=stock)
    job = replace(job, name="M" * 60)
    for page in sheet_pages(job, layout.groups[0].group, sheet, stem="w" * 60):
        for mark in page.marks:
            if isinstance(mark, Text):
                assert text_width(mark.text, mark.height, bold=mark.bold) <= page.width - 2 * EDGE + 0.1


def test_the_pdf_can_be_searched():
    """A PDF reader finds the sheet, its parts and the scale as text, on pages of the paper's size."""
    job, layout = lid_job()
    laid = layout.groups[0]
    data = pdf_bytes(sheet_pages(job, laid.group, laid.sheets[0], stem="pc-1-8-2x4-01"), title="x")
    assert data == pdf_bytes(sheet_pages(job, laid.group, laid.sheets[0], stem="pc-1-8-2x4-01"), title="x")
    pdf = pypdfium2.PdfDocument(data)
    assert pdf[0].get_size() == pytest.approx((612, 792))
    text = pdf[0].get_textpage().get_text_bounded()
    for said in ("PC 1/8 2x4, sheet 1", "console lid", "offcut 14 1/8 x 48 in", "9 3/4 x 14 1/2 in", "DATUM"):
        assert said in text
    pdf.close()
