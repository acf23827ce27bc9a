"""Mitred ends: how far they fall back, and what length is left."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.mitre import End, Mitre, least_length
from nestkit.geometry.section import FACES, Section

TUBE = Section("tube", Fraction(40), Fraction(20), Fraction(2))
ROUND = Section("round", Fraction(30), Fraction(30), Fraction(2))
ANGLE = Section("angle", Fraction(40), Fraction(20), Fraction(3))


@pytest.mark.parametrize(("long", "over"), [("A", 20), ("B", 40), ("C", 20), ("D", 40)])
def test_forty_five_degrees_falls_back_by_the_depth(long, over):
    """At 45 degrees the short side lies as far behind as the tube is deep in that direction."""
    mitre = Mitre.on(long, Fraction(45))
    other = FACES[(FACES.index(long) + 2) % 4]
    middle = TUBE.width(long) / 2
    assert mitre.behind(TUBE, *map(float, TUBE.on_face(long, middle))) == 0
    assert mitre.behind(TUBE, *map(float, TUBE.on_face(other, middle))) == over
    assert least_length(TUBE, 100, (mitre, None)) == 100 - over


def test_half_a_right_angle_is_not_thirty():
    """The angle is the saw's, from the square cut: 30 degrees falls back by its tangent."""
    mitre = Mitre.on("A", Fraction(30))
    assert mitre.behind(TUBE, 0, -10) == pytest.approx(20 * math.tan(math.pi / 6))


def test_an_angle_is_long_at_the_heel_or_at_a_toe():
    """Long at B, leg A runs from its full length at the heel to the short toe; long at D the other way."""
    heel, toe = (tuple(map(float, ANGLE.on_face("A", Fraction(v)))) for v in (0, 40))
    assert Mitre.on("B", Fraction(45)).behind(ANGLE, *heel) == 0
    assert Mitre.on("B", Fraction(45)).behind(ANGLE, *toe) == 40
    assert Mitre.on("D", Fraction(45)).behind(ANGLE, *heel) == 40


def test_mirroring_changes_b_and_d():
    """The opposite hand is long at D where this one is at B; A and C stay; twice is as before."""
    angle = Fraction(30)
    assert Mitre.on("B", angle).mirrored() == Mitre.on("D", angle)
    assert Mitre.on("A", angle).mirrored() == Mitre.on("A", angle)
    assert Mitre.on("C", angle).mirrored() == Mitre.on("C", angle)
    assert Mitre(angle, Fraction(10)).mirrored() == Mitre(angle, Fraction(350))


@pytest.mark.parametrize(("angle", "long"), [(0, 0), (90, 0), (-5, 0), (45, 360), (45, -1)])
def test_no_mitre_at_such_an_angle(angle, long):
    """A square end is no mitre, and no saw turns to 90 degrees."""
    with pytest.raises(ValueError, match="degrees"):
        Mitre(Fraction(angle), Fraction(long))


def test_square_ends_leave_the_whole_length():
    """Without mitres nothing is lost."""
    assert least_length(TUBE, 100, (None, None)) == 100


def test_two_mitres_by_hand():
    """Long on one side both times the depth is lost twice; on opposite sides once, everywhere alike."""
    a, c = Mitre.on("A", Fraction(45)), Mitre.on("C", Fraction(45))
    assert least_length(TUBE, 100, (a, a)) == pytest.approx(60)
    assert least_length(TUBE, 100, (a, c)) == pytest.approx(80)
    assert least_length(ROUND, 100, (a, a)) == pytest.approx(40)
    assert least_length(ROUND, 100, (a, c)) == pytest.approx(70)


@pytest.mark.parametrize(("radius", "steps"), [(0, 1), (5e-324, 1), (1e-9, 1), (0.04, 2), (4, 16)])
def test_a_curve_has_one_piece_or_more(radius, steps):
    """However small the radius, a curve is drawn; with the radius the pieces grow as its root."""
    assert End(100, False, Mitre.on("A", Fraction(45))).steps(radius) == steps
    assert End(100, False).steps(radius) == 1


ENDS = st.builds(
    Mitre,
    st.fractions(1, 80, max_denominator=8),
    st.fractions(0, Fraction(2879, 8), max_denominator=8),
)


@given(st.sampled_from([TUBE, ROUND, ANGLE]), ENDS, ENDS)
def test_the_least_length_is_met_and_never_undercut(section, first, second):
    """Over the outside of the section no line is shorter than the least, and one comes close to it."""
    if section.is_round:
        places = [section.at_angle(d) for d in range(0, 360, 2)]
    else:
        places = [(float(y), float(z)) for y, z in section.corners]
    lines = [100 - first.behind(section, y, z) - second.behind(section, y, z) for y, z in places]
    least = least_length(section, 100, (first, second))
    assert min(lines) >= least - 1e-9
    assert min(lines) == pytest.approx(least, abs=0.001 * (1 + first.slope + second.slope) * 15)
    for y, z in places:
        assert first.behind(section, y, z) >= -1e-9
