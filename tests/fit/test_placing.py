"""Patterns of holes laid on one another without being told which hole belongs to which."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.fit.assembly import Placement
from nestkit.fit.pairing import Near, paired
from nestkit.fit.placing import best_placement, placed, refined
from nestkit.geometry.points import Point

CORNERS = [Point(0, 0), Point(100, 0), Point(100, 60), Point(0, 60)]


def scattered(count, rng, width=500, height=300):
    """Return holes anywhere on a sheet."""
    return [Point(rng.uniform(0, width), rng.uniform(0, height)) for _ in range(count)]


def laid(points, turn_deg, dx=0.0, dy=0.0):
    """Return points turned, then moved."""
    return [p.turned(turn_deg).moved(dx, dy) for p in points]


def grid(columns, rows, pitch):
    """Return a grid of holes."""
    return [Point(x * pitch, y * pitch) for y in range(rows) for x in range(columns)]


def circle(count, radius=100, first=0.0):
    """Return holes evenly round a circle."""
    return [Point(radius, 0).turned(first + 360 * i / count) for i in range(count)]


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.floats(-180, 180), st.booleans())
def test_a_planted_motion_is_found_among_forty_holes_with_three_more_in_either(seed, turn, mirrored):
    """40 holes meet exactly, in any order, whatever the 3 others of both parts do."""
    rng = random.Random(seed)
    shared = scattered(40, rng)
    own = [(i, Point(-p.x, p.y) if mirrored else p) for i, p in enumerate(shared)]
    other = [(i, p.turned(turn).moved(70, -20)) for i, p in own] + [(None, p) for p in scattered(3, rng)]
    rng.shuffle(other)
    reference = [*shared, *scattered(3, rng)]
    match = best_placement(reference, [p for _, p in other], mirrored=mirrored)
    assert len(match.pairs) == 40
    assert match.largest < 1e-9
    assert not match.symmetric
    assert all(other[j][0] == i for i, j in match.pairs)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.integers(4, 40))
def test_a_planted_motion_is_found_when_all_holes_are_a_little_off(seed, count):
    """With slips of up to half a millimetre each hole still goes with its own, and none is further off."""
    rng = random.Random(seed)
    cells = rng.sample([(x, y) for x in range(10) for y in range(8)], count)
    reference = [Point(40 * x + rng.uniform(0, 30), 40 * y + rng.uniform(0, 30)) for x, y in cells]
    slipped = [p.moved(rng.uniform(-0.35, 0.35), rng.uniform(-0.35, 0.35)) for p in reference]
    match = best_placement(reference, laid(slipped, rng.uniform(-180, 180), 20, 10))
    assert len(match.pairs) == count
    assert match.largest <= 0.5
    if count >= 6:
        assert match.pairs == tuple((i, i) for i in range(count))


@given(
    st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=3, max_size=10, unique=True),
    st.sampled_from([0, 90, 180, 270, 33]),
    st.booleans(),
    st.floats(-50, 50),
)
def test_moving_both_patterns_changes_nothing(cells, turn, flip, by):
    """Both turned, moved and mirrored alike: the same pairs, misses and turn, the other way when mirrored."""
    reference = [Point(25.0 * x, 20.0 * y) for x, y in cells]
    other = [p.moved(0.3 * math.sin(i), 0.3 * math.cos(3 * i)) for i, p in enumerate(reference)]

    def moved(points):
        return laid([Point(-p.x, p.y) if flip else p for p in points], turn, by, -by)

    before, after = best_placement(reference, other), best_placement(moved(reference), moved(other))
    assert after.largest == pytest.approx(before.largest, abs=1e-6)
    assert after.symmetric == before.symmetric
    assert after.pairs == before.pairs
    sign = -1 if flip else 1
    assert math.cos(
        math.radians(after.placement.turn_deg - sign * before.placement.turn_deg)
    ) == pytest.approx(1)


@pytest.mark.parametrize(
    ("reference", "other", "turn", "pairs"),
    [
        (CORNERS, CORNERS, 0, [(0, 0), (1, 1), (2, 2), (3, 3)]),
        (CORNERS, laid(CORNERS, 90), -90, [(0, 0), (1, 1), (2, 2), (3, 3)]),
        (CORNERS, laid(CORNERS, -90, 5, 5), 90, [(0, 0), (1, 1), (2, 2), (3, 3)]),
        (CORNERS, CORNERS[2:] + CORNERS[:2], 180, [(0, 0), (1, 1), (2, 2), (3, 3)]),
        (CORNERS, [CORNERS[2], CORNERS[0], CORNERS[3], CORNERS[1]], 0, [(0, 1), (1, 3), (2, 0), (3, 2)]),
        (CORNERS[:2], laid(CORNERS[:2], 180), 180, [(0, 0), (1, 1)]),
        (circle(8), circle(8), 0, [(i, i) for i in range(8)]),
        (circle(5, first=18), circle(5), 18, [(i, i) for i in range(5)]),
        # Of five turns, 18 degrees more or less than fifths of a full one, 90 is a quarter.
        (circle(5, first=18), circle(5)[::-1], 90, None),
        (circle(5, first=20), circle(5), 20, [(i, i) for i in range(5)]),
        (circle(40, first=4), circle(40), 4, [(i, i) for i in range(40)]),
        (grid(8, 5, 20), laid(grid(8, 5, 20), 90), -90, [(i, i) for i in range(40)]),
        (grid(10, 6, 20), grid(8, 5, 20), 0, None),
    ],
)
def test_of_equal_places_the_plainest_is_taken(reference, other, turn, pairs):
    """In order if that fits; else no turn before quarters, quarters before others, then the smallest."""
    match = best_placement(reference, other)
    assert match.symmetric
    assert match.largest == 0
    assert match.placement.turn_deg == turn or (turn, match.placement.turn_deg) == (-90, 90)
    if pairs is not None and match.placement.turn_deg == turn:
        assert list(match.pairs) == pairs
    assert match == best_placement(reference, other)


def test_a_lopsided_pattern_has_one_place():
    """Three holes with unlike sides fit one way only."""
    match = best_placement(CORNERS[:3], laid(CORNERS[:3], 30, 5, 5))
    assert (match.placement.turn_deg, match.symmetric) == (-30, False)
    assert match.pairs == ((0, 0), (1, 1), (2, 2))


def test_two_holes_and_one():
    """Of two holes an unlike distance is split evenly; one hole is only moved."""
    match = best_placement([Point(0, 0), Point(100, 0)], [Point(0, 0), Point(0, 60)])
    assert (match.placement.turn_deg, match.largest, match.symmetric) == (-90, 20, True)
    match = best_placement([Point(3, 4)], [Point(1, 9)])
    assert match.placement == Placement(0.0, Point(2, -5))
    assert (match.largest, match.symmetric) == (0, False)
    assert best_placement(CORNERS, [Point(1, 9)]).pairs == ((0, 0),)


def test_some_holes_of_many():
    """Two holes as far apart as a short side go with the first two that are, and the rest is left over."""
    match = best_placement(CORNERS, [Point(0, 0), Point(60, 0)])
    assert (match.pairs, match.placement.turn_deg) == (((0, 0), (3, 1)), 90)
    assert match.largest == 0


def test_one_hole_that_is_wrong_does_not_draw_the_others_away():
    """10 mm off, it has no partner and the three others meet; 1 mm off, all share the half of it."""
    match = best_placement(CORNERS, [*CORNERS[:3], Point(10, 60)])
    assert (match.pairs, match.largest) == (((0, 0), (1, 1), (2, 2)), 0)
    match = best_placement(CORNERS, [*CORNERS[:3], Point(1, 60)])
    assert (len(match.pairs), round(match.largest, 9)) == (4, 0.5)
    assert len(best_placement(CORNERS, [*CORNERS[:3], Point(1, 60)], within=0.05).pairs) == 3


def test_rows_of_unlike_pitch_are_laid_middle_on_middle():
    """Six holes at 25 and at 26 mm miss by 2.5 mm at both ends."""
    rows = [[Point(pitch * i, 0) for i in range(6)] for pitch in (25, 26)]
    match = best_placement(*rows)
    assert (match.placement, round(match.largest, 9)) == (Placement(0.0, Point(-2.5, 0.0)), 2.5)


def test_mirrored_patterns():
    """What is the mirror image meets only mirrored, and then exactly."""
    pattern = [Point(0, 0), Point(50, 0), Point(0, 20), Point(37, 11)]
    image = laid([Point(-p.x, p.y) for p in pattern], 25, 9, 9)
    assert len(best_placement(pattern, image, within=3).pairs) < 4
    match = best_placement(pattern, image, mirrored=True)
    assert (match.pairs, match.largest) == (tuple((i, i) for i in range(4)), 0)
    assert match.placement.mirrored
    for i, j in match.pairs:
        assert match.placement(image[j]).to(pattern[i]) < 1e-9


def test_a_place_that_is_given_is_taken_as_it_stands():
    """Each hole goes with the nearest, and misses are as they are."""
    match = placed(CORNERS, CORNERS, Placement(180.0, Point(101, 60)))
    assert match.pairs == ((0, 2), (1, 3), (2, 0), (3, 1))
    assert match.largest == 1
    assert refined(CORNERS, CORNERS, match.pairs).placement == Placement(180.0, Point(100, 60))
    assert placed(CORNERS, CORNERS, Placement(0.0, Point(500, 0))).pairs == ()


def test_holes_on_one_place_each_get_a_partner():
    """Two holes at one place are two, with a partner each."""
    twice = [Point(0, 0), Point(0, 0), Point(50, 0)]
    match = best_placement(twice, laid(twice, 45))
    assert match.pairs == ((0, 0), (1, 1), (2, 2))
    assert len(best_placement([Point(0, 0)] * 3, [Point(5, 5)] * 3).pairs) == 3


def test_pairs_are_as_many_as_can_be_and_then_near():
    """Where nearest ones would leave a hole over, all get a partner, the furthest as near as it can be."""
    fixed, moved = [0j, 10 + 0j, 20 + 0j], [9 + 0j, 11 + 0j, 19 + 0j]
    assert paired(Near(fixed, 12), moved) == ((0, 0), (1, 1), (2, 2))
    assert paired(Near(fixed, 3), moved) == ((1, 0), (2, 2))


def test_nothing_cannot_be_placed():
    """A pattern without holes is refused."""
    with pytest.raises(ValueError, match="one hole or more"):
        best_placement([], CORNERS)


def large_patterns():
    """Return pairs of large patterns: alike, off or unlike."""
    rng = random.Random(4)
    some = scattered(43, rng)
    return [
        (some, laid(some, 30)),
        (some, scattered(43, rng)),
        (grid(8, 5, 20), grid(8, 5, 20.3)),
        (circle(40), [p.moved(rng.gauss(0, 0.1), rng.gauss(0, 0.1)) for p in circle(40, first=4)]),
    ]


def test_large_patterns_are_placed():
    """Forty holes and two hundred, alike, off or unlike: those that can meet are in pairs, each hole once."""
    alike, unlike, stretched, off = (best_placement(*pair).pairs for pair in large_patterns())
    assert (len(alike), len(off)) == (43, 40)
    for pairs in (alike, unlike, stretched, off):
        assert len({i for i, _ in pairs}) == len({j for _, j in pairs}) == len(pairs) > 0
    assert len(best_placement(grid(20, 10, 20), grid(20, 10, 30)).pairs) < 200


def test_a_joint_mirrored_as_a_whole_is_laid_as_the_mirror_image():
    """A row on a row, both mirrored: end 0 comes to lie on the other side, not where it was."""
    row = [Point(2.0 + 7.6 * i, 1.0) for i in range(6)]
    rail = [Point(2.0 + 7.6 * i, 0.5) for i in range(6)]
    drawn = best_placement(row, rail)
    other = best_placement([Point(42.0 - p.x, p.y) for p in row], [Point(p.x, 1.0 - p.y) for p in rail])
    assert drawn.placement(Point(0, 0.5)) == pytest.approx((0.0, 1.0))
    assert other.placement(Point(0, 0.5)) == pytest.approx((42.0, 1.0))
