"""Maps and the search around a place, against depths that are worked out one by one."""

from __future__ import annotations

import numpy as np
import pytest

from nestkit.layout.shapes.engine import compiled, live_of, model_of
from nestkit.layout.shapes.problem import Kind
from tests.layout.shapes.made_shapes import ALL

WIDE, HIGH, STEP = 203.0, 91.0, 4.0


@pytest.fixture
def strewn():
    """Pieces of all kinds strewn over a strip, some deep in one another, with random weights."""
    model = model_of([Kind(s, 2, (0.0, 90.0)) for s in ALL.values()], 0.0, STEP, compiled())
    live = live_of(model, [k for k in range(len(ALL)) for _ in range(2)], [WIDE], [HIGH], 1)
    rng = np.random.default_rng(7)
    box = model.tables.box[live.state]
    live.x[:] = rng.uniform(-box[:, 0], WIDE - box[:, 2])
    live.y[:] = rng.uniform(-box[:, 1], HIGH - box[:, 3])
    weight = rng.uniform(1, 5, live.weight.shape)
    live.weight[:] = weight + weight.T
    model.call("deepen_all")(model.tables, live)
    return model, live


def pressing(model, live, i, s, x, y):
    """Return the weighted depths of piece i in state s at a place, and the sum of all weights near it."""
    t, deep = model.tables, model.call("depth")
    total, weights = 0.0, 0.0
    for j in range(len(live.x)):
        pair = live.state[j] * t.states + s
        rx, ry = x - live.x[j], y - live.y[j]
        low, top = t.look[pair, :2] - STEP, t.look[pair, 2:4] + STEP
        if j != i and low[0] < rx < top[0] and low[1] < ry < top[1]:
            factor = live.weight[i, j] * live.scale[i, j]
            total += factor * deep(t, pair, rx, ry)
            weights += factor
    return total, weights


@pytest.mark.parametrize("i", [0, 3, 5, 9])
def test_a_map_is_near_the_weighted_depths(strewn, i):
    """At all places, those at the far ends too, a map is out by half a step each way and no more."""
    model, live = strewn
    t = model.tables
    for s in model.known.of_kind[live.kind[i]]:
        cols, rows = model.call("fill_map")(t, live, i, s, 0)
        x1, y1 = WIDE - t.box[s, 2], HIGH - t.box[s, 3]
        found = live.scratch[: cols * rows].reshape(rows, cols)
        assert np.count_nonzero(found) > 20
        for r in range(rows):
            y = y1 if r == rows - 1 else r * STEP - t.box[s, 1]
            for c in range(cols):
                x = x1 if c == cols - 1 else c * STEP - t.box[s, 0]
                exact, weights = pressing(model, live, i, s, x, y)
                assert abs(found[r, c] - exact) <= weights * STEP * np.sqrt(0.5) + 1e-4


def test_a_piece_on_the_grid_of_another_finds_exact_depths(strewn):
    """Where all places are whole steps apart a map holds the weighted depths themselves."""
    model, live = strewn
    t, i = model.tables, 2
    s = live.state[i]
    live.x[:] = np.round((live.x + t.box[s, 0]) / STEP) * STEP - t.box[s, 0]
    live.y[:] = np.round((live.y + t.box[s, 1]) / STEP) * STEP - t.box[s, 1]
    cols, rows = model.call("fill_map")(t, live, i, s, 0)
    found = live.scratch[: cols * rows].reshape(rows, cols)
    for r in range(rows - 1):
        for c in range(cols - 1):
            exact, _ = pressing(model, live, i, s, c * STEP - t.box[s, 0], r * STEP - t.box[s, 1])
            assert found[r, c] == pytest.approx(exact, rel=1e-5, abs=1e-4)


def test_the_search_around_a_place_only_gains(strewn):
    """It ends no worse than it began, within reach and on the strip, and tells the exact sum there."""
    model, live = strewn
    t, gains = model.tables, 0
    for i, (x, y) in enumerate(zip(live.x, live.y, strict=True)):
        s = live.state[i]
        before, _ = pressing(model, live, i, s, x, y)
        cost = model.call("refine")(t, live, i, s, 0, x, y, before)
        to_x, to_y = live.out[:2]
        assert cost <= before
        assert cost == pytest.approx(pressing(model, live, i, s, to_x, to_y)[0], abs=1e-9)
        assert max(abs(to_x - x), abs(to_y - y)) <= 2 * STEP + 1e-9
        assert -t.box[s, 0] <= to_x <= WIDE - t.box[s, 2]
        assert -t.box[s, 1] <= to_y <= HIGH - t.box[s, 3]
        gains += cost < before
    assert gains > len(live.x) / 2
