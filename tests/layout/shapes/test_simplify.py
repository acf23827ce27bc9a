"""Simpler outlines: they hold the true ones, stray little from them, and have few corners."""

from __future__ import annotations

import math
import random

import pytest
import shapely

from nestkit.layout.shapes.simplify import ENOUGH, STRAY, simpler
from tests.layout.shapes.made_shapes import ALL, area_of


def wavy(seed: int, number: int) -> shapely.Polygon:
    """Return a shape of many corners with bulges and dents, and a round opening."""
    rng = random.Random(seed)
    waves = [(rng.uniform(2, 9), rng.randint(2, 7), rng.uniform(0, 6)) for _ in range(3)]

    def far(a: float) -> float:
        return 60 + sum(size * math.sin(n * a + at) for size, n, at in waves)

    angles = [2 * math.pi * k / number for k in range(number)]
    ring = [(far(a) * math.cos(a), far(a) * math.sin(a)) for a in angles]
    return shapely.Polygon(ring, [shapely.Point(0, 0).buffer(15, quad_segs=16).exterior.coords])


@pytest.mark.parametrize("seed", range(8))
def test_simpler_outlines_hold_the_true_ones(seed):
    """Nothing of the true shape is left out, and nothing strays further than told."""
    area = wavy(seed, 400)
    found = simpler(area)
    size = max(area.bounds[2] - area.bounds[0], area.bounds[3] - area.bounds[1])
    assert found.is_valid
    assert shapely.difference(area, found).area <= 1e-12 * area.area
    assert shapely.hausdorff_distance(found, area, densify=0.2) <= STRAY * size * 1.01
    assert len(shapely.get_coordinates(found)) < 300
    assert len(found.interiors) == 1


def test_a_round_plate_has_enough_corners():
    """A circle of many corners is left with those that are enough, and hardly grows."""
    area = shapely.Point(3, 4).buffer(50, quad_segs=64)
    found = simpler(area)
    assert ENOUGH * 0.9 <= len(found.exterior.coords) - 1 <= 170
    assert area.area < found.area < area.area * 1.003


@pytest.mark.parametrize("name", ALL)
def test_few_corners_stay_as_they_are(name):
    """A shape of few corners is the same, to the last digit."""
    assert simpler(area_of(ALL[name])).equals_exact(area_of(ALL[name]), 0.0)
