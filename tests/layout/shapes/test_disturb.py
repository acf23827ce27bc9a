"""Disturbances: pieces stay on their plates, and each does what it says."""

from __future__ import annotations

import numpy as np
import pytest

from nestkit.layout.shapes.disturb import Disturber
from nestkit.layout.shapes.engine import live_of, model_of, plain
from nestkit.layout.shapes.problem import Kind
from tests.layout.shapes.made_shapes import ALL

WIDE, HIGH = 300.0, 90.0


@pytest.fixture
def spread():
    """Pieces of all kinds strewn over a strip, and what disturbs them."""
    model = model_of([Kind(s, 2, (0.0,)) for s in ALL.values()], 0.0, 5.0, plain())
    live = live_of(model, [k for k in range(len(ALL)) for _ in range(2)], [WIDE], [HIGH], 1)
    rng = np.random.default_rng(4)
    box = model.tables.box[live.state]
    live.x[:] = rng.uniform(-box[:, 0], WIDE - box[:, 2])
    live.y[:] = rng.uniform(-box[:, 1], HIGH - box[:, 3])
    return live, box, Disturber(model, live, rng)


@pytest.mark.parametrize("way", ["swap", "swap_with_all_there", "roll", "scatter"])
def test_pieces_stay_on_the_strip(spread, way):
    """However often it is done, no piece sticks out, and pieces do move."""
    live, box, disturber = spread
    before = live.x.copy(), live.y.copy()
    for _ in range(30):
        getattr(disturber, way)(*([0.3] if way == "scatter" else []))
        assert np.all(live.x >= -box[:, 0])
        assert np.all(live.x <= WIDE - box[:, 2])
        assert np.all(live.y >= -box[:, 1])
        assert np.all(live.y <= HIGH - box[:, 3])
    assert not np.array_equal(before, (live.x, live.y))


def test_a_swap_moves_two_pieces_of_different_kinds(spread):
    """Just two pieces change places, and they are not alike."""
    live, _, disturber = spread
    for _ in range(10):
        x, y = live.x.copy(), live.y.copy()
        disturber.swap()
        moved = np.flatnonzero((live.x != x) | (live.y != y))
        assert len(moved) == 2
        assert live.kind[moved[0]] != live.kind[moved[1]]


def test_a_narrower_strip_shifts_what_is_right_of_a_line(spread):
    """Each piece stays where it is or goes left by what the strip lost."""
    live, _, disturber = spread
    x = live.x.copy()
    disturber.narrow(WIDE - 7.0)
    assert live.wide[0] == WIDE - 7.0
    assert set(np.round(x - live.x, 9)) <= {0.0, 7.0}
