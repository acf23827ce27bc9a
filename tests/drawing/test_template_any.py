"""Any panel on any paper: no hole is lost between pages, no word lies on a mark or on another word."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Inset, Text
from nestkit.drawing.template import template_pages
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc, rectangle
from nestkit.parts.holes import Opening
from tests.drawing import bench

DRILLS = (bench.NO_2, bench.NO_7, bench.M5, bench.QUARTER)


@st.composite
def cases(draw, most_wide, most_high, most_holes):
    """A panel with holes that do not touch, perhaps an opening and round corners, and how it is printed."""
    wide, high = draw(st.integers(60, most_wide)), draw(st.integers(40, most_high))
    groups: dict[int, list[tuple[float, float]]] = {}
    cells = [(i, j) for i in range(wide // 20) for j in range(high // 20)]
    chosen = draw(st.lists(st.sampled_from(cells), max_size=most_holes, unique=True)) if cells else []
    for i, j in chosen:
        dx, dy = draw(st.integers(6, 13)), draw(st.integers(6, 13))
        groups.setdefault(draw(st.integers(0, 3)), []).append((20 * i + dx, 20 * j + dy))
    name = draw(st.sampled_from(["rail", "W" * 60, "long words " * 5]))
    holes = bench.numbered_holes(*((f"{k}{name}"[:60], DRILLS[k], v) for k, v in sorted(groups.items())))
    openings = ()
    if draw(st.booleans()):
        radius = min(wide, high) / 6
        middle = Point(wide / 2, high / 2)
        openings = (Opening("cutout", disc(2 * radius, centre=middle), "cutouts[0]"),)
    corner = draw(st.sampled_from([0, 5, 12]))
    part = bench.panel(
        wide,
        high,
        name=name,
        used_for=name if len(name) > 10 else "",
        revision="W" * 20 if len(name) > 10 else "",
        outline=rectangle(wide, high, radius=corner) if corner else rectangle(wide, high),
        holes=holes,
        openings=openings,
    )
    how = draw(st.sampled_from(["saw", "jigsaw", "router"]))
    paper = draw(st.sampled_from(sorted(bench.PAPERS)))
    unit = draw(st.sampled_from(["in", "mm"]))
    scale = draw(st.sampled_from([(1.0, 1.0), (0.996, 1.004)]))
    job = bench.job(
        part,
        unit=unit,
        paper=paper,
        scale_x=scale[0],
        scale_y=scale[1],
        how=how,
        all_pages=draw(st.booleans()),
    )
    return replace(job, name=2 * name), part, draw(st.booleans())


def windows(page):
    """The insets of a page that show the part at full size."""
    return [
        m for m in page.marks if isinstance(m, Inset) and m.clip is not None and m.scale_x > 0.9 and _holes(m)
    ]


def _holes(window):
    return [m for m in window.drawing.marks if isinstance(m, Circle) and m.layer == Layer.DRILLED_HOLE]


def check(job, part, back):
    """Every hole to drill is whole on a page with its number; texts keep off marks and off each other."""
    pages = template_pages(job, part, back=back)
    whole: set[tuple[float, float, float]] = set()
    for page in pages:
        for window in windows(page):
            seen = window.clip.grown(0.01)
            holes = _holes(window)
            whole |= {
                (round(m.centre.x, 3), round(m.centre.y, 3), m.radius) for m in holes if seen.holds(m.bounds)
            }
            texts = [m for m in window.drawing.marks if isinstance(m, Text) and m.bounds.meets(window.clip)]
            labels = [m for m in texts if m.bold and not m.text.startswith("DATUM")]
            for text in labels:
                assert seen.grown(0.5).holds(text.bounds), text.text
                assert not any(m.bounds.meets(text.bounds) for m in holes), text.text
            for a, b in combinations(texts, 2):
                assert not a.bounds.meets(b.bounds), (a.text, b.text)
        loose = [m for m in page.marks if isinstance(m, Text)]
        for a, b in combinations(loose, 2):
            assert not a.bounds.grown(-0.05).meets(b.bounds.grown(-0.05)), (a.text, b.text)
        for text in loose:
            box = Rect(bench.BORDER, bench.BORDER, page.width - bench.BORDER, page.height - bench.BORDER)
            assert box.holds(text.bounds), text.text
    wide = float(part.width)
    for hole in part.holes:
        at = (round(wide - hole.at.x if back else hole.at.x, 3), round(hole.at.y, 3))
        if job.ways[0].how != "router" or hole.dia < float(job.ways[0].kerf):
            assert (*at, hole.dia / 2) in whole, hole


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
