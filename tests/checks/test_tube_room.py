"""Room around the holes of tubes, by the rules that panels go by, and by where a face's flat ends."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.checks.letters import letters_not_in_type
from nestkit.checks.tube_room import end_distance, holes_in_corner
from nestkit.geometry.mitre import Mitre
from nestkit.geometry.section import Section
from nestkit.parts.holes import Drill
from nestkit.trade.rules import rule
from tests.laid_tubes import SCREW, bar, group, job, tube

FIVE = Drill(5.0, "5 mm", "table")
SQUARE = Section("tube", Fraction(40), Fraction(40), Fraction(2))
ANGLE = Section("angle", Fraction(30), Fraction(20), Fraction(3))
STRIP = Section("strip", Fraction(30), Fraction(3))


def found(check, section, *groups, unit="mm", **more):
    """Return what one check finds in a job with one tube of 400 mm."""
    return list(check(job(tube("frame", section, 400, *groups, **more), unit=unit)))


@pytest.mark.parametrize(
    ("material", "number", "wants"),
    [("aluminium 6061", "R005", "7.239"), ("steel", "R007", "7.239"), ("polycarbonate", "R001", "11.2268"),
     ("hdpe", "R004", "8.4201")],
)  # fmt: skip
def test_a_hole_too_near_an_end(material, number, wants):
    """By the rule of the material: 1.5 x the 4.826 mm screw, or by the hole, in plastic from its edge."""
    near = group("row", "A", Fraction(wants) - Fraction(1, 100), 200, drill=SCREW)
    (said,) = found(end_distance, SQUARE, near, material=material)
    assert (said.level, said.rule, said.source) == ("advice", number, rule(number).behind())
    assert "of hole 1 to end 0 there is" in said.text
    assert not found(
        end_distance,
        SQUARE,
        group("r", "A", Fraction(wants) + Fraction(1, 100), drill=SCREW),
        material=material,
    )


def test_unknown_materials_and_holes_that_leave_are_left_to_others():
    """No rule for a material is no advice, and a hole over the end is an error already."""
    assert not found(end_distance, SQUARE, group("r", "A", 4, drill=SCREW), material="bamboo")
    assert not found(end_distance, SQUARE, group("r", "A", 2, drill=SCREW))


def test_a_mitre_is_measured_square_to_it():
    """On a face that a 45 degree end slants over, 10 mm along the tube are 7.07 mm from the end."""
    mitres = (None, Mitre.on("A", Fraction(45)))
    (said,) = found(end_distance, SQUARE, group("row", "B", 370, drill=SCREW), mitres=mitres)
    assert "from the centre of hole 1 to end 1 there is 7.071 mm" in said.text
    assert not found(end_distance, SQUARE, group("row", "A", 370, drill=SCREW), mitres=mitres)


def test_the_toe_of_a_leg_and_the_edges_of_a_strip_are_edges():
    """A leg ends at its toe, a strip on both sides; the wall of a tube goes on around its corner."""
    (said,) = found(end_distance, ANGLE, group("row", "B", 100, 200, across=14, drill=SCREW))
    assert said.text.startswith("holes 1, 2: from the centre of hole 1 to the toe of its leg there is 6 mm")
    (said,) = found(end_distance, STRIP, group("row", "A", 100, across=6, drill=SCREW))
    assert "to the edge of the strip there is 6 mm" in said.text
    assert not found(end_distance, SQUARE, group("row", "A", 100, across=6, drill=SCREW))


def test_a_through_hole_is_one_hole():
    """Both walls of a hole through the tube are told once, by its number."""
    (said,) = found(end_distance, SQUARE, group("row", "A", 6, drill=SCREW, through=True))
    assert said.text.startswith("from the centre of hole 1 to end 0")


@pytest.mark.parametrize(
    ("across", "fires"), [(4, True), (36, True), ("4.49", True), ("4.51", False), (20, False)]
)
def test_a_hole_that_reaches_the_wall_around_the_corner(across, fires):
    """The drill runs into the wall of the next face where its edge comes nearer than that is thick."""
    said = found(holes_in_corner, SQUARE, group("r", "A", 100, drill=FIVE, across=Fraction(across)))
    assert bool(said) == fires
    if fires:
        assert (said[0].level, said[0].rule) == ("advice", "")
        corner = "A and D" if across == 36 else "A and B"
        assert f"of the corner of {corner}; the wall around the corner is 2 mm thick there" in said[0].text


def test_a_corner_radius_ends_the_flat():
    """Of steel the table's radius counts, R125; one that was measured counts before any table."""
    hole = group("r", "B", 100, 200, drill=FIVE, across=6, through=True)
    assert not found(holes_in_corner, SQUARE, hole)
    (said,) = found(holes_in_corner, SQUARE, hole, material="steel")
    assert said.rule == "R125"
    assert said.text == (
        "holes 1, 2 come within 3.5 mm of the corner of B and C, the corner of C and D; "
        "the flat ends 4 mm from it, where the corner begins"
    )
    (said,) = found(holes_in_corner, SQUARE, hole, corner=Fraction(5))
    assert (said.rule, said.source) == ("", "as drawn")
    assert not found(holes_in_corner, SQUARE, hole, material="steel", corner=Fraction(3))


def test_the_heel_of_an_angle():
    """Near the heel stands the other leg, in rolled steel with a fillet; the toe is no corner."""
    (said,) = found(holes_in_corner, ANGLE, group("r", "A", 100, drill=FIVE, across=5))
    assert said.text == "hole 1 comes within 2.5 mm of the heel; the other leg is 3 mm thick there"
    at_seven = group("r", "B", 100, drill=FIVE, across=7)
    assert not found(holes_in_corner, ANGLE, at_seven)
    (said,) = found(holes_in_corner, ANGLE, at_seven, material="mild steel")
    assert said.rule == "R127"
    assert "the other leg and its fillet take about 7.2 mm there" in said.text
    assert not found(holes_in_corner, ANGLE, group("r", "A", 100, drill=FIVE, across=26), material="steel")


def test_no_corner_no_finding():
    """Round tube, rod and strip have no corner; a hole over the edge is an error already."""
    assert not found(holes_in_corner, STRIP, group("r", "A", 100, drill=FIVE, across=3))
    assert not found(
        holes_in_corner, Section("rod", Fraction(12), Fraction(12)), group("r", 0, 100, drill=FIVE)
    )
    assert not found(holes_in_corner, SQUARE, group("r", "A", 100, drill=FIVE, across=2))


def test_the_names_of_tubes_and_bars_are_printed_too():
    """A letter that the type lacks is told of bars and tubes, where it stands."""
    part = tube(
        "管", "1 x 1 x 1/16", "22", group("孔", "A", "1"), used_for="船", revision="甲", material="鋁"
    )
    made = job(part, bars=[bar("1 x 1 x 1/16", name="料", material="鋁")])
    assert [f.place for f in letters_not_in_type(made)] == [
        'bar "料", name', 'bar "料", material', 'tube "管", name', 'tube "管", for', 'tube "管", revision',
        'tube "管", holes "孔", name',
    ]  # fmt: skip
