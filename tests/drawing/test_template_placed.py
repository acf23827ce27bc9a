"""Pages laid by themselves: every hole once, true to the edges and lines that its page is laid by."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from nestkit.drawing.template import template_pages
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle
from nestkit.units import parse_length
from nestkit.writers.pdf import pdf_bytes
from tests.drawing import bench

TRUE = 0.01
LAID = re.compile(r"^Lay the (MARK lines|[a-z ]+ edge line)")
MEASURED = re.compile(r"^MARK (.+? (?:in|mm)) from the (left|right|lower) edge$")


def hatch_rail(**more):
    """A 1.2 x 0.5 m rail plate: holes in both ends and two rows in the middle, nothing between."""
    ends = [(x, y) for x in (30, 1170) for y in (40, 460)]
    rows = [(x, y) for x in (540, 580, 620) for y in (230, 270)]
    groups = (("ends", bench.NO_2, ends), ("rows", bench.M5, rows))
    return bench.panel(1200, 500, name="rail plate", holes=bench.numbered_holes(*groups), **more)


def read(job, part, **view):
    """The pages that are laid by themselves, as pdfium reads them, without the cover."""
    pages = bench.read(pdf_bytes(template_pages(job, part, **view), title=part.name))
    return [page for page in pages if any(LAID.match(text) for text, _ in page.texts)]


def frame(page, wide, high, x, y):
    """Where the part's lower left lies on a page, by its outline, and what of the page shows the part."""
    edges = [
        p
        for p in page.paths
        if p.closed and abs(p.box.width * x - wide) < TRUE and abs(p.box.height * y - high) < TRUE
    ]
    [edge] = edges
    return Point(edge.box.left, edge.box.bottom), edge.clip


@pytest.mark.parametrize(("paper", "unit"), [("letter", "in"), ("A4", "mm"), ("A3", "mm"), ("tabloid", "in")])
@pytest.mark.parametrize("back", [False, True])
def test_every_hole_is_printed_once_and_true_to_what_its_page_is_laid_by(paper, unit, back):
    """With a printer's scale taken out, holes lie true to the edges, and lines where they say."""
    part = hatch_rail()
    job = bench.job(part, unit=unit, paper=paper, scale_x=0.996, scale_y=1.004)
    pages = read(job, part, back=back)
    assert (
        5
        <= len(pages) + 1
        < len(template_pages(bench.job(part, unit=unit, paper=paper, all_pages=True), part))
    )
    found = []
    for page in pages:
        upright = abs(page.width - bench.PAPERS[paper].short) < TRUE
        x, y = (0.996, 1.004) if upright else (1.004, 0.996)
        origin, clip = frame(page, 1200, 500, x, y)
        for dia in {h.dia for h in part.holes}:
            found += [
                (dia, Point((at.x - origin.x) * x, (at.y - origin.y) * y))
                for at in page.circles(dia / x, dia / y)
            ]
        [words] = [t for t, _ in page.texts if LAID.match(t)]
        sides = {
            "left": origin.x,
            "right": origin.x + 1200 / x,
            "lower": origin.y,
            "upper": origin.y + 500 / y,
        }
        named = words.split(" edge line")[0] if " edge line" in words else ""
        for side in re.findall("left|right|lower|upper", named):
            low, high = (clip.left, clip.right) if side in ("left", "right") else (clip.bottom, clip.top)
            assert low - TRUE <= sides[side] <= high + TRUE, "a page is laid by an edge that it shows"
        for text, _ in page.texts:
            if not (said := MEASURED.match(text)):
                continue
            away = float(parse_length(said[1], unit))
            across = said[2] != "lower"
            place = 1200 - away if said[2] == "right" else away
            assert any(
                abs(((p.box.left - origin.x) * x if across else (p.box.bottom - origin.y) * y) - place) < TRUE
                and (p.box.width if across else p.box.height) < 1e-6
                for p in page.paths
                if len(p.points) == 2 and (p.box.height if across else p.box.width) > 60
            ), text
    want = [(h.dia, Point(1200 - h.at.x if back else h.at.x, h.at.y)) for h in part.holes]
    assert len(found) == len(want), "each hole stands on one page and on no other"
    for dia, at in want:
        assert any(abs(d - dia) < TRUE and p.to(at) < TRUE for d, p in found)


def test_a_group_that_fits_a_page_is_not_parted():
    """The rows in the middle are one pattern: they stand on one page."""
    part = hatch_rail()
    pages = read(bench.job(part, unit="mm", paper="A4"), part)
    counts = [len(page.circles(bench.M5.dia, bench.M5.dia)) for page in pages]
    assert sorted(counts) == [0] * (len(pages) - 1) + [6]


def test_a_page_in_the_middle_is_laid_by_two_measured_lines_and_one_at_a_side_by_one():
    """Corner pages name two edges, the middle page two lines; the cover says how lines are drawn."""
    part = hatch_rail()
    job = bench.job(part, unit="mm", paper="A4")
    words = [t for page in read(job, part) for t, _ in page.texts if LAID.match(t)]
    assert sum("edge line on the part's edges" in t for t in words) == 4
    assert sum(t.startswith("Lay the MARK lines on two lines: ") for t in words) == 1
    cover = " ".join(t for t, _ in bench.read(pdf_bytes(template_pages(job, part), title="x"))[0].texts)
    assert "The pages are not joined" in " ".join(cover.split())
    assert "from the edges that meet at DATUM" in " ".join(cover.split())


@pytest.mark.parametrize(
    ("how", "shape", "placed"),
    [("saw", "rectangle", True), ("jigsaw", "rectangle", True), ("jigsaw", "points", False)],
)
def test_pages_are_laid_by_edges_only_where_there_are_edges(how, shape, placed):
    """A part that is cut last has no edge yet: its pages are joined."""
    part = hatch_rail(shape=shape)
    assert bool(read(bench.job(part, unit="mm", paper="A4", how=how), part)) == placed


def test_of_a_part_that_a_machine_cuts_only_pages_with_holes_to_drill_are_printed():
    """The router has cut openings and large holes; the pages left are those of holes below its cutter."""
    small = replace(bench.M5, dia=2.5)
    holes = bench.numbered_holes(
        ("big", bench.QUARTER, [(600, 250)]), ("small", small, [(30, 40), (1170, 40)])
    )
    part = bench.panel(1200, 500, name="vent plate", holes=holes, outline=rectangle(1200, 500, radius=20))
    pages = read(bench.job(part, unit="mm", paper="A4", how="router"), part)
    assert [len(p.circles(2.5, 2.5)) for p in pages] == [1, 1]
    assert not any(p.circles(6.35, 6.35) for p in pages)


def test_the_whole_set_is_printed_where_it_is_asked_for():
    """With all pages asked for none is laid by itself."""
    part = hatch_rail()
    assert read(bench.job(part, unit="mm", paper="A4", all_pages=True), part) == []
