"""No-fit polygons and depths: against shapely on moved pieces, at every corner's height, in the fields."""

from __future__ import annotations

import random

import numpy as np
import pytest
import shapely

from nestkit.layout.shapes.engine import compiled, model_of, plain
from nestkit.layout.shapes.problem import Kind, Shape
from tests.layout.shapes.made_shapes import ALL, STAR, TURNS, random_shape

SKEW = (0.0, 90.0, 17.0, 200.0)


@pytest.fixture(scope="module")
def models():
    """Some sets of kinds, made ready with compiled functions."""
    rng = random.Random(5)
    return [
        model_of([Kind(s, 1, TURNS) for s in ALL.values()], 0.0, 3.0, compiled()),
        model_of(
            [Kind(random_shape(rng, 40), 1, SKEW, either_hand=True) for _ in range(4)], 0.0, 3.0, compiled()
        ),
        model_of([Kind(random_shape(rng, 40), 1, TURNS) for _ in range(5)], 2.0, 3.0, compiled()),
    ]


def area_at(model, state, x=0.0, y=0.0):
    """Return a state's grown outline at a place."""
    s = model.known.states[state]
    grown = model.known.forms[s.form].grown
    return shapely.transform(grown, lambda p: p @ s.matrix.T + np.array([x, y]))


def test_a_depth_is_there_just_where_pieces_overlap(models):
    """At random places a pair has a depth if and only if the outlines have area in common."""
    rng = random.Random(7)
    for model in models:
        deep, number = compiled().functions["depth"], len(model.known.states)
        for _ in range(1500):
            a, b = rng.randrange(number), rng.randrange(number)
            box = model.tables.look[a * number + b]
            x, y = rng.uniform(box[0] - 2, box[2] + 2), rng.uniform(box[1] - 2, box[3] + 2)
            found = deep(model.tables, a * number + b, x, y)
            common = shapely.intersection(area_at(model, a), area_at(model, b, x, y))
            if found > 1e-6:
                assert common.area > 0
            elif common.area > 0:
                assert 2 * common.area / common.length < 1e-3


def test_the_way_out_is_as_long_as_the_depth_and_leads_out(models):
    """Moved by the way out two pieces touch; moved by any shorter way they still overlap."""
    rng, out = random.Random(11), np.zeros(3)
    for model in models:
        f, number = compiled().functions, len(model.known.states)
        for _ in range(300):
            pair = rng.randrange(number * number)
            box = model.tables.look[pair]
            x, y = rng.uniform(box[0], box[2]), rng.uniform(box[1], box[3])
            d = f["depth"](model.tables, pair, x, y)
            if d == 0:
                continue
            f["way_out"](model.tables, pair, x, y, out)
            assert np.hypot(out[0], out[1]) == pytest.approx(d, rel=1e-9)
            assert f["depth"](model.tables, pair, x + out[0] * (1 + 1e-9), y + out[1] * (1 + 1e-9)) < 1e-6
            for turn in np.linspace(0, 2 * np.pi, 24):
                assert (
                    f["depth"](model.tables, pair, x + 0.99 * d * np.cos(turn), y + 0.99 * d * np.sin(turn))
                    > 0
                )


def test_depths_are_exact_at_the_height_of_every_corner(models):
    """On the level of each corner of a polygon the depth is the distance to its border, or 0 outside."""
    rng = random.Random(13)
    for model in models:
        deep, t = compiled().functions["depth"], model.tables
        number = len(model.known.states)
        for pair in rng.sample(range(number * number), 24):
            into = t.look[pair, 4:].reshape(2, 2)
            area = model.polygons.areas[t.pair[pair]]
            for corner in shapely.get_coordinates(area):
                for x in rng.sample(list(np.linspace(*np.array(area.bounds)[[0, 2]], 60)), 6):
                    there = np.array([x, corner[1]])
                    place = there @ into
                    point = shapely.Point(there)
                    inside = shapely.contains(area, point)
                    true = shapely.distance(shapely.boundary(area), point) if inside else 0.0
                    assert deep(t, pair, *place) == pytest.approx(true, abs=1e-6)


def test_fields_hold_the_depths_of_their_points(models):
    """Every point of every field is the depth there, also of the pairs that were filled by symmetry."""
    rng = random.Random(17)
    for model in models:
        deep, t, number = compiled().functions["depth"], model.tables, len(model.known.states)
        for pair in rng.sample(range(number * number), 40):
            at, col, row, cols, rows = t.field_at[pair]
            for _ in range(30):
                c, r = rng.randrange(cols), rng.randrange(rows)
                true = deep(t, pair, (col + c) * t.step, (row + r) * t.step)
                assert t.field[at + r * cols + c] == pytest.approx(true, abs=1e-5)


def test_pieces_fit_into_openings():
    """A polygon has an opening where the one piece has room in the other."""
    ring = Shape(((0, 0), (60, 0), (60, 60), (0, 60)), (((10, 10), (10, 50), (50, 50), (50, 10)),))
    inner = Shape(((0, 0), (30, 0), (30, 38), (0, 38)))
    model = model_of([Kind(ring, 1, (0.0,)), Kind(inner, 1, (0.0,))], 0.0, 2.0, compiled())
    deep = compiled().functions["depth"]
    assert deep(model.tables, 1, 0.0, 0.0) == 0
    assert deep(model.tables, 1, 4.9, 0.9) == 0
    assert deep(model.tables, 1, 6.0, 0.0) == pytest.approx(1.0)


def test_plain_python_reads_the_same_depths():
    """The functions as they stand and compiled give the same numbers, but for the polygons' rounding."""
    kinds = [Kind(s, 1, SKEW) for s in (STAR, ALL["horn"], ALL["plate"])]
    fast, slow = model_of(kinds, 1.0, 3.0, compiled()), model_of(kinds, 1.0, 3.0, plain())
    rng = random.Random(19)
    for _ in range(400):
        pair, x, y = rng.randrange(len(fast.tables.pair)), rng.uniform(-40, 40), rng.uniform(-40, 40)
        found = slow.call("depth")(slow.tables, pair, x, y)
        assert fast.call("depth")(fast.tables, pair, x, y) == pytest.approx(found, abs=1e-9)
