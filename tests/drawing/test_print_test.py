"""The print test: four rulers of known length, uncorrected, and room to write the readings."""

from __future__ import annotations

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from nestkit.drawing.print_test import page_size, print_test, ruler_lengths
from nestkit.job.settings import known_paper
from nestkit.writers.pdf import pdf_bytes

PAPERS = [
    ("letter", "in"),
    ("A4", "mm"),
    ("A3", "mm"),
    ("tabloid", "in"),
    ("roll 24 in", "in"),
    ("roll 610 mm", "mm"),
]
POINT = 25.4 / 72


def straight_lines(pdf: bytes) -> list[tuple[float, float, float, float]]:
    """Return every path of exactly two points in mm, read by pdfium."""
    document = pypdfium2.PdfDocument(pdf)
    found = []
    for item in document[0].get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=5):
        if pdfium.FPDFPath_CountSegments(item.raw) != 2:
            continue
        ends = []
        for i in range(2):
            x, y = pdfium.c_float(), pdfium.c_float()
            pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(item.raw, i), x, y)
            ends += item.get_matrix().on_point(x.value, y.value)
        found.append(tuple(e * POINT for e in ends))
    document.close()
    return found


@pytest.mark.parametrize(("paper", "unit"), PAPERS)
def test_all_four_rulers_read_back_at_their_nominal_length(paper, unit):
    """pdfium finds two rulers along each side, each of its nominal length to 0.01 mm, whatever the scale."""
    sheet = known_paper(paper)
    lines = straight_lines(pdf_bytes([print_test(sheet, unit)], title="print test"))
    across, up = (float(length) for length in ruler_lengths(sheet, unit))
    # What is shorter than 10 mm is the tick of a tell-tale.
    flat = sorted(x2 - x1 for x1, y1, x2, y2 in lines if abs(y2 - y1) < 1e-3 and x2 - x1 > 10)
    tall = sorted(y2 - y1 for x1, y1, x2, y2 in lines if abs(x2 - x1) < 1e-3 and y2 - y1 > 10)
    assert flat == pytest.approx([across, across], abs=0.01)
    assert tall == pytest.approx([up, up], abs=0.01)


@pytest.mark.parametrize(("paper", "unit"), PAPERS)
def test_everything_stands_on_the_page_and_apart(paper, unit):
    """No text leaves the page or lies on another."""
    page = print_test(known_paper(paper), unit)
    width, height = page_size(known_paper(paper))
    boxes = [m.bounds for m in page.marks if hasattr(m, "text")]
    assert len(boxes) > 12
    for i, box in enumerate(boxes):
        assert box.left >= 0
        assert box.bottom >= 0
        assert box.right <= width
        assert box.top <= height
        assert not any(box.meets(other) for other in boxes[:i])
