"""Any panel on any paper: no hole is lost between pages, no word lies on a mark or on another word."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Path, Text
from nestkit.drawing.template import template, template_pages
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import corners_cut, disc, rectangle, slot
from nestkit.parts.holes import Drill, Mark, Opening
from tests.drawing import bench
from tests.drawing.clear import covered, windows

DRILLS = (bench.NO_2, bench.NO_7, bench.M5, bench.QUARTER)
SMALL = Drill(3.0, "3 mm", "drills")
NAMES = ["rail", "W" * 60, "long words " * 5]


@st.composite
def cases(draw, most_wide, most_high, most_holes):
    """A panel of any shape with holes that do not touch, openings, marks, and how it is printed."""
    wide, high = draw(st.integers(60, most_wide)), draw(st.integers(40, most_high))
    shape = draw(st.sampled_from(["rectangle", "rectangle", "points", "disc"]))
    if shape == "disc":
        wide = high = min(wide, high)
    name = draw(st.sampled_from(NAMES))
    part = bench.panel(
        wide,
        high,
        name=name,
        used_for=name if len(name) > 10 else "",
        revision="W" * 20 if len(name) > 10 else "",
        shape=shape,
        outline=draw(outlines(shape, wide, high)),
        holes=draw(holes(wide, high, name, most_holes)),
        openings=draw(openings(wide, high)),
        marks=draw(marks(wide, high)),
    )
    scale = draw(st.sampled_from([(1.0, 1.0), (0.996, 1.004)]))
    job = bench.job(
        part,
        unit=draw(st.sampled_from(["in", "mm"])),
        paper=draw(st.sampled_from(sorted(bench.PAPERS))),
        scale_x=scale[0],
        scale_y=scale[1],
        how=draw(st.sampled_from(["saw", "jigsaw", "router"])),
        all_pages=draw(st.booleans()),
    )
    return replace(job, name=2 * name), part, draw(st.booleans())


@st.composite
def outlines(draw, shape, wide, high):
    """A rectangle with sharp or round corners, an L, or a disc."""
    if shape == "disc":
        return disc(wide)
    if shape == "points":
        x, y = wide * draw(st.floats(0.2, 0.8)), high * draw(st.floats(0.2, 0.8))
        corners = [(0, 0), (wide, 0), (wide, y), (x, y), (x, high), (0, high)]
        return corners_cut([Point(*corner) for corner in corners])
    corner = draw(st.sampled_from([0, 5, 12]))
    return rectangle(wide, high, radius=corner) if corner else rectangle(wide, high)


@st.composite
def holes(draw, wide, high, name, most):
    """Holes in up to four groups, no two in one cell of a grid; small ones in a finer grid, side by side."""
    cell, drills = draw(st.sampled_from([(20, DRILLS), (20, DRILLS), (10, (SMALL,) * 4)]))
    groups: dict[int, list[tuple[float, float]]] = {}
    cells = [(i, j) for i in range(wide // cell) for j in range(high // cell)]
    # Left alone, lists are short: full panels are asked for.
    least = min(draw(st.sampled_from([0, 0, most // 2, most])), len(cells))
    chosen = (
        draw(st.lists(st.sampled_from(cells), min_size=least, max_size=most, unique=True)) if cells else []
    )
    for i, j in chosen:
        dx, dy = draw(st.integers(3, cell - 7)) + 3, draw(st.integers(3, cell - 7)) + 3
        at = (cell * i + dx, cell * j + dy) if cell > 10 else (cell * i + dx - 1.5, cell * j + dy - 1.5)
        groups.setdefault(draw(st.integers(0, 3)), []).append(at)
    return bench.numbered_holes(*((f"{k}{name}"[:60], drills[k], v) for k, v in sorted(groups.items())))


@st.composite
def openings(draw, wide, high):
    """Perhaps a round cut-out in the middle, perhaps slots anywhere."""
    found = []
    if draw(st.booleans()):
        middle = Point(wide / 2, high / 2)
        found.append(Opening("cutout", disc(min(wide, high) / 3, centre=middle), "cutouts[0]"))
    for i in range(draw(st.integers(0, 2))):
        at = Point(wide * draw(st.floats(0.2, 0.8)), high * draw(st.floats(0.2, 0.8)))
        outline = slot(at, draw(st.integers(10, 60)), 6, draw(st.sampled_from([0, 30, 90, 135])))
        found.append(Opening("slot", outline, f"slots[{i}]"))
    return tuple(found)


@st.composite
def marks(draw, wide, high):
    """Up to two words to engrave."""
    return tuple(
        Mark(Point(wide * draw(st.floats(0, 0.7)), high * draw(st.floats(0, 0.9))), "BATTERY", 6)
        for _ in range(draw(st.integers(0, 2)))
    )


def unnamed(window):
    """Return how many crosses of a window have no letter, and lines to measure no words."""
    shown = [m for m in window.drawing.marks if isinstance(m, Path | Text)]
    paths = [m for m in shown if isinstance(m, Path) and m.bounds.meets(window.clip)]
    diamonds = [m.bounds.centre for m in paths if m.closed and m.layer == Layer.FINE]
    texts = [m for m in shown if isinstance(m, Text) and m.layer == Layer.LABEL]
    letters = [t.at for t in texts if not t.bold]
    measured = [m for m in paths if not m.closed and m.layer == Layer.NOTE_NO_CUT]
    lettered = [d for d in diamonds if any(d.to(at) < 5.0 for at in letters)]
    return len(diamonds) - len(lettered) + len(measured) - sum(t.text.startswith("MARK") for t in texts)


def check(job, part, back):
    """Every hole to drill is whole on a page, its number there or in the table; words keep off all else."""
    pages = template_pages(job, part, back=back)
    whole: set[tuple[float, float, float]] = set()
    for page in (*pages, template(job, part, back=back)):
        assert not covered(page), page.title
        loose = [m for m in page.marks if isinstance(m, Text)]
        box = Rect(bench.BORDER, bench.BORDER, page.width - bench.BORDER, page.height - bench.BORDER)
        assert all(box.holds(text.bounds) for text in loose)
    said: set[str] = set()
    for page in pages:
        said |= {m.text.partition(":")[0] for m in page.marks if isinstance(m, Text)}
        for window in windows(page):
            seen = window.clip.grown(0.01)
            drawn = [m for m in window.drawing.marks if isinstance(m, Circle)]
            whole |= {
                (round(m.centre.x, 3), round(m.centre.y, 3), m.radius)
                for m in drawn
                if m.layer == Layer.DRILLED_HOLE and seen.holds(m.bounds)
            }
            said |= {m.text.split()[0] for m in window.drawing.marks if isinstance(m, Text) and m.bold}
            assert unnamed(window) == 0, "every cross has its letter, every line to measure its words"
    wide = float(part.width)
    for hole in part.holes:
        at = (round(wide - hole.at.x if back else hole.at.x, 3), round(hole.at.y, 3))
        if job.ways[0].how != "router" or hole.dia < float(job.ways[0].kerf):
            assert (*at, hole.dia / 2) in whole, hole
            assert str(hole.number) in said, hole


@given(cases(700, 500, 30))
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
def test_no_hole_is_lost_and_no_word_covers_a_mark(case):
    """Whatever panel, paper, printer and face: holes are whole on a page, words clear of all marks."""
    check(*case)


@pytest.mark.slow
@given(cases(2400, 1200, 80))
@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
def test_no_hole_is_lost_on_panels_as_large_as_a_sheet(case):
    """The same up to 2.4 x 1.2 m with up to 80 holes."""
    check(*case)
