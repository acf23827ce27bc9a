"""Random jobs on the whole way from panels to sheets, judged on their own outlines: see ``random_jobs``."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
import shapely

from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle, slot
from nestkit.layout.lay_out import lay_out
from nestkit.layout.shapes.build import uses_shapes
from nestkit.layout.shapes.sheets import solve
from tests.layout.made import job
from tests.layout.shapes.random_jobs import area_of, judge, points_of, random_group


@pytest.mark.parametrize("seed", range(24))
def test_a_small_random_job_is_laid_as_asked(seed):
    """Gap, margins, turns, hands, copies and limits of stock hold in a quick layout of up to three parts."""
    group = random_group(seed, most=3)
    judge(lay_out(job(group), effort="quick", shapes=solve).groups[0])


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(200))
def test_a_random_job_is_laid_as_asked(seed):
    """The same holds for jobs of up to five parts, a dozen copies or more, at the usual effort."""
    group = random_group(1000 + seed)
    judge(lay_out(job(group), shapes=solve).groups[0])


def test_random_jobs_are_of_all_kinds():
    """Among them are arcs in and out, openings, all turns and hands, grain, gaps of 0 and more."""
    groups = [random_group(seed, most=3) for seed in range(24)]
    panels = [p for g in groups for p in g.panels]
    assert sum(map(uses_shapes, groups)) > 20
    assert {p.turn for p in panels} == {"none", "half", "quarter", "any"}
    assert {p.grain for p in panels} == {"none", "x", "y"}
    assert {p.faces for p in panels} == {"differ", "alike"}
    bulges = [v.bulge for p in panels for v in p.outline.vertices]
    assert min(bulges) < 0 < max(bulges)
    assert sum(1 for p in panels if p.openings) > 5
    assert {g.gap > 0 for g in groups} == {True, False}
    assert Counter(len(g.sheets) for g in groups).keys() == {1, 2, 3}


@pytest.mark.parametrize(
    "outline",
    [disc(80.0), slot(Point(3, 4), 90, 20, 31), rectangle(60, 40, radius=7), disc(10).reversed()],
    ids=["disc", "slot", "rounded", "clockwise"],
)
def test_points_stray_from_arcs_as_little_as_said(outline):
    """The area between points and true outline is less than its length times a chord's stray."""
    area = shapely.Polygon(points_of(outline, 1e-3)).area
    assert 0 <= abs(outline.area) - area <= 1e-3 * outline.length


def judged_with(layout, parts):
    """Judge a layout whose first sheet has other parts."""
    first = replace(layout.sheets[0], parts=tuple(parts))
    judge(replace(layout, sheets=(first, *layout.sheets[1:])))


def test_the_judge_sees_what_is_wrong():
    """A hundredth of a millimetre into a gap or a margin, another copy or turn, a part twice or missing."""
    layout = lay_out(job(random_group(0, most=3)), effort="quick", shapes=solve).groups[0]
    parts = layout.sheets[0].parts
    judged_with(layout, parts)
    pairs = [(shapely.distance(area_of(a), area_of(b)), a, b) for a, b in combinations(parts, 2)]
    away, a, b = min(pairs, key=lambda pair: pair[0])
    line = shapely.shortest_line(area_of(b), area_of(a)).coords
    share = (away - float(layout.group.gap) + 0.01) / away
    dx, dy = (Fraction(share * (line[1][k] - line[0][k])) for k in (0, 1))
    lowest = min(parts, key=lambda p: p.y)
    wrong = [
        (b, replace(b, x=b.x + dx, y=b.y + dy)),
        (lowest, replace(lowest, y=layout.group.margin.bottom - Fraction(1, 100))),
        (a, replace(a, copy=99)),
        (a, replace(a, turn=Fraction(7))),
        (a, b),
    ]
    for old, new in wrong:
        with pytest.raises(AssertionError):
            judged_with(layout, [new if p is old else p for p in parts])
    with pytest.raises(AssertionError):
        judged_with(layout, parts[1:])
