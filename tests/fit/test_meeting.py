"""Whether some motion lets all screws pass: against searches that share nothing with it."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog, minimize

from nestkit.fit.meeting import Bundles, Pairs, fitting
from nestkit.fit.spread import Slot, Spread, Wall
from nestkit.fit.trials import at_once, drawn, tried
from nestkit.geometry.points import Point


def smallest_circle(points: np.ndarray) -> float:
    """Return the radius of the smallest circle round some points, by trying all pairs and triples."""
    best = math.inf
    candidates = [(a + b) / 2 for a, b in itertools.combinations(points, 2)]
    for a, b, c in itertools.combinations(points, 3):
        d = 2 * (a[0] * (b[1] - c[1]) + b[0] * (c[1] - a[1]) + c[0] * (a[1] - b[1]))
        if abs(d) > 1e-12:
            squares = [p @ p for p in (a, b, c)]
            x = (squares[0] * (b[1] - c[1]) + squares[1] * (c[1] - a[1]) + squares[2] * (a[1] - b[1])) / d
            y = (squares[0] * (c[0] - b[0]) + squares[1] * (a[0] - c[0]) + squares[2] * (b[0] - a[0])) / d
            candidates.append(np.array([x, y]))
    for centre in candidates:
        best = min(best, float(np.hypot(*(points - centre).T).max()))
    return best


def two_walls(points, half, sigma, freedom):
    """Return two like walls with the same play and error at each screw."""
    zero = (Point(0.0, 0.0),) * len(points)
    walls = tuple(Wall(layer, (half,) * len(points), zero, (sigma, sigma)) for layer in (0, 1))
    return Spread(tuple(points), walls, (), freedom)


SQUARE = (Point(0, 0), Point(90, 0), Point(90, 60), Point(0, 60))


def test_sliding_parts_fit_by_the_smallest_circle():
    """Without turning a trial fits exactly when a circle of radius c goes round its offsets."""
    spread = two_walls((*SQUARE, Point(40, 20)), 0.15, 0.15, "slide")
    off = drawn(spread, 400, np.random.Generator(np.random.PCG64(5)))
    apart = off[:, 1] - off[:, 0]
    moves = np.zeros((5, 2, 2))
    moves[:, 0, 0] = moves[:, 1, 1] = 1.0
    found = fitting(Pairs(apart, np.tile(np.eye(2) / 0.3, (5, 1, 1)), moves))
    expected = [smallest_circle(trial) <= 0.3 for trial in apart]
    assert list(found) == expected
    assert 50 < sum(expected) < 350


def test_free_parts_fit_by_a_search_on_a_fine_grid():
    """Sliding and turning: a brute search over turns, each with its smallest circle, decides alike."""
    points = (*SQUARE, Point(40, 25))
    spread = two_walls(points, 0.11, 0.15, "slide and turn")
    off = drawn(spread, 60, np.random.Generator(np.random.PCG64(7)))
    apart = off[:, 1] - off[:, 0]
    middle = np.mean(np.array(points), axis=0)
    square_to = np.array([(-(p.y - middle[1]), p.x - middle[0]) for p in points])
    turns = np.linspace(-0.012, 0.012, 161)
    least = np.array([min(smallest_circle(trial + turn * square_to) for turn in turns) for trial in apart])
    moves = np.zeros((5, 2, 3))
    moves[:, 0, 0] = moves[:, 1, 1] = 1.0
    moves[:, :, 2] = square_to / 50
    found = fitting(Pairs(apart, np.tile(np.eye(2) / 0.22, (5, 1, 1)), moves))
    step = (turns[1] - turns[0]) / 2 * np.abs(square_to).max()
    sure = (least <= 0.22) | (least > 0.22 + step)
    assert (found[sure] == (least <= 0.22)[sure]).all()
    assert 10 < found.sum() < 50
    assert sure.sum() > 54


def least_of_a_bundle(centres, plays, arms):
    """Return the smallest largest miss over motions of all walls but the first and the screws, by scipy."""
    walls, screws, _ = centres.shape

    def worst(v):
        motion = np.vstack([np.zeros(3), v[: 3 * (walls - 1)].reshape(-1, 3)])
        at = v[3 * (walls - 1) : -1].reshape(screws, 2)
        moved = centres + motion[:, None, :2] + motion[:, 2, None, None] * arms[None]
        return np.hypot(*(moved - at).transpose(2, 0, 1)) / plays

    start = np.concatenate([np.zeros(3 * (walls - 1)), centres.mean(axis=0).ravel(), [0.0]])
    start[-1] = worst(start).max()
    limits = {"type": "ineq", "fun": lambda v: (v[-1] - worst(v)).ravel()}
    done = minimize(lambda v: v[-1], start, constraints=[limits], method="SLSQP", options={"maxiter": 300})
    assert done.success
    return float(worst(done.x).max())


def test_three_deep_parts_fit_by_a_general_optimiser():
    """Three walls of three layers: scipy's constrained minimum of the largest miss decides alike."""
    random = np.random.default_rng(3)
    points = np.array(SQUARE, dtype=float)
    arms = np.column_stack([-(points[:, 1] - 30), points[:, 0] - 45]) / 45
    plays = np.array([0.10, 0.14, 0.12])[:, None] * np.ones(4)
    centres = random.normal(0, 0.1, (60, 3, 4, 2))
    moves = np.zeros((3, 4, 2, 6))
    for wall in (1, 2):
        moves[wall, :, 0, 3 * wall - 3] = moves[wall, :, 1, 3 * wall - 2] = 1.0
        moves[wall, :, :, 3 * wall - 1] = arms
    inverse = np.repeat(1 / plays[:, :, None], 2, axis=2)
    found = fitting(Bundles(centres, inverse, moves))
    least = np.array([least_of_a_bundle(trial, plays, arms) for trial in centres])
    sure = np.abs(least - 1) > 1e-3
    assert (found[sure] == (least <= 1)[sure]).all()
    assert 10 < found.sum() < 55
    assert sure.sum() > 55


def test_walls_that_move_together_are_one_layer():
    """A tube's two walls, each with errors of its own, cannot be shifted apart: that lowers the chance."""
    zero = (Point(0.0, 0.0),) * 4
    walls = [Wall(layer, (0.15,) * 4, zero, (0.1, 0.1)) for layer in (0, 1, 1)]
    apart = [Wall(layer, (0.15,) * 4, zero, (0.1, 0.1)) for layer in (0, 1, 2)]
    tube, loose = (tried(Spread(SQUARE, tuple(w)), 4_000, 1) for w in (walls, apart))
    assert tube.value < loose.value - 0.05


@settings(max_examples=40, deadline=None)
@given(
    st.integers(0, 10**6),
    st.floats(1.0, 1.5),
    st.sampled_from(["none", "slide", "slide and turn"]),
    st.booleans(),
)
def test_a_larger_clearance_never_lowers_the_chance(seed, wider, freedom, deep):
    """With the same draws no trial that fits stops fitting when every hole grows."""
    random = np.random.default_rng(seed)
    points = tuple(Point(*map(float, p)) for p in random.uniform(0, 100, (5, 2)))
    bias = [tuple(Point(*map(float, p)) for p in random.normal(0, 0.05, (5, 2))) for _ in range(3)]
    plays = random.uniform(0.05, 0.25, (3, 5))
    layers = (0, 1, 2) if deep else (0, 1)

    def chance(times):
        walls = tuple(Wall(n, tuple(times * plays[n]), bias[n], (0.08, 0.08)) for n in layers)
        return tried(Spread(points, walls, (), freedom), 300, seed).value

    assert chance(wider) >= chance(1.0)


def test_a_slot_frees_one_direction():
    """Two holes that are only too far apart by chance: a slot towards the other hole lets nearly all pass."""
    points = (Point(0, 0), Point(100, 0))
    zero = (Point(0.0, 0.0),) * 2
    plain = Spread(points, tuple(Wall(n, (0.05,) * 2, zero, (0.2, 0.2)) for n in (0, 1)))
    slots = (None, Slot(2.0, 0.0))
    slotted = Spread(points, (plain.walls[0], Wall(1, (0.05,) * 2, zero, (0.2, 0.2), slots=slots)))
    crosswise = Spread(
        points, (plain.walls[0], Wall(1, (0.05,) * 2, zero, (0.2, 0.2), slots=(None, Slot(2.0, 90.0))))
    )
    low, high, no_help = (tried(s, 4_000, 1).value for s in (plain, slotted, crosswise))
    assert low < 0.45 < 0.99 < high
    assert no_help == pytest.approx(low, abs=0.05)


def test_two_layers_that_hold_the_screws_do_not_fit():
    """Nothing gives where both walls hold the screw and there is any error at all."""
    zero = (Point(0.0, 0.0),) * 4
    walls = (Wall(0, (0.0,) * 4, zero, (0.1, 0.1)), Wall(1, (0.0,) * 4, zero, (0.1, 0.1)))
    assert tried(Spread(SQUARE, walls), 500, 1).value == 0.0


def test_parts_on_a_holding_wall_are_placed_each_by_itself():
    """Two plates on tapped holes: the chance is that of each alone on the same holes, not of their sum."""
    zero = (Point(0.0, 0.0),) * 4
    tapped = Wall(0, (0.0,) * 4, zero, (0.1, 0.1))
    plates = [Wall(n, (0.3,) * 4, zero, (0.1, 0.1)) for n in (1, 2)]
    both = tried(Spread(SQUARE, (tapped, *plates)), 8_000, 3).value
    one = tried(Spread(SQUARE, (tapped, plates[0])), 8_000, 3).value
    assert one**2 < both < one


def test_a_seed_gives_the_same_figures():
    """Trials are drawn from the seed alone, and another seed draws others."""
    spread = two_walls(SQUARE, 0.12, 0.12, "slide and turn")
    assert tried(spread, 3_000, 4) == tried(spread, 3_000, 4)
    assert tried(spread, 3_000, 4) != tried(spread, 3_000, 5)
    assert tried(spread, 3_000, 4).error == pytest.approx(
        math.sqrt(tried(spread, 3_000, 4).value * (1 - tried(spread, 3_000, 4).value) / 3_000)
    )


def test_a_floor_is_never_above_the_least_miss():
    """One direction alone is a linear programme: scipy's simplex finds the same trials that fit."""
    random = np.random.default_rng(11)
    offsets = np.zeros((80, 6, 2))
    offsets[:, :, 0] = random.normal(0, 0.6, (80, 6))
    x = random.uniform(-1, 1, 6)
    moves = np.zeros((6, 2, 2))
    moves[:, 0, 0], moves[:, 0, 1] = 1.0, x
    found = fitting(Pairs(offsets, np.tile(np.eye(2), (6, 1, 1)), moves))
    rows = np.column_stack([np.ones(6), x, -np.ones(6)])
    both = np.vstack([rows, rows * [-1, -1, 1]])
    for trial, fits in zip(offsets, found, strict=True):
        right = np.concatenate([-trial[:, 0], trial[:, 0]])
        least = linprog([0, 0, 1], A_ub=both, b_ub=right, bounds=[(None, None)] * 3).fun
        assert fits == (least <= 1) or abs(least - 1) < 1e-6


@pytest.mark.parametrize("slotted", [False, True])
@pytest.mark.parametrize("motions", [0, 2, 3, 6])
def test_even_weights_are_a_case_of_any_weights(motions, slotted):
    """The first misses, by one matrix for all trials, are those of equal weights, by bundles and by pairs."""
    random = np.random.default_rng(motions)
    moves = random.normal(0, 1, (3, 5, 2, motions))
    inverse = (
        random.uniform(2, 9, (3, 5, 2)) if slotted else np.repeat(random.uniform(2, 9, (3, 5, 1)), 2, axis=2)
    )
    bundles = Bundles(random.normal(0, 0.1, (40, 3, 5, 2)), inverse, moves)
    scales = random.normal(0, 3, (15, 2, 2))
    pairs = Pairs(random.normal(0, 0.1, (40, 15, 2)), scales, moves.reshape(15, 2, motions))
    for misses in (bundles, pairs):
        some = np.array([0, 7, 39])
        assert misses.weighted(some, np.full((3, 15), 1 / 15)) == pytest.approx(
            misses.evenly()[some], rel=1e-6
        )


def test_many_holes_are_tried_in_less_at_once():
    """Memory does not grow with the holes: what is drawn together stays below some million numbers."""
    few = two_walls([Point(10.0 * i, 5.0 * (i % 3)) for i in range(12)], 0.2, 0.1, "slide and turn")
    many = two_walls([Point(10.0 * i, 5.0 * (i % 3)) for i in range(1_000)], 0.2, 0.1, "slide and turn")
    assert at_once(few) == 20_000
    assert 100 <= at_once(many) <= 1_000
    assert drawn(many, at_once(many), np.random.default_rng(1)).nbytes < 50e6
    deep = replace(many, walls=many.walls * 20)
    assert drawn(deep, at_once(deep), np.random.default_rng(1)).nbytes < 100e6


def test_tries_in_several_batches_count_every_trial():
    """A joint of many holes that fits by far fits in all of its trials, and none is lost between batches."""
    points = [Point(10.0 * (i % 40), 10.0 * (i // 40)) for i in range(400)]
    loose = two_walls(points, 2.0, 0.01, "slide and turn")
    assert at_once(loose) < 6_000
    found = tried(loose, 6_000, 1)
    assert (found.value, found.trials) == (1.0, 6_000)


@pytest.mark.parametrize("layers", [2, 3])
def test_very_many_holes_are_judged_as_few_are(layers, monkeypatch):
    """The way that spares a large matrix finds the same trials to fit, and is quick for 1,000 holes."""
    points = [Point(10.0 * (i % 8), 10.0 * (i // 8)) for i in range(40)]
    spread = two_walls(points, 0.2, 0.1, "slide and turn")
    if layers == 3:
        spread = replace(spread, walls=(*spread.walls, replace(spread.walls[1], layer=2)))
    usual = tried(spread, 3_000, 5)
    assert 0.05 < usual.value < 0.95
    monkeypatch.setattr("nestkit.fit.meeting._LARGE", 10)
    assert tried(spread, 3_000, 5) == usual
