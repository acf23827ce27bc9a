"""Holes of tubes in the round, held against points tried one by one."""

from __future__ import annotations

import itertools
import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.geometry.mitre import Mitre
from nestkit.geometry.section import Section
from nestkit.parts.bores import apart, beside, crossings, over_ends, to_ends
from nestkit.parts.holes import Drill
from nestkit.parts.tube import Spot
from tests.laid_tubes import group, tube

SQUARE = Section("tube", Fraction(40), Fraction(30), Fraction(2))
ROUND = Section("round", Fraction(25), Fraction(25), Fraction(2))


def drill(dia):
    """Return a drill of this many millimetres."""
    return Drill(float(dia), "", "given")


@settings(max_examples=40, deadline=None)
@given(
    st.integers(0, 40), st.integers(0, 30), st.integers(0, 24), st.integers(2, 24), st.integers(2, 24),
    st.booleans(), st.booleans(),
)  # fmt: skip
def test_two_holes_square_to_each_other_meet_where_a_point_is_in_both(
    y, z, along, dia_a, dia_b, a_goes, b_goes
):
    """A hole on A and one on B: what is said agrees with points tried in the walls, or the whole tube."""
    made = tube(
        "t", SQUARE, 400,
        group("a", "A", 200, across=y, drill=drill(dia_a), through=a_goes),
        group("b", "B", 200 + Fraction(along, 2), across=z, drill=drill(dia_b), through=b_goes),
    )  # fmt: skip
    found = list(crossings(made))
    y, z, x = y - 20.0, z - 15.0, along / 2
    ys = [-20 + 0.25 * i for i in range(1 + (160 if b_goes else 8))]
    zs = [15 - 0.25 * i for i in range(1 + (120 if a_goes else 8))]
    halves = [
        (dia_a**2 / 4 - (p - y) ** 2, dia_b**2 / 4 - (q - z) ** 2) for p, q in itertools.product(ys, zs)
    ]
    reach = max((u**0.5 + v**0.5 for u, v in halves if u > 0 and v > 0), default=-1.0)
    assert bool(found) == (reach >= x) or abs(reach - x) < 0.5
    if found:
        assert found[0].has == x
        assert (found[0].a.number, found[0].b.number, found[0].inside) == (1, 2, a_goes and b_goes)


@pytest.mark.parametrize("turn", [0, 50, 180])
@pytest.mark.parametrize("far", [False, True])
def test_a_slanting_end_of_a_round_tube_is_met_where_its_plane_is(turn, far):
    """The plane of a 30 degree end, reckoned for every point of the hole's edge, outside and inside."""
    mitre = Mitre(Fraction(30), Fraction(70))
    made = tube("t", ROUND, 200, group("a", turn, 60, drill=drill(6)), mitres=(mitre, mitre))
    (mark,) = made.marks
    lean, to = math.tan(math.radians(30)), math.radians(70)
    least = math.inf
    for step in range(3600):
        edge, up = math.radians(step / 10), math.radians(turn)
        x, u = 3 * math.cos(edge), 3 * math.sin(edge)
        for wall in (12.5, 10.5):
            height = math.sqrt(wall**2 - u**2)
            y, z = -height * math.sin(up) + u * math.cos(up), height * math.cos(up) + u * math.sin(up)
            behind = lean * (12.5 - (-math.sin(to) * y + math.cos(to) * z))
            least = min(least, (200 - behind - 60 - x) if far else 60 + x - behind)
    assert over_ends(made, mark)[far] == pytest.approx(least, abs=1e-3)


def test_distances_to_edges_and_ends():
    """Across a face from the edge shared with the next letter; to a square end along the tube."""
    made = tube("t", SQUARE, 200, group("a", "C", 60, across=10, drill=drill(6)))
    (mark,) = made.marks
    assert (beside(SQUARE, mark.spot).near, beside(SQUARE, mark.spot).far) == (10, 30)
    assert to_ends(made, mark.spot) == (60, 140)
    assert over_ends(made, mark) == (57, 137)
    assert apart(SQUARE, Spot(Fraction(1), "A"), Spot(Fraction(1), "B")) == float("inf")
