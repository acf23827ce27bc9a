"""The least length of a piece: each reason by hand, never above what is possible, true outlines too."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.bounding import length as module
from nestkit.layout.bounding.length import AREA_WHY, BLOCK_WHY, LONGEST_WHY, PROBES, least_length
from nestkit.layout.problem import Box, Hull, Problem, Stock
from tests.layout.roll_problems import cut_up, least_length_free, off_rolls, roll

LONG = 1000


def on(
    width: int,
    sizes: list[tuple[int, int, int]],
    *,
    turning: bool = False,
    gap: int = 0,
    **border: int,
) -> Problem:
    """Return a problem of one roll for the saw, so that gaps are whole; a part is width, height, quantity."""
    return off_rolls(sizes, roll(width, length=LONG, **border), turning=turning, gap=gap, edge_to_edge=True)


@pytest.mark.parametrize(
    ("problem", "length", "why"),
    [
        (on(10, [(2, 30, 1), (3, 4, 2)]), 30, LONGEST_WHY),
        (on(10, [(30, 2, 1), (3, 4, 2)], turning=True), 30, LONGEST_WHY),
        (on(10, [(5, 6, 4)]), 12, AREA_WHY),
        # Three rows of 9 and 8 with a gap of 1 are 3 * 9 * 10 on a width of 10 + 1, grown by the gap.
        (on(20, [(9, 8, 6)], gap=1), 25, AREA_WHY.format(6)),
        (
            on(10, [(6, 4, 5), (4, 3, 2)]),
            20,
            "5 parts are wider than half the roll, and lie one after the other",
        ),
        (on(11, [(6, 7, 3)], turning=True, gap=1), 20, None),
    ],
)
def test_what_is_seen_at_a_glance(problem, length, why):
    """By hand: one part is longer, the area fills so much, or wide parts lie one after the other."""
    found = least_length(problem)
    assert found.value == length
    if why is not None:
        assert found.why == why


def test_the_border_and_the_gap_count():
    """By hand: three 6 x 4 one after the other with 2 between them, 5 below and 7 above: 5 + 16 + 7."""
    found = least_length(on(20 + 3 + 4, [(12, 4, 3)], gap=2, left=3, right=4, bottom=5, top=7))
    assert found.value == 5 + 3 * 4 + 2 * 2 + 7
    assert found.why == "3 parts are wider than half the roll, and lie one after the other"


def test_no_more_is_said_than_is_true_without_the_gap():
    """By hand: 24 is not wider than half of 48, yet with 2 beside it no other 24 lies there."""
    made = [on(48, [(width, 5, 4)], gap=2) for width in (23, 24, 25)]
    found = [least_length(problem) for problem in made]
    assert [f.value for f in found] == [12, 26, 26]
    assert found[1].why == (
        "4 parts with the gap beside them are wider than half the roll, and lie one after the other"
    )
    assert found[2].why == "4 parts are wider than half the roll, and lie one after the other"


def test_wide_parts_block_more_than_they_fill():
    """By hand: on 10 neither 6 x 3 nor 5 x 4 lies beside 6 x 3, and two 5 x 4 share a row: 3 * 3 + 4.

    The area alone says (3 * 18 + 2 * 20) / 10; that 12 is too short is known once a layout on 13 is there.
    """
    problem = on(10, [(6, 3, 3), (5, 4, 2)])
    glance, found = least_length(problem), least_length(problem, 13)
    assert (glance.value, glance.why) == (10, AREA_WHY)
    assert (found.value, found.why) == (13, BLOCK_WHY)


def test_a_length_found_is_never_beaten_by_its_bound():
    """Where steps are rounded up the bound is still no longer than the layout."""
    problem = on(10, [(4, 6, 5)], gap=0)
    assert least_length(problem, 18).value <= 18
    assert least_length(problem, 18).why


def test_a_layout_just_met_is_proved_first(monkeypatch):
    """What is one step shorter than the layout is asked first; once it is refuted nothing else is asked."""
    asked = []

    def too_short(steps: int) -> bool:
        asked.append(steps)
        return steps < 90

    assert module._halved(10, 90, too_short) == 90
    assert asked == [89]
    assert module._halved(10, 10, too_short) == 10
    assert module._halved(10, 91, too_short) == 90


@given(st.integers(1, 300), st.integers(0, 300), st.integers(0, 300))
def test_halving_ends_with_what_is_not_refuted(plain, more, true):
    """The least length that is not refuted, from the plain bound to what was found."""
    asked = []

    def too_short(steps: int) -> bool:
        asked.append(steps)
        return steps < true

    found = module._halved(plain, plain + more, too_short)
    assert plain <= found <= max(plain, min(true, plain + more))
    assert len(asked) <= PROBES + 1
    assert found == max(plain, min(true, plain + more))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.booleans(), st.integers(0, 1), st.booleans())
def test_no_bound_beats_the_least_length(seed, turning, gap, sawn):
    """CP-SAT's optimum for free layouts is no shorter, which holds all the more under a saw."""
    rng = random.Random(seed)
    sizes = [(rng.randint(1, 9), rng.randint(1, 9)) for _ in range(rng.randint(1, 6))]
    problem = off_rolls(sizes, roll(10), turning=turning, gap=gap)
    least = least_length_free(problem)
    if sawn:
        problem = replace(problem, kerf=gap, edge_to_edge=True)
    for found in (None, least, least + 7):
        assert least_length(problem, found).value <= least
        assert least_length(problem, found, boxes_only=True).value <= least
    assert least_length(problem, least).value >= least_length(problem).value


def halves(width: int, length: int, parts: int, seed: int) -> Problem:
    """Return pieces of a roll, each parted along its diagonal into two triangles: they fill the length."""
    boxes = []
    for w, h in cut_up(width, length, parts, random.Random(seed)):
        cores = tuple(dict.fromkeys(((w // 2, h // 2), (w // 3, 2 * h // 3), (2 * w // 3, h // 3))))
        boxes.append(Box(w, h, 2, ((0, 180),), Hull(w * h // 2, tuple(c for c in cores if min(c) > 0))))
    stock = Stock(width, LONG, 0, 0, 0, 0, 1, Fraction(1), roll=True)
    return Problem(tuple(boxes), (stock,), 0, 0)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 8))
def test_no_bound_beats_what_true_outlines_can_do(seed, parts):
    """Triangles that share their boxes two by two fill a piece of 24 x 30; their boxes need far more."""
    problem = halves(24, 30, parts, seed)
    for found in (None, 30, 47, 60):
        assert least_length(problem, found).value <= 30
    boxes = least_length(problem, 60, boxes_only=True).value
    assert boxes >= 58


def test_two_triangles_share_a_square():
    """By hand: two halves of 10 x 10 take 10 of a roll of 10; seen as boxes they take 20."""
    box = Box(10, 10, 2, ((0, 180),), Hull(50, ((5, 5),)))
    problem = Problem((box,), (Stock(10, LONG, 0, 0, 0, 0, 1, Fraction(1), roll=True),), 0, 0)
    assert least_length(problem, 20).value <= 10
    assert least_length(problem, 20, boxes_only=True).value == 20


def test_parts_at_any_angle_count_by_their_area():
    """By hand: 9 x 4 at any angle surely fills 36 each; three of them 108, on a width of 10."""
    box = Box(9, 4, 3, ((0, 90),), Hull(36))
    problem = Problem((box,), (Stock(10, LONG, 0, 0, 0, 0, 1, Fraction(1), roll=True),), 0, 0)
    found = least_length(problem)
    assert (found.value, found.why) == (11, AREA_WHY)
