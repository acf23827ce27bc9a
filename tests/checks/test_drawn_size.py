"""Outlines whose unit seems mistaken: the advice, and its silence just past the limits."""

from __future__ import annotations

import pytest

from nestkit.checks.drawn_size import unit_mistaken
from nestkit.job.reader import read_text
from tests.job.outlines.drawings import job_text, raw, square


def found(folder, data, more="", *, unit="mm"):
    """Return what the check finds of a part from a file; the sheet is 48 x 96 in."""
    (folder / "part.dxf").write_bytes(data)
    return list(unit_mistaken(read_text(job_text("part.dxf", more, unit=unit), folder)))


def test_millimetres_read_as_inches_are_told(tmp_path):
    """A plate of 120 in, which would fit as 120 mm, gets an advice with both sizes and a key."""
    (finding,) = found(tmp_path, raw(square(120), units=1))
    assert finding.level == "advice"
    assert finding.place == 'panel "part"'
    assert "3048 x 3048 mm" in finding.text
    assert "120 x 120 mm" in finding.text
    assert 'outline_unit = "mm"' in finding.remedy
    assert found(tmp_path, raw(square(120), units=1), 'outline_unit = "mm"') == []
    assert "real unit" in found(tmp_path, raw(square(5), units=6))[0].remedy


def test_inches_read_as_millimetres_are_told(tmp_path):
    """Below 5 mm both ways a part is likely to be drawn in inches."""
    (finding,) = found(tmp_path, raw(square(4.99)), unit="in")
    assert "25.4 times more" in finding.text
    assert 'outline_unit = "in"' in finding.remedy


@pytest.mark.parametrize(("side", "code"), [(5, 4), (48, 1), (2000, 1), (1219.2, 4)])
def test_it_is_silent_past_the_limits(side, code, tmp_path):
    """Silent at 5 mm, at what just fits the sheet, and where even 25.4 times less would not fit."""
    assert found(tmp_path, raw(square(side), units=code)) == []


def test_parts_that_no_file_draws_are_left_alone(tmp_path):
    """A rectangle too large for the sheet is the other checks' concern."""
    text = job_text().replace('outline = "part.dxf"', "size = [9000, 9000]")
    assert list(unit_mistaken(read_text(text, tmp_path))) == []
