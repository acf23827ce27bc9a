"""The page that measures a printer: two rulers along each side of the paper, uncorrected."""

from __future__ import annotations

from fractions import Fraction

from nestkit.drawing.model import Drawing, Mark, Text
from nestkit.drawing.ruler_strip import fit_to_page, ruler_strip, usual_fits
from nestkit.drawing.rulers import STRIP, longest, reading
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_page import LONGEST_RULER, MARGIN
from nestkit.geometry.points import Point
from nestkit.job.model import Paper
from nestkit.units import Unit, with_unit

_INNER = MARGIN + STRIP + 8.0
_NAME = 6.0


def page_size(paper: Paper) -> tuple[float, float]:
    """Return width and height of the test page: the paper upright; of a roll a metre's ruler and margins."""
    long = paper.long if paper.long is not None else LONGEST_RULER + 2 * (MARGIN + STRIP)
    return paper.short, long


def ruler_lengths(paper: Paper, unit: Unit) -> tuple[Fraction, Fraction]:
    """Return the nominal lengths in mm of the rulers along the short (x) and the long (y) side."""
    width, height = page_size(paper)
    across, up = width - 2 * MARGIN, height - 2 * (MARGIN + STRIP)
    return longest(min(across, LONGEST_RULER), unit), longest(min(up, LONGEST_RULER), unit)


def print_test(paper: Paper, unit: Unit) -> Drawing:
    """Return the test page for a paper: rulers x1 below, x2 above, y1 left, y2 right, and what to do."""
    width, height = page_size(paper)
    across = min(width - 2 * MARGIN, LONGEST_RULER)
    up = min(height - 2 * (MARGIN + STRIP), LONGEST_RULER)
    top, right = height - MARGIN - STRIP, width - MARGIN - STRIP
    fits = usual_fits(None if paper.long is None else fit_to_page(width, height, MARGIN))
    marks: list[Mark] = [
        *ruler_strip(Point(MARGIN, MARGIN), across, unit, along="x", fits=fits),
        *ruler_strip(Point(MARGIN, top), across, unit, along="x", fits=fits),
        *ruler_strip(Point(MARGIN, MARGIN + STRIP), up, unit, along="y", fits=fits),
        *ruler_strip(Point(right, MARGIN + STRIP), up, unit, along="y", fits=fits),
        Text(Point(width / 2, MARGIN + STRIP + 2), "x1", _NAME, anchor="middle", bold=True),
        Text(Point(width / 2, top - 6), "x2", _NAME, anchor="middle", bold=True),
        Text(Point(MARGIN + STRIP + 2, height / 2), "y1", _NAME, bold=True),
        Text(Point(right - 2, height / 2), "y2", _NAME, anchor="end", bold=True),
    ]
    words = Flow(width - 2 * _INNER)
    _say(words, paper, unit)
    marks += words.marks(_INNER, top - 12)
    return Drawing(width, height, tuple(marks), f"print test, {paper.name}")


def _say(words: Flow, paper: Paper, unit: Unit) -> None:
    """Put what to do on the page, large enough to read beside a printer."""
    x, y = ruler_lengths(paper, unit)
    words.title("PRINT TEST", 9.0, least=5.0)
    words.text(f"Paper: {paper.name}. One test for each printer, paper and tray.", 4.0)
    words.gap(3.0)
    for number, step in enumerate(
        (
            'Print this page at 100 % ("actual size"), do not fit to page.',
            "Measure all four rulers with a steel rule, from end tick to end tick.",
            "Write what you read here, then give it to: nestkit calibrate",
        ),
        1,
    ):
        words.text(f"{number}  {step}", 4.0)
    words.gap(4.0)
    for name, length in (("x1", x), ("x2", x), ("y1", y), ("y2", y)):
        words.text(
            f"{name} ____________ {unit}   nominal {with_unit(length, unit)}, {reading(length, unit)}", 4.0
        )
        words.gap(3.0)
    words.text(
        "A rule ends at a tell-tale (94 %, 96 %)? Then it was printed fit to page: print it again.", 4.0
    )
