"""Convex parts: they cover the area, they are convex, they are few."""

from __future__ import annotations

import random

import numpy as np
import pytest
import shapely

from nestkit.layout.shapes.convex import convex_parts, polygon_of, turn_at
from tests.layout.shapes.made_shapes import ALL, area_of, random_shape


@pytest.mark.parametrize("name", ALL)
def test_parts_cover_the_shape_and_nothing_else(name):
    """The parts' areas add up to the shape's, and together they are the shape."""
    area = area_of(ALL[name])
    parts = [shapely.Polygon(p) for p in convex_parts(area)]
    assert sum(p.area for p in parts) == pytest.approx(area.area, rel=1e-12)
    assert shapely.symmetric_difference(shapely.union_all(parts), area).area < 1e-9 * area.area


def test_random_shapes_are_cut_into_convex_parts():
    """Every part turns left at every corner, and none is a sliver of nothing."""
    rng = random.Random(1)
    for _ in range(60):
        area = polygon_of(random_shape(rng, 50.0))
        parts = convex_parts(area)
        assert sum(shapely.Polygon(p).area for p in parts) == pytest.approx(area.area, rel=1e-9)
        for part in parts:
            around = zip(np.roll(part, 1, axis=0), part, np.roll(part, -1, axis=0), strict=True)
            assert all(turn_at(*corner) > 0 for corner in around)


def test_what_is_convex_stays_whole():
    """A convex shape is one part without its straight corners; an angle is two, a fork three."""
    square = shapely.Polygon([(0, 0), (5, 0), (10, 0), (10, 10), (0, 10)])
    assert [len(p) for p in convex_parts(square)] == [4]
    assert len(convex_parts(area_of(ALL["bracket"]))) == 2
    assert len(convex_parts(area_of(ALL["horn"]))) == 3
