"""Which parts are too near, against distances known by hand and against finely flattened areas."""

from __future__ import annotations

import math
import random

import pytest
import shapely

from nestkit.geometry.clearance import Body, too_near
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle, slot

SLIP = 1e-5
PLATE = rectangle(100, 60)
RING = Body(disc(100, centre=Point(0, 0)), (disc(80, centre=Point(0, 0)),))


def near(a: Outline | Body, b: Outline | Body, least: float) -> list[tuple[int, int, float]]:
    """Return what is too near of two bodies."""
    return too_near([x if isinstance(x, Body) else Body(x) for x in (a, b)], least, SLIP)


def test_straight_edges_are_measured():
    """Distances of plates, and overlaps with and without a distance to keep."""
    assert near(PLATE, PLATE.moved(103, 4), 2.9) == []
    assert near(PLATE, PLATE.moved(103, 4), 3.1) == [(0, 1, pytest.approx(3))]
    assert near(PLATE, PLATE.moved(50, 0), 0) == [(0, 1, 0)]
    assert near(PLATE, PLATE.moved(100, 0), 0) == []
    assert near(PLATE, PLATE.moved(300, 0), 5) == []


@pytest.mark.parametrize("turn", [0.0, 17.3, 90.0])
@pytest.mark.parametrize("gap", [3.0, 0.25])
def test_the_limit_is_kept_to_the_slip(turn, gap):
    """Discs, a plate, an opening: just beyond the slip is refused, just within is not."""
    cases = [
        (disc(50, centre=Point(0, 0)), lambda d: disc(30, centre=Point(40 + d, 0))),
        (rectangle(40, 20), lambda d: disc(30, centre=Point(55 + d, 10))),
        (RING, lambda d: disc(80 - 2 * d, centre=Point(0, 0))),
        (RING, lambda d: disc(20, centre=Point(30 - d, 0))),
    ]
    for still, other in cases:
        fixed = still if isinstance(still, Body) else Body(still)
        fixed = Body(fixed.outline.turned(turn), tuple(o.turned(turn) for o in fixed.openings))
        for d, refused in (
            (gap - 2 * SLIP, True),
            (gap - SLIP / 2, False),
            (gap, False),
            (gap + 1e-4, False),
        ):
            found = near(fixed, other(d).turned(turn), gap)
            assert bool(found) is refused, (still, d)
            if found:
                assert found[0][2] == pytest.approx(d, abs=1e-9)


def test_where_parts_may_touch_only_depth_counts():
    """With no gap to keep, discs and plates may enter each other by no more than the slip."""
    for still, other in (
        (disc(50, centre=Point(0, 0)), lambda d: disc(30, centre=Point(40 + d, 0))),
        (PLATE, lambda d: rectangle(30, 30).moved(100 + d, 10)),
        (RING, lambda d: disc(80 - 2 * d, centre=Point(0, 0))),
        (RING, lambda d: rectangle(10, 10).moved(-5, 50 + d)),
    ):
        assert near(still, other(-1e-3), 0.0), still
        assert near(still, other(-3 * SLIP), 0.0), still
        assert near(still, other(-1e-7), 0.0) == [], still
        assert near(still, other(1e-7), 0.0) == [], still


def test_what_lies_in_the_material_is_caught():
    """A small part deep in another has no line near its own, and is caught; in the opening it is not."""
    small = disc(4, centre=Point(0, 0))
    assert near(RING, small.moved(45, 0), 1.0) == [(0, 1, 0)]
    assert near(RING, small, 1.0) == []
    assert near(Body(RING.outline), small, 1.0) == [(0, 1, 0)]


def random_body(rng: random.Random) -> Body:
    """Return a round part anywhere, turned, perhaps with an opening."""
    kind = rng.randrange(4)
    if kind == 0:
        outline, hole = disc(rng.uniform(10, 40)), ()
    elif kind == 1:
        outline, hole = slot(Point(0, 0), rng.uniform(20, 50), 10, 0), ()
    elif kind == 2:
        outline, hole = rectangle(40, 30, radius=8), (disc(18, centre=Point(20, 15)),)
    else:
        bite = [(0, 0, 0), (30, 0, 0), (30, 30, -0.6), (0, 30, 0)]
        outline, hole = Outline(tuple(Vertex(*v) for v in bite)), ()
    turn, dx, dy = rng.uniform(0, 360), rng.uniform(0, 90), rng.uniform(0, 90)
    return Body(outline.turned(turn).moved(dx, dy), tuple(h.turned(turn).moved(dx, dy) for h in hole))


def test_random_bodies_are_judged_as_by_fine_areas():
    """Pairs of random round parts are refused exactly where areas flattened to 0.00002 mm are too near."""
    rng = random.Random(4)
    seen = {True: 0, False: 0}
    for _ in range(120):
        a, b = random_body(rng), random_body(rng)
        least = rng.choice([0.5, 2.0, 8.0])
        areas = [
            shapely.Polygon(x.outline.flattened(2e-5), [o.flattened(2e-5) for o in x.openings])
            for x in (a, b)
        ]
        for area in areas:
            shapely.prepare(area)
        real = areas[0].distance(areas[1])
        if math.isclose(real, least, abs_tol=1e-4):
            continue
        assert bool(near(a, b, least)) is (real < least)
        seen[real < least] += 1
    assert min(seen.values()) > 20
