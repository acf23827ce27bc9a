"""Printed templates as pdfium reads them: true to size, whole and joinable, whatever paper and printer."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.drawing.rulers import reading
from nestkit.drawing.template import template_pages
from nestkit.geometry.points import Point
from nestkit.job.model import Job
from nestkit.parts.panel import Panel
from nestkit.units import MM_PER_INCH
from nestkit.writers.pdf import pdf_bytes
from tests.drawing import bench
from tests.drawing.bench import BORDER, PrintedPage

TRUE = 0.01
"""Millimetres: what is printed may differ by this from what was asked for."""

# One corrected printer and one true one, on every paper; each part meets cut paper and a roll.
CASES = [
    (bench.lid(), "in", "letter", 0.996, 1.004),
    (bench.lid(), "in", "tabloid", 1.0, 1.0),
    (bench.lid(), "in", "roll 24 in", 1.004, 0.996),
    (bench.bracket(), "in", "letter", 0.996, 1.004),
    (bench.bracket(), "in", "A4", 1.0, 1.0),
    (bench.hatch(), "mm", "A4", 0.996, 1.004),
    (bench.hatch(), "mm", "A3", 1.004, 0.996),
    (bench.gusset(), "mm", "A4", 1.0, 1.0),
    (bench.deck(), "in", "letter", 0.996, 1.004),
    (bench.deck(), "in", "A3", 1.0, 1.0),
    (bench.deck(), "in", "roll 24 in", 0.996, 1.004),
]


def scales(page: PrintedPage, job: Job) -> tuple[float, float]:
    """The printer's scale along x and y of a page: scale_x is the paper's short side's, across a roll."""
    printing = job.printing
    across = page.width if printing.paper.long is None else min(page.width, page.height)
    upright = abs(across - printing.paper.short) < TRUE and abs(page.width - printing.paper.short) < TRUE
    assert upright or abs(page.height - printing.paper.short) < TRUE
    return (printing.scale_x, printing.scale_y) if upright else (printing.scale_y, printing.scale_x)


def as_measured(page: PrintedPage, job: Job, part: Panel) -> list[tuple[float, Point]]:
    """Diameter and centre of every hole ring on a page, as measured once the printer has scaled it."""
    x, y = scales(page, job)
    found = []
    for dia in sorted({hole.dia for hole in part.holes}):
        found += [(dia, Point(at.x * x, at.y * y)) for at in page.circles(dia / x, dia / y)]
    return found


def shifts_by_crosses(pages: list[PrintedPage], job: Job) -> dict[int, Point]:
    """Lay the pages together by crosses of the same letter; return each page's place on the first."""
    crosses = []
    for page in pages:
        x, y = scales(page, job)
        named = {}
        for at in page.diamonds():
            letter = min(page.texts, key=lambda t, at=at: t[1].to(at.moved(1.6 / x, 1.6 / y)))
            assert letter[1].to(at.moved(1.6 / x, 1.6 / y)) < 0.05
            named[letter[0].strip()] = Point(at.x * x, at.y * y)
        crosses.append(named)
    shifts = {0: Point(0.0, 0.0)}
    while len(shifts) < len(pages):
        before = len(shifts)
        for i, named in enumerate(crosses):
            for j in list(shifts):
                shared = sorted(named.keys() & crosses[j].keys())
                if i in shifts or not shared:
                    continue
                assert len(shared) >= 2, "two neighbours share at least two crosses"
                moves = [
                    Point(
                        crosses[j][k].x + shifts[j].x - named[k].x, crosses[j][k].y + shifts[j].y - named[k].y
                    )
                    for k in shared
                ]
                assert all(move.to(moves[0]) < TRUE for move in moves)
                shifts[i] = moves[0]
        assert len(shifts) > before, "every page joins another"
    return shifts


def joined(pages: list[PrintedPage], job: Job, part: Panel) -> list[tuple[float, Point]]:
    """All hole rings that are printed whole, of pages laid together, in the first page's frame."""
    shifts = shifts_by_crosses(pages, job)
    return [
        (dia, at.moved(*shifts[i]))
        for i, page in enumerate(pages)
        for dia, at in as_measured(page, job, part)
    ]


def datum(page: PrintedPage, job: Job) -> Point:
    """The part's corner: 1.2 mm in from the only open path of three points, as measured."""
    x, y = scales(page, job)
    bracket = next(p for p in page.paths if len(p.points) == 3 and not p.closed)
    return Point((bracket.box.left + 1.2 / x) * x, (bracket.box.bottom + 1.2 / y) * y)


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c[0].name}-{c[2]}-{c[3]}")
def test_every_hole_lies_true_on_paper(case):
    """Whatever paper and printer, each hole is whole on some page, where the part has it and of its size."""
    part, unit, paper, scale_x, scale_y = case
    job = bench.job(part, unit=unit, paper=paper, scale_x=scale_x, scale_y=scale_y, all_pages=True)
    pages = bench.read(pdf_bytes(template_pages(job, part), title=part.name))
    tiles = pages if len(pages) == 1 else pages[1:]
    corner = datum(tiles[0], job)
    found = [(dia, at.moved(-corner.x, -corner.y)) for dia, at in joined(tiles, job, part)]
    for hole in part.holes:
        assert any(abs(dia - hole.dia) < TRUE and at.to(hole.at) < TRUE for dia, at in found), hole
    for dia, at in found:
        assert any(abs(dia - hole.dia) < TRUE and at.to(hole.at) < 2 * TRUE for hole in part.holes)


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c[0].name}-{c[2]}-{c[3]}")
def test_joined_pages_show_the_whole_outline(case):
    """Every page has the outline in one place and of its size; together they print all of its box."""
    part, unit, paper, scale_x, scale_y = case
    job = bench.job(part, unit=unit, paper=paper, scale_x=scale_x, scale_y=scale_y, all_pages=True)
    pages = bench.read(pdf_bytes(template_pages(job, part), title=part.name))
    tiles = pages if len(pages) == 1 else pages[1:]
    shifts, corner = shifts_by_crosses(tiles, job), datum(tiles[0], job)
    wide, high = float(part.width), float(part.height)
    seen = []
    for i, page in enumerate(tiles):
        x, y = scales(page, job)
        boxes = {p: p.box for p in page.paths if p.closed}
        found = [
            (p, b)
            for p, b in boxes.items()
            if abs(b.width * x - wide) < TRUE and abs(b.height * y - high) < TRUE
        ]
        # The outline, and where it is cut out of a sawn box, that box in the same place.
        assert 1 <= len(found) <= 2
        assert all(f[1].left == pytest.approx(found[0][1].left, abs=TRUE) for f in found)
        edge, box = found[0]
        at = Point(box.left * x, box.bottom * y).moved(*shifts[i]).moved(-corner.x, -corner.y)
        assert at.to(Point(0, 0)) < 2 * TRUE
        shown = box if edge.whole else edge.clip
        moved = Point(shifts[i].x - corner.x, shifts[i].y - corner.y)
        seen.append(
            (
                max(0.0, shown.left * x + moved.x),
                max(0.0, shown.bottom * y + moved.y),
                min(wide, shown.right * x + moved.x),
                min(high, shown.top * y + moved.y),
            )
        )
    # Every place of the box, in steps of 5 mm, is printed on some page.
    across, up = math.ceil(wide / 5), math.ceil(high / 5)
    for i in range(across + 1):
        for j in range(up + 1):
            px, py = wide * i / across, high * j / up
            assert any(a - TRUE <= px <= c + TRUE and b - TRUE <= py <= d + TRUE for a, b, c, d in seen)


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c[0].name}-{c[2]}-{c[3]}")
def test_every_page_proves_its_scale(case):
    """On every page two unbroken lines measure, once printed, what the words beside them say."""
    part, unit, paper, scale_x, scale_y = case
    job = bench.job(part, unit=unit, paper=paper, scale_x=scale_x, scale_y=scale_y, all_pages=True)
    pages = bench.read(pdf_bytes(template_pages(job, part), title=part.name))
    for page in pages:
        x, y = scales(page, job)
        step = MM_PER_INCH / 2 if unit == "in" else Fraction(10)
        for axis, scale, side in (("x", x, page.width), ("y", y, page.height)):
            said = [
                n * step
                for n in range(1, 200)
                if f"CHECK RULER: {reading(n * step, unit)}" in page.words
                and any(
                    abs((p.box.width if axis == "x" else p.box.height) * scale - float(n * step)) < TRUE
                    for p in page.paths
                    if len(p.points) == 2 and not p.curved and not p.closed
                )
            ]
            assert said, f"no ruler along {axis}"
            # As long as the page allows: what is left is margins, the other ruler and part of a step.
            assert float(max(said)) > min(980.0, side * scale - 2 * 6.35 - 10.0 - float(step))


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c[0].name}-{c[2]}-{c[3]}")
def test_nothing_is_printed_in_the_border_that_printers_cannot_reach(case):
    """All lines stay within the page's margin of 6.35 mm."""
    part, unit, paper, scale_x, scale_y = case
    job = bench.job(part, unit=unit, paper=paper, scale_x=scale_x, scale_y=scale_y, all_pages=True)
    for drawing in template_pages(job, part):
        for mark in drawing.marks:
            box = mark.bounds
            assert min(box.left, box.bottom) > BORDER, mark
            assert box.right < drawing.width - BORDER, mark
            assert box.top < drawing.height - BORDER, mark


@pytest.mark.parametrize(
    "part", [bench.lid(), bench.hatch(), bench.gusset(), bench.bracket()], ids=lambda p: p.name
)
@pytest.mark.parametrize("scale", [(1.0, 1.0), (0.996, 1.004)])
def test_outline_on_a_single_page_has_its_size(part, scale):
    """The outline's box measures width by height, whatever the outline."""
    job = bench.job(part, unit="mm", paper="roll 24 in", scale_x=scale[0], scale_y=scale[1])
    [page] = bench.read(pdf_bytes(template_pages(job, part), title=part.name))
    x, y = scales(page, job)
    wide, high = float(part.width), float(part.height)
    sizes = [(p.box.width * x, p.box.height * y) for p in page.paths if p.closed]
    assert any(abs(w - wide) < TRUE and abs(h - high) < TRUE for w, h in sizes)


def test_large_hole_on_a_seam_is_whole_on_some_page():
    """A hole wider than the usual overlap gets a wider one; the cover says it."""
    part = bench.panel(
        400,
        300,
        holes=bench.numbered_holes(
            ("big", replace(bench.QUARTER, dia=40.0), [(x, 150) for x in range(50, 351, 50)])
        ),
    )
    job = bench.job(part, unit="mm", paper="A4", all_pages=True)
    pages = bench.read(pdf_bytes(template_pages(job, part), title="big"))
    assert "overlap 41 mm" in pages[0].words.replace("\n", " ")
    found = joined(pages[1:], job, part)
    corner = datum(pages[1], job)
    for hole in part.holes:
        assert any(at.moved(-corner.x, -corner.y).to(hole.at) < TRUE for _, at in found)
