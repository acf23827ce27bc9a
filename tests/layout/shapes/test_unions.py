"""Polygons united by the compiled functions: against shapely, against the sums, against plain Python."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import shapely

from nestkit.layout.shapes import nfp
from nestkit.layout.shapes.engine import compiled, model_of, plain, tables_of
from nestkit.layout.shapes.loops import weld
from nestkit.layout.shapes.nfp import asked_of, polygons_of, united
from nestkit.layout.shapes.problem import Kind, Shape
from nestkit.layout.shapes.states import states_of
from tests.layout.shapes.made_shapes import ALL, BRACKET, GUSSET, RING, STAR, TURNS, random_shape

COMB = Shape(
    ((0, 0), (70, 0), (70, 40), (60, 40), (60, 10), (50, 10), (50, 40), (40, 40), (40, 10), (30, 10),
     (30, 40), (20, 40), (20, 10), (10, 10), (10, 40), (0, 40))
)  # fmt: skip
FINE_COMB = Shape(((0, 0), (34, 0), (34, 30), (26, 30), (26, 8), (8, 8), (8, 30), (0, 30)))
INNER = Shape(((0, 0), (30, 0), (30, 38), (0, 38)))


def holed(rng, size):
    """Return a random shape, with an opening where there is room for one."""
    shape = random_shape(rng, size)
    area = shapely.Polygon(shape.outer)
    middle = area.representative_point()
    far = 0.8 * area.exterior.distance(middle)
    angles = sorted(rng.uniform(0, 2 * math.pi) for _ in range(rng.randint(3, 6)))
    opening = tuple(
        (middle.x + r * math.cos(a), middle.y + r * math.sin(a))
        for a in angles for r in [far * rng.uniform(0.6, 1)]
    )  # fmt: skip
    inner = shapely.Polygon(opening)
    return Shape(shape.outer, (opening,)) if inner.is_valid and inner.area > 1 else shape


def stepped(rng, unit, turn=0.0, digits=15):
    """Return a shape of rectangles on a grid, turned by radians, its corners rounded."""
    while True:
        corners = [(rng.randint(0, 3), rng.randint(0, 3)) for _ in range(5)]
        area = shapely.union_all(
            [shapely.box(x, y, x + rng.randint(1, 3), y + rng.randint(1, 3)) for x, y in corners]
        )
        if area.geom_type == "Polygon" and not area.interiors:
            ring = np.array(shapely.geometry.polygon.orient(area).exterior.coords)[:-1] * unit
            c, s = math.cos(turn), math.sin(turn)
            turned = np.round(ring @ np.array([[c, s], [-s, c]]), digits)
            return Shape(tuple((float(x), float(y)) for x, y in turned))


def sets():
    """Yield sets of kinds under names."""
    rng = random.Random(3)
    yield "random", [Kind(holed(rng, 40), 1, (0.0, 17.0, 200.0)) for _ in range(4)], 0.0
    yield "mirrored", [Kind(holed(rng, 40), 1, (0.0, 61.0), either_hand=True) for _ in range(3)], 1.5
    yield "stepped", [Kind(stepped(rng, 10.0), 1, TURNS) for _ in range(3)], 0.0
    yield "stepped, mirrored", [Kind(stepped(rng, 7.3), 1, TURNS, either_hand=True) for _ in range(2)], 3.2
    yield "equal", [Kind(s, 1, (0.0, 30.0, 90.0, 120.0, 180.0)) for s in (STAR, BRACKET, GUSSET)], 0.0
    yield "rings", [Kind(RING, 1, TURNS), Kind(INNER, 1, (0.0, 90.0))], 0.0
    yield "combs", [Kind(COMB, 1, (0.0, 180.0)), Kind(FINE_COMB, 1, TURNS)], 0.0


@pytest.fixture(scope="module")
def models():
    """Sets of kinds made ready with compiled functions, by name."""
    return {name: model_of(kinds, gap, 3.0, compiled()) for name, kinds, gap in sets()}


def corners_of(rows, convex):
    """Return the corners of a polygon's rows, the first of each ring wherever it is."""
    if not convex:
        return rows[:, :2]
    before = np.roll(rows, 1, axis=0)
    sides = np.stack([before[:, :2], rows[:, :2]], axis=1)
    return np.linalg.solve(sides, np.stack([before[:, 2], rows[:, 2]], axis=1)[..., None])[..., 0]


def area_of_rows(rows, convex):
    """Return the area that a polygon's rows enclose."""
    start = corners_of(rows, convex)
    end = np.roll(start, -1, axis=0) if convex else rows[:, [7, 5]]
    return float(np.sum(start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0])) / 2


def test_areas_are_those_that_shapely_unites(models):
    """Every polygon of every set was found without shapely and has the area that shapely finds."""
    for name, model in models.items():
        found = model.polygons
        compiled_alone = united(model.known, asked_of(model.known)[0], compiled().functions["unite"])
        assert np.all(compiled_alone.spans[:, 1] > compiled_alone.spans[:, 0]), name
        for k, (begin, end, convex) in enumerate(found.spans):
            area = area_of_rows(found.edges[begin:end], convex)
            assert area == pytest.approx(found.areas[k].area, rel=1e-9), name


def test_depths_are_distances_to_the_borders_that_shapely_finds(models):
    """At random points, at the height of corners and in corners, depths are distances to the border, or 0."""
    rng, deep = random.Random(29), compiled().functions["depth"]
    for name, model in models.items():
        t = model.tables
        for pair in rng.sample(range(len(t.pair)), min(len(t.pair), 16)):
            number = t.pair[pair]
            area, into = model.polygons.areas[number], t.look[pair, 4:].reshape(2, 2)
            corners = corners_of(t.edges[slice(*t.spans[number, :2])], t.spans[number, 2])
            x0, y0, x1, y1 = area.bounds
            points = [(rng.uniform(x0, x1), rng.uniform(y0, y1)) for _ in range(40)]
            points += [(rng.uniform(x0, x1), float(y)) for _, y in corners]
            points += [(float(x), float(y)) for x, y in corners]
            border = shapely.boundary(area)
            for point in points:
                at = shapely.Point(point)
                true = shapely.distance(border, at) if shapely.contains(area, at) else 0.0
                assert deep(t, pair, *(np.array(point) @ into)) == pytest.approx(true, abs=1e-7), name


def test_where_outlines_nearly_fit_a_polygon_holds_its_sums_and_nothing_else():
    """Outlines on a grid, turned and rounded to some digits: a point is inside just if some sum holds it."""
    rng, deep = random.Random(31), compiled().functions["depth"]
    for digits in (12, 10, 9, 7, 6, 3):
        turn = rng.uniform(0, math.pi)
        kinds = [Kind(stepped(rng, 10.0, turn, digits), 1, TURNS) for _ in range(2)]
        model = model_of(kinds, 0.0, 3.0, compiled())
        known, t = model.known, model.tables
        for pair in rng.sample(range(len(t.pair)), 12):
            one, other = (known.states[s] for s in divmod(pair, t.states))
            parts = [[p @ s.matrix.T for p in known.forms[s.form].parts] for s in (one, other)]
            sums = shapely.convex_hull(
                [
                    shapely.MultiPoint((a[:, None] - b[None]).reshape(-1, 2))
                    for a in parts[0]
                    for b in parts[1]
                ]
            )
            x0, y0, x1, y1 = t.look[pair, :4]
            for _ in range(60):
                x, y = rng.uniform(x0, x1), rng.uniform(y0, y1)
                held = bool(np.any(shapely.contains_xy(sums, x, y)))
                assert (deep(t, pair, x, y) > 0) == held


def test_outlines_that_nearly_fit_seldom_need_shapely():
    """Rounded to seven digits, edges on one line no longer are: nine polygons in ten close even so."""
    rng, closed = random.Random(43), []
    for _ in range(10):
        turn = rng.uniform(0, math.pi)
        known = states_of([Kind(stepped(rng, 10.0, turn, 7), 1, TURNS) for _ in range(2)], 0.0)
        spans = united(known, asked_of(known)[0], compiled().functions["unite"]).spans
        closed += list(spans[:, 1] > spans[:, 0])
    assert sum(closed) >= 0.9 * len(closed)


def test_room_in_notches_stays():
    """One tooth of a comb lies in any gap of another with room to its sides, and just as deep as the gap."""
    tooth = Shape(((0, 0), (6, 0), (6, 35), (0, 35)))
    model = model_of([Kind(COMB, 1, (0.0,)), Kind(tooth, 1, (0.0,))], 0.0, 3.0, compiled())
    deep = model.call("depth")
    # Places are those of the boxes' middles: the comb's gaps lie 20 apart, 10 wide, their bottom 10 below it.
    for gap in (-20.0, 0.0, 20.0):
        for x in (-2.0, 0.0, 2.0):
            assert deep(model.tables, 1, gap + x, 7.5) == 0
            assert deep(model.tables, 1, gap + x, 7.0) == pytest.approx(0.5)
        assert deep(model.tables, 1, gap + 3.0, 10.0) == pytest.approx(1.0)


def test_plain_python_unites_alike():
    """The functions as they stand give the rows, spans and boxes of the compiled ones."""
    rng = random.Random(37)
    known = states_of([Kind(s, 1, (0.0, 40.0)) for s in (holed(rng, 30), BRACKET, GUSSET)], 1.0)
    asked = asked_of(known)[0]
    one, other = (united(known, asked, form.functions["unite"]) for form in (compiled(), plain()))
    assert np.array_equal(one.spans, other.spans)
    assert np.allclose(one.rows, other.rows, rtol=1e-9, atol=1e-9)
    assert np.allclose(one.boxes, other.boxes, rtol=0, atol=1e-12)


def test_what_is_not_found_shapely_unites():
    """Polygons that the compiled function leaves out come from shapely, and all depths are the same."""
    unite = compiled().functions["unite"]

    def forgetful(parts, asked, room, bench, found, begin):
        done = unite(parts, asked, room, bench, found, begin)
        found.spans[1::2, 1] = found.spans[1::2, 0]
        return done

    known = states_of([Kind(s, 1, TURNS) for s in ALL.values()], 1.0)
    tables = [tables_of(known, polygons_of(known, f), 3.0) for f in (unite, forgetful)]
    rng, deep = random.Random(41), compiled().functions["depth"]
    for _ in range(2000):
        pair = rng.randrange(len(tables[0].pair))
        x, y = rng.uniform(-60, 60), rng.uniform(-60, 60)
        assert deep(tables[0], pair, x, y) == pytest.approx(deep(tables[1], pair, x, y), abs=1e-9)


def test_short_room_is_enlarged(monkeypatch):
    """With the least room to begin with the polygons come out the same."""
    known = states_of([Kind(s, 1, TURNS) for s in ALL.values()], 0.0)
    asked, unite = asked_of(known)[0], compiled().functions["unite"]
    ample = united(known, asked, unite)
    monkeypatch.setattr(nfp, "FEWEST", 1)
    short = united(known, asked, unite)
    assert np.array_equal(ample.spans, short.spans)
    assert np.array_equal(ample.rows, short.rows)


@pytest.mark.parametrize(("far", "closes"), [(0.0, True), (1e-8, True), (1e-3, False)])
def test_pieces_must_close(far, closes):
    """Three pieces round a corner are a loop, unless an end is further from the next start than is near."""
    piece = np.zeros((3, 5))
    piece[:, :4] = [(0, 0, 10, 0), (10, far, 0, 10), (0, 10, 0, 0)]
    assert weld(piece, np.zeros((6, 3), np.int64), 3, 1e-7) == closes
    if closes:
        assert np.array_equal(piece[0, 2:4], piece[1, :2])


def test_every_point_of_every_field_is_the_depth_there(models):
    """Fields hold depths, whether worked out, turned round or taken from a pair at quarter turns."""
    deep = compiled().functions["depth"]
    for name in ("mirrored", "stepped", "equal"):
        t = models[name].tables
        for pair in range(0, len(t.pair), 5):
            at, col, row, cols, rows = t.field_at[pair]
            true = [
                deep(t, pair, (col + c) * t.step, (row + r) * t.step)
                for r in range(rows)
                for c in range(cols)
            ]
            assert np.allclose(t.field[at : at + rows * cols], true, rtol=1e-6, atol=1e-6), name
