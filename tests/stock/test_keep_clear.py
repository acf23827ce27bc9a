"""Regions that are kept clear: the boxes that cover them, and how near is too near."""

from __future__ import annotations

from fractions import Fraction

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nestkit.stock.keep_clear import KeepClear
from nestkit.stock.kept_whole import sawn_regions
from nestkit.units import GRID_PER_MM
from tests.layout.made import sheet

PLACE = st.fractions(-50, 500, max_denominator=64)
SIDE = st.fractions(1, 200, max_denominator=64)


@given(PLACE, PLACE, SIDE)
def test_strips_cover_a_disc(x, y, dia):
    """Every point of a disc lies in one of the boxes that stand for it, and they take less than its box."""
    region = KeepClear(x, y, x + dia, y + dia, disc=True)
    boxes = [shapely.box(*box) for box in region.covers()]
    radius = float(dia) / 2 * GRID_PER_MM
    disc = shapely.Point(float(x) * GRID_PER_MM + radius, float(y) * GRID_PER_MM + radius).buffer(radius)
    covered = shapely.union_all(boxes)
    assert shapely.difference(disc, covered).area <= 1e-9 * disc.area
    assert covered.area < (float(dia) * GRID_PER_MM) ** 2


@given(PLACE, PLACE, SIDE, SIDE, PLACE, PLACE, SIDE, st.booleans())
def test_nearness_is_that_of_the_shapes(x, y, width, height, left, bottom, side, disc):
    """A box and a region are too near where their distance, measured by another program, is too small."""
    region = KeepClear(x, y, x + width, y + (width if disc else height), disc=disc)
    box = tuple(v * GRID_PER_MM for v in (left, bottom, left + side, bottom + side))
    other = shapely.box(*map(float, box))
    here = shapely.box(*map(float, region.steps))
    away = shapely.distance(here, other)
    if disc:
        middle = (2 * x + width) * GRID_PER_MM / 2, (2 * y + width) * GRID_PER_MM / 2
        away = shapely.distance(shapely.Point(*map(float, middle)), other)
        away = max(0.0, away - float(width) * GRID_PER_MM / 2)
    least = 3 * GRID_PER_MM
    if abs(away - least) > 4:
        assert region.nearer_than(least, box) == (away < least)


def test_touching_is_not_meeting():
    """A box at a region's edge does not meet it; with a distance asked for it is too near."""
    region = KeepClear(Fraction(10), Fraction(10), Fraction(20), Fraction(20))
    box = tuple(Fraction(v * GRID_PER_MM) for v in (20, 10, 30, 20))
    assert not region.nearer_than(0, box)
    assert region.nearer_than(1, box)


@pytest.mark.parametrize(("apart", "count"), [(2, 1), (3, 2)])
def test_regions_less_than_a_kerf_apart_are_one_to_a_saw(apart, count):
    """No cut runs between them, so one piece holds both; they are cut off at the sheet's edge."""
    one = KeepClear(Fraction(-5), Fraction(10), Fraction(20), Fraction(20))
    two = KeepClear(Fraction(20 + apart), Fraction(0), Fraction(40), Fraction(15))
    stock = sheet("ply", 100, 100, keep_clear=(one, two))
    found = sawn_regions(stock, 1, 3 * GRID_PER_MM)
    assert len(found) == count
    assert min(box[0] for box in found) == 0
