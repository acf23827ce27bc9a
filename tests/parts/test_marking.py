"""Running dimensions: rounded to the step, with the error told, equal ones rounded alike."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.points import Point
from nestkit.parts.holes import Drill, Hole
from nestkit.parts.marking import check_pairs, marked, rounded

STEP = Fraction("25.4") / 32
DRILL = Drill(5.0, "5 mm", "as drawn")


def holes(*places: tuple[float, float]) -> list[Hole]:
    """Holes at places, numbered from 1."""
    return [Hole(i + 1, Point(*p), DRILL, "") for i, p in enumerate(places)]


@given(st.floats(0, 3000), st.sampled_from([STEP, STEP / 2, Fraction(1, 2), Fraction(1)]))
def test_the_error_is_at_most_half_a_step_and_true(place, step):
    """What is measured less the error is the true place, and nothing is out by more than half a step."""
    found = rounded(place, step)
    assert (found.measured / step).denominator == 1
    assert abs(found.error) <= step / 2
    assert float(found.measured - found.error) == pytest.approx(place, abs=2e-5)


@given(st.integers(0, 4000))
def test_half_way_places_are_rounded_alike_however_they_were_reckoned(count):
    """A place half way between two steps goes outwards, also when binary fractions put it a hair lower."""
    true = float((count + Fraction(1, 2)) * STEP)
    assert rounded(true, STEP) == rounded(true - 1e-12, STEP) == rounded(true + 1e-12, STEP)
    assert rounded(true, STEP).error > 0


def test_holes_come_by_number_and_each_from_the_corner():
    """Dimensions run from the corner, never from hole to hole: no error is carried on."""
    found = marked(holes((25.4, 12.7), (130.5, 12.7), (236.0, 12.7))[::-1], STEP)
    assert [m.hole.number for m in found] == [1, 2, 3]
    assert [float(m.x.measured) for m in found] == pytest.approx([25.4, 130.175, 235.74375], abs=0.2)
    assert all(abs(m.x.error) <= STEP / 2 for m in found)


def test_the_check_pairs_are_the_diagonals_of_a_plate():
    """Four corner holes are checked by both diagonals; one hole alone has nothing to check."""
    pairs = check_pairs(holes((10, 10), (90, 10), (90, 50), (10, 50)))
    assert {frozenset(p[:2]) for p in pairs} == {frozenset({1, 3}), frozenset({2, 4})}
    assert [p[2] for p in pairs] == pytest.approx([8000**0.5] * 2)
    assert check_pairs(holes((1, 1))) == ()


@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 30)), min_size=2, max_size=25, unique=True))
def test_the_first_check_pair_is_the_furthest_of_all(places):
    """However the holes lie, no two are further apart than the first pair, nor later ones than the second."""
    some = holes(*places)
    pairs = check_pairs(some)
    for pair in pairs:
        free = [h for h in some if not any(h.number in p[:2] for p in pairs[: pairs.index(pair)])]
        assert pair[2] == max(a.at.to(b.at) for a in free for b in free)
    assert len(pairs) == min(2, len(places) // 2)
