"""Bounds by the areas of true shapes: stronger than those of boxes, and below every layout."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from fractions import Fraction

import pytest
import shapely

from nestkit.geometry.shapes import disc, rectangle
from nestkit.layout.bounding.hulls import hull_length
from nestkit.layout.bounds import bounds_of
from nestkit.layout.build import problem_of
from nestkit.layout.shapes.build import problems_of
from nestkit.layout.shapes.least import bounds_by_area
from tests.layout.made import group, sheet
from tests.layout.shapes.shaped import BORE, BRACKET, CLIP, HORN, RING, WEDGE, in_rows, shaped, star


@pytest.mark.parametrize("outline", [HORN, BRACKET, WEDGE, CLIP, RING, star(9, 60, 25)])
@pytest.mark.parametrize("reach", [0.5, 3.0, 20.0])
def test_a_part_grows_by_at_least_what_is_said(outline, reach):
    """Grown by shapely a part is never smaller; where it is convex it is just as large."""
    area = shapely.Polygon(outline.flattened(1e-3))
    grown = area.buffer(reach, quad_segs=400).area
    least = outline.area + hull_length(outline) * reach + math.pi * reach**2
    assert least <= grown + 1e-3 * outline.length
    if outline in (WEDGE, CLIP, RING):
        assert least == pytest.approx(grown, rel=2e-3)


def known(made):
    """Return a group's bounds by boxes' shares."""
    return bounds_of(problem_of(made).problem)


def test_gaps_between_true_shapes_count():
    """With their gaps 56 horns fill more than one sheet, which is not seen by boxes."""
    discs = shaped("cap", disc(100), quantity=33)
    made = group([discs], [sheet("full", 600, 600, price=Fraction(7))], "router", 4, 20)
    before, after = known(made), bounds_by_area(made, known(made))
    assert after.sheets.value >= before.sheets.value
    assert after.cost.value == 7 * after.sheets.value
    horns = shaped("horn", HORN, quantity=56)
    made = group([horns], [sheet("full", 900, 500, price=Fraction(7))], "router", 4, 12)
    before, after = known(made), bounds_by_area(made, known(made))
    assert after.sheets.value > before.sheets.value
    assert "all parts together, with the gaps between them, fill" in after.sheets.why


def test_a_stronger_bound_is_kept():
    """What is known already is given up only for more; nothing to lay changes nothing."""
    made = group([shaped("cap", disc(100))], [sheet("full", 600, 600, price=Fraction(7))], "router", 4, 6)
    bounds = known(made)
    strong = replace(bounds, cost=replace(bounds.cost, value=Fraction(70)))
    assert bounds_by_area(made, strong).cost.value == 70
    none = group([shaped("cap", disc(100), quantity=0)], list(made.sheets), "router", 4, 6)
    assert bounds_by_area(none, known(none)).sheets.value == 0


def test_openings_that_may_hold_parts_do_not_count():
    """A ring with room for a cap is not said to fill its bore."""
    small = sheet("full", 180, 180, price=Fraction(7))
    made = group([shaped("ring", RING, BORE), shaped("cap", disc(98))], [small], "router", 4, 6)
    assert bounds_by_area(made, known(made)).sheets.value == 1


def test_a_full_sheet_is_no_contradiction():
    """Sixteen squares that fill a sheet without gaps need one sheet, not two."""
    squares = shaped("tile", rectangle(100, 100), quantity=16)
    made = group([squares], [sheet("full", 400, 400, price=Fraction(7))], "laser", 0, 0)
    assert bounds_by_area(made, known(made)).sheets.value == 1


def test_no_layout_beats_them():
    """The bound is below what rows of boxes need, for random groups of all outlines."""
    rng = random.Random(2)
    outlines = (HORN, BRACKET, WEDGE, CLIP, disc(70), star(10, 60, 25))
    for _ in range(40):
        panels = [shaped(f"part {i}", o, quantity=rng.randrange(6)) for i, o in enumerate(outlines)]
        made = group(
            panels, [sheet("full", 420, 300, price=Fraction(7))], "router", 4, rng.choice([0, 4, 9]) + 4
        )
        bounds = bounds_by_area(made, known(made))
        (built,) = problems_of(made)
        laid = in_rows(built.problem, random.Random(1))
        assert not any(laid.left)
        assert bounds.sheets.value <= len(laid.plates)
