"""Labels on their sheets: true once printed, apart, on the paper, used ones left out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.labels import label_pages
from nestkit.drawing.model import Path as Line
from nestkit.drawing.model import Text
from nestkit.errors import JobError
from nestkit.geometry.points import Rect
from nestkit.job.model import Labels, Paper
from nestkit.job.reader import read_text
from nestkit.layout.lay_out import lay_out
from nestkit.writers.pdf import pdf_bytes
from tests import laid_boat
from tests.drawing import bench
from tests.drawing.labelled import (
    GRIDS,
    MANY,
    all_labels,
    boxes,
    by_label,
    printed,
    samples,
    sheet_size,
    with_labels,
    within,
)


@pytest.mark.parametrize("scale", [(1.0, 1.0), (0.996, 1.004), (1.004, 0.996)])
@pytest.mark.parametrize("name", ["3 x 10", "2 x 4", "small", "lying"])
def test_labels_lie_true_once_printed(name, scale):
    """pdfium finds every label where its sheet has it, to 0.01 mm, whatever the printer makes of it."""
    job = read_text(MANY.format(count=90), Path())
    layout = lay_out(job)
    job = with_labels(job, GRIDS[name], scale=scale)
    grid = job.labels.grid
    assert grid is not None
    pages = label_pages(job, layout)
    number = 0
    for page, read in zip(pages, bench.read(pdf_bytes(pages, title="labels")), strict=True):
        assert (read.width, read.height) == pytest.approx(sheet_size(job), abs=0.01)
        marks = [m for m in page.marks if isinstance(m, Text)]
        assert [text for text, _ in read.texts] == [m.text for m in marks]
        assert all(at.to(m.at) < 0.01 for (_, at), m in zip(read.texts, marks, strict=True))
        # Words begin at one distance from each label's left edge, and stand in the middle of its height.
        inside = min(3.0, max(1.5, 0.06 * min(grid.width, grid.height)))
        for box, texts in zip(boxes(job, page), by_label(job, page), strict=True):
            if texts:
                number += 1
                first, last = (printed(job, page, t.bounds) for t in (texts[0], texts[-1]))
                assert first.left == pytest.approx(box.left + inside, abs=0.01)
                assert (first.top + last.bottom) / 2 == pytest.approx(box.centre.y, abs=0.01)
    assert number >= 90


def test_labels_that_are_used_stay_empty():
    """The first label stands behind those that are used; all that come after follow on."""
    job = read_text(MANY.format(count=9), Path())
    layout = lay_out(job)
    assert len(all_labels(job, layout)) == 11
    for used, filled in ((0, [8, 3]), (3, [5, 6]), (7, [1, 8, 2])):
        marked = with_labels(job, GRIDS["2 x 4"] + f"skip = {used}\n")
        pages = [by_label(marked, page) for page in label_pages(marked, layout)]
        assert [sum(map(bool, page)) for page in pages] == filled
        assert [bool(texts) for texts in pages[0]] == [False] * used + [True] * (8 - used)


@pytest.mark.parametrize(
    ("paper", "unit", "labels"),
    [
        (Paper("letter", 215.9, 279.4), "in", (2, 7)),
        (Paper("A4", 210.0, 297.0), "mm", (2, 7)),
        (Paper("A3", 297.0, 420.0), "mm", (3, 10)),
        (Paper("narrow", 100.0, 148.0), "mm", (1, 3)),
        (Paper("roll 24 in", 609.6, None), "in", (6, 7)),
        (Paper("roll 610 mm", 610.0, None), "mm", (6, 7)),
    ],
)
def test_plain_paper_is_filled_with_labels_to_cut_apart(paper, unit, labels):
    """Labels of about 100 x 40 mm fill the paper inside its border, parted by lines from end to end."""
    job, layout = laid_boat.routed_job(unit=unit)
    page = label_pages(replace(job, labels=Labels(paper=paper)), layout)[0]
    lines = [m.bounds for m in page.marks if isinstance(m, Line)]
    across, along = [b for b in lines if b.height == 0], [b for b in lines if b.width == 0]
    assert (len(along) - 1, len(across) - 1) == labels
    assert {round(b.width, 6) for b in across} == {round(page.width - 12.7, 6)}
    assert {round(b.height, 6) for b in along} == {round(page.height - 12.7, 6)}
    width, height = (page.width - 12.7) / labels[0], (page.height - 12.7) / labels[1]
    assert 75 < width < 125
    assert 33 < height < 47


def test_sheets_of_labels_carry_no_lines():
    """On labels that are cut already nothing is printed but words."""
    job, layout = samples()["solar_boat"]
    for page in label_pages(with_labels(job, GRIDS["3 x 10"]), layout):
        assert all(isinstance(m, Text) for m in page.marks)


papers = st.sampled_from(["letter", "A4", "A3", "legal", ("210 mm", "148 mm"), ("120 mm", "200 mm")])


def paper_sides(paper: str | tuple[str, str]) -> tuple[float, float]:
    """Width and height in mm of a paper by its name (ISO 216, ASME Y14.1, legal) or its size."""
    named = {"letter": (215.9, 279.4), "legal": (215.9, 355.6), "A4": (210.0, 297.0), "A3": (297.0, 420.0)}
    return named[paper] if isinstance(paper, str) else tuple(float(s.split()[0]) for s in paper)


@settings(max_examples=60, deadline=None)
@given(
    paper=papers,
    columns=st.integers(1, 8),
    rows=st.integers(1, 28),
    width=st.integers(25, 210),
    height=st.integers(10, 140),
    apart=st.tuples(st.integers(0, 6), st.integers(0, 6)),
    scale=st.sampled_from([(1.0, 1.0), (0.99, 1.01), (1.01, 0.99)]),
)
def test_labels_never_overlap_or_leave_the_paper(paper, columns, rows, width, height, apart, scale):
    """Whatever rows, columns and size: a table is refused, or all its labels lie on the paper and apart."""
    said = f'"{paper}"' if isinstance(paper, str) else str(list(paper)).replace("'", '"')
    table = (
        f"[labels]\npaper = {said}\ncolumns = {columns}\nrows = {rows}\n"
        f'size = ["{width} mm", "{height} mm"]\npitch = ["{width + apart[0]} mm", "{height + apart[1]} mm"]\n'
    )
    job, layout = laid_boat.routed_job()
    width_there, height_there = paper_sides(paper)
    fits = columns * (width + apart[0]) - apart[0] <= width_there
    if not (fits and rows * (height + apart[1]) - apart[1] <= height_there):
        with pytest.raises(JobError, match=r"labels, (columns|rows): "):
            with_labels(job, table, scale=scale)
        return
    job = with_labels(job, table, scale=scale)
    paper_width, paper_height = sheet_size(job)
    places = boxes(job, label_pages(job, layout)[0])
    for i, box in enumerate(places):
        assert within(box, Rect(0, 0, paper_width, paper_height))
        assert not any(box.grown(-1e-6).meets(other) for other in places[:i])
    assert len(all_labels(job, layout)) == 7
