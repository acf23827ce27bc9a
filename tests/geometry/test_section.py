"""Sections: sizes, faces, places on them, areas against formulas."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.section import FACES, SIZES, Section

INCH = Fraction(254, 10)
SQUARE = Section("tube", INCH, INCH, INCH / 16)
FLAT = Section("tube", 2 * INCH, INCH, INCH / 8)
ROUND = Section("round", INCH, INCH, INCH / 16)
ROD = Section("rod", INCH / 4, INCH / 4)
ANGLE = Section("angle", INCH, 2 * INCH, INCH / 8)
STRIP = Section("strip", INCH, INCH / 8)
ROLL = Section("roll", INCH, Fraction(0))
ALL = (SQUARE, FLAT, ROUND, ROD, ANGLE, STRIP, ROLL)


def test_every_kind_is_among_the_examples_and_says_its_sizes():
    """Each kind has as many sizes as it is written with, and its trade word."""
    assert {s.kind for s in ALL} == set(SIZES)
    assert all(len(s.sizes) == len(SIZES[s.kind]) for s in ALL)
    assert [s.words for s in ALL] == ["square tube", "rectangular tube", "round tube", "rod", "angle",
                                      "flat strip", "goods off a roll"]  # fmt: skip


@pytest.mark.parametrize(
    ("section", "faces"),
    [(SQUARE, "ABCD"), (FLAT, "ABCD"), (ANGLE, "AB"), (STRIP, "A"), (ROUND, ""), (ROD, ""), (ROLL, "")],
)
def test_faces(section, faces):
    """A tube has four faces, an angle A and B, a strip A; round goes by angle, a roll has none."""
    assert "".join(section.faces) == faces
    for face in set(FACES) - set(faces):
        with pytest.raises(ValueError, match=f"no face {face}"):
            section.width(face)


def test_widths_of_faces_outside_and_inside():
    """``a`` is the width of A and C, ``b`` of B and D; a tube loses two walls inside, an angle one."""
    assert [FLAT.width(f) / INCH for f in FACES] == [2, 1, 2, 1]
    assert [FLAT.inner_width(f) / INCH for f in FACES] == [Fraction(7, 4), Fraction(3, 4)] * 2
    assert (ANGLE.width("B"), ANGLE.inner_width("B")) == (2 * INCH, Fraction(15, 8) * INCH)
    assert STRIP.inner_width("A") == INCH
    assert (ROUND.inner_dia, ROD.inner_dia) == (INCH * 7 / 8, 0)


def test_what_a_drill_meets():
    """Tubes and rods have a second place to come out at; a leg and a strip are one wall."""
    assert [s.two_walls for s in ALL] == [True, True, True, True, False, False, False]
    assert [s.drilled / INCH for s in ALL] == [Fraction(n, 16) for n in (1, 2, 1, 4, 2, 2, 0)]


def test_places_on_faces_by_hand():
    """1 in across from the edge shared with the next letter, seen with end 0 at the left hand."""
    at = Fraction(5)
    assert FLAT.on_face("A", at) == (5 - INCH, INCH / 2)  # from the edge towards you
    assert FLAT.on_face("B", at) == (-INCH, 5 - INCH / 2)  # from below
    assert FLAT.on_face("C", at) == (INCH - 5, -INCH / 2)  # from the far edge
    assert FLAT.on_face("D", at) == (INCH, INCH / 2 - 5)  # from above


def test_an_angle_is_measured_from_the_heel():
    """On both legs across 0 is the heel, which is up and towards you."""
    heel = (-INCH / 2, INCH)
    assert ANGLE.on_face("A", Fraction(0)) == ANGLE.on_face("B", Fraction(0)) == heel
    assert ANGLE.on_face("B", 2 * INCH) == (-INCH / 2, -INCH)
    assert (ANGLE.next_face("A"), ANGLE.next_face("B")) == ("B", "A")


@pytest.mark.parametrize("face", FACES)
def test_across_starts_at_the_edge_shared_with_the_next_letter(face):
    """Across 0 on a face is the full width on the next one: one and the same edge."""
    after = FLAT.next_face(face)
    assert FLAT.on_face(face, Fraction(0)) == FLAT.on_face(after, FLAT.width(after))


@pytest.mark.parametrize(
    ("deg", "y", "z"), [(0, 0, 1), (90, -1, 0), (180, 0, -1), (270, 1, 0), (45, -(0.5**0.5), 0.5**0.5)]
)
def test_angles_start_up_and_grow_towards_you(deg, y, z):
    """On a round section 0 is A, up; 90 is B, towards you."""
    assert ROUND.at_angle(deg) == pytest.approx((12.7 * y, 12.7 * z))


def test_one_stock_serves_the_section_turned():
    """1 x 2 tube and 2 x 1 tube are one stock, so is an angle turned end for end; a wall makes another."""
    turned = Section("tube", INCH, 2 * INCH, INCH / 8)
    assert turned.stock_key == FLAT.stock_key
    assert turned != FLAT
    assert Section("tube", INCH, 2 * INCH, INCH / 16).stock_key != FLAT.stock_key
    assert Section("angle", 2 * INCH, INCH, INCH / 8).stock_key == ANGLE.stock_key


def test_areas_by_other_sums():
    """Each area is the sum of plates or rings worked another way."""
    wall = 1.5875
    assert SQUARE.area() == pytest.approx(4 * wall * (25.4 - wall))
    assert ROUND.area() == pytest.approx(math.pi * wall * (25.4 - wall))
    assert ROD.area() == pytest.approx(math.pi * 3.175**2)
    assert ANGLE.area() == pytest.approx(25.4 * 3.175 + (50.8 - 3.175) * 3.175)
    assert STRIP.area() == pytest.approx(25.4 * 3.175)
    assert ROLL.area() == 0


def test_rounded_corners_take_a_little_away():
    """A corner radius of one wall has a sharp inside; of two walls the inside is filled by one wall's."""
    wall, sharp = Fraction(25, 16), SQUARE.area()
    small = Section("tube", INCH, INCH, wall)
    assert small.area(wall) == pytest.approx(small.area() - (4 - math.pi) * float(wall) ** 2)
    assert SQUARE.area(SQUARE.wall * 2) == pytest.approx(sharp - (4 - math.pi) * 3 * 1.5875**2)


@pytest.mark.parametrize(
    ("sizes", "why"),
    [
        (("tube", 25, 25, 13), "no room inside"),
        (("round", 25, 20, 2), "one diameter"),
        (("angle", 25, 20, 20), "a whole leg"),
        (("strip", 3, 25, 0), "more than the width"),
        (("rod", 0, 0, 0), "above 0"),
        (("roll", 25, 3, 0), "above 0"),
        (("tube", 25, 25, 0), "have a wall"),
        (("strip", 25, 3, 1), "have a wall"),
    ],
)
def test_impossible_sections_are_refused(sizes, why):
    """What cannot be is refused with the reason, whoever makes it."""
    with pytest.raises(ValueError, match=why):
        Section(sizes[0], *(Fraction(s) for s in sizes[1:]))


SIZE = st.integers(4, 200).map(lambda n: Fraction(n, 2))


@given(SIZE, SIZE, st.fractions(Fraction(1, 100), Fraction(49, 100)), st.fractions(0, 1))
def test_a_place_on_a_face_lies_on_the_box(a, b, wall, share):
    """Every place on every face is on the outside of the section's box, between its edges."""
    tube = Section("tube", a, b, min(a, b) * wall)
    for face in FACES:
        y, z = tube.on_face(face, tube.width(face) * share)
        assert abs(y) <= a / 2
        assert abs(z) <= b / 2
        assert abs(y) == a / 2 or abs(z) == b / 2
