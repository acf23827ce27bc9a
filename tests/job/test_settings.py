"""What stands once in a job: name, unit, date, paper, marking step and DXF options."""

from __future__ import annotations

import datetime
from fractions import Fraction

import pytest

from nestkit.job.settings import LEAST_PRINT
from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP, marked_line, only, read

IN = Fraction("25.4")


def test_a_millimetre_job_has_metric_defaults(tmp_path):
    """In a mm job paper is A4, marking goes to 0.5 mm, and bare numbers are millimetres."""
    text = SOUND.replace('"in"', '"mm"').replace('["14 1/2", "9 3/4"]', "[300, 200.5]")
    job = read(text, tmp_path)
    assert job.printing.paper.name == "A4"
    assert job.marking_to == Fraction(1, 2)
    assert (job.panels[0].width, job.panels[0].height) == (300, Fraction("200.5"))


@pytest.mark.parametrize("date", ["2026-03-01", '"2026-03-01"'])
def test_a_date_may_be_toml_or_text(tmp_path, date):
    """The date is a TOML date or its text."""
    assert read(f"date = {date}\n{SOUND}", tmp_path).date == datetime.date(2026, 3, 1)


@pytest.mark.parametrize(
    ("words", "short", "long"),
    [
        ('"A3"', 297, 420),
        ('"letter"', Fraction("215.9"), Fraction("279.4")),
        ('"roll 24 in"', Fraction("609.6"), None),
        ('["18 in", 12]', Fraction("304.8"), Fraction("457.2")),
    ],
)
def test_a_paper_is_named_or_measured(tmp_path, words, short, long):
    """Paper is from the table, [width, height] in either order, or a roll."""
    paper = read(f"{TOP}{CUTTING}[printing]\npaper = {words}\n{SHEET}{PANEL}", tmp_path).printing.paper
    assert (paper.short, paper.long) == (float(short), None if long is None else float(long))


@pytest.mark.parametrize(
    ("words", "good"),
    [
        ("[139, 210]", True),
        ("[210, 139]", True),
        ('["5 1/2 in", "8 1/2 in"]', True),
        ("[148, 210]", True),
        ('"roll 139 mm"', True),
        ("[138.9, 400]", False),
        ("[209.9, 209.9]", False),
        ("[105, 148]", False),
        ('"roll 138 mm"', False),
    ],
)
def test_paper_that_prints_cannot_be_read_on_is_refused(tmp_path, words, good):
    """Half a letter and A5 will do; what is smaller is a mistake that says why and what will do."""
    text = f"{TOP}{CUTTING}[printing]\npaper = {words} #<\n{SHEET}{PANEL}".replace('"in"', '"mm"')
    if good:
        paper = read(text, tmp_path).printing.paper
        assert paper.short >= LEAST_PRINT.short
        assert paper.long is None or paper.long >= LEAST_PRINT.long
        return
    found = only(text, tmp_path)
    assert (found.place, found.line) == ("printing, paper", marked_line(text))
    assert "half a letter or A5" in found.text
    assert "139" in found.remedy


def test_printing_marking_and_dxf_are_read(tmp_path):
    """Scale, marking step and DXF options come as written."""
    more = (
        "[printing]\nscale_x = 0.998\nscale_y = 1.0025\n[marking]\nto = '1/64'\n"
        "[dxf]\nversion = 'R12'\nsingle_layer = true\n"
    )
    job = read(TOP + CUTTING + more + SHEET + PANEL, tmp_path)
    assert (job.printing.scale_x, job.printing.scale_y) == (0.998, 1.0025)
    assert job.marking_to == IN / 64
    assert (job.dxf.version, job.dxf.single_layer) == ("R12", True)
