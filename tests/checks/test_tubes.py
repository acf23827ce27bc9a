"""Holes of tubes that leave them, meet, cross or do not match are errors, by plain measuring."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.checks import tubes
from nestkit.checks.all_checks import examine
from nestkit.geometry.mitre import Mitre
from nestkit.geometry.section import Section
from nestkit.parts.holes import Drill
from nestkit.parts.tube import Twin
from tests import laid_tubes
from tests.laid_tubes import SCREW, group, job, tube

FIVE = Drill(5.0, "5 mm", "table")
SQUARE = Section("tube", Fraction(40), Fraction(40), Fraction(2))
FLAT = Section("tube", Fraction(40), Fraction(20), Fraction(2))
ROUND = Section("round", Fraction(25), Fraction(25), Fraction(2))
ROD = Section("rod", Fraction(12), Fraction(12))
ANGLE = Section("angle", Fraction(30), Fraction(20), Fraction(3))
STRIP = Section("strip", Fraction(30), Fraction(3))


def found(check, section, *groups, length=400, **more):
    """Return what one check finds in a job in mm with one tube."""
    return list(check(job(tube("frame", section, length, *groups, **more), unit="mm")))


def five(face, *at, name="row", **more):
    """Holes of 5 mm."""
    return group(name, face, *at, drill=FIVE, **more)


def test_the_boat_is_sound():
    """The deck's tubes have no error, and no advice but what is meant."""
    assert [f.text for f in examine(laid_tubes.boat()) if f.level == "error"] == []


@pytest.mark.parametrize(
    ("section", "face", "across", "fires"),
    [(FLAT, "A", "2.51", False), (FLAT, "A", "2.5", True), (FLAT, "A", 38, True), (FLAT, "A", "37.4", False),
     (FLAT, "B", 17, False), (FLAT, "B", 18, True), (FLAT, "C", 2, True), (FLAT, "D", 10, False),
     (ANGLE, "A", 28, True), (ANGLE, "A", 2, True), (ANGLE, "B", "17.4", False), (ANGLE, "B", "17.5", True),
     (STRIP, "A", 28, True), (STRIP, "A", 15, False)],
)  # fmt: skip
def test_a_hole_leaves_its_face_across(section, face, across, fires):
    """The whole circle of a hole lies between the edges of its face; touching one is leaving."""
    said = found(tubes.holes_leave_face, section, five(face, 100, across=Fraction(across)))
    assert bool(said) == fires
    if fires:
        assert (said[0].level, said[0].place) == ("error", 'tube "frame"')
        assert f"hole 1 reaches over the edge of face {face}" in said[0].text


def test_a_hole_wider_than_its_face():
    """A hole as wide as its face or wider is told as such, once, with the face's width."""
    large = Drill(25.0, "", "given")
    holes = (five("A", 50, name="a"), group("b", "B", 100, 150, drill=large), five("C", 90, name="c"))
    (said,) = found(tubes.holes_leave_face, FLAT, *holes)
    assert said.text == "holes 2, 3 are as wide as face B (20 mm) or wider"
    (said,) = found(tubes.holes_leave_face, ROUND, group("b", 90, 100, drill=Drill(25.0, "", "given")))
    assert said.text == "hole 1 is as wide as the round tube (25 mm) or wider"
    assert not found(tubes.holes_leave_face, ROUND, group("b", 90, 100, drill=Drill(24.9, "", "given")))


def test_both_walls_of_a_through_hole_are_one_hole():
    """A hole through both walls that leaves both faces is told by its one number, with both faces."""
    (said,) = found(tubes.holes_leave_face, FLAT, five("A", 100, across=1, through=True))
    assert said.text == "hole 1 reaches over the edge of faces A, C, by up to 1.5 mm"


@pytest.mark.parametrize(
    ("at", "says"),
    [(["2.51", "397.4"], ""), (["2.5", 200], "hole 1 reaches over end 0"), ([1], "end 0, by up to 1.5 mm"),
     ([200, 398, 401], "holes 2, 3 reach over end 1, by up to 3.5 mm"),
     ([-1, 400], "hole 1 reaches over end 0, by up to 3.5 mm; hole 2 reaches over end 1, by up to 2.5 mm")],
)  # fmt: skip
def test_a_hole_leaves_a_square_end(at, says):
    """The whole circle lies between the ends; what leaves which end is told, and by how much."""
    said = found(tubes.holes_leave_end, SQUARE, five("A", *map(Fraction, at)))
    assert bool(said) == bool(says)
    assert all(says in f.text for f in said)


@pytest.mark.parametrize(
    ("long", "face", "across", "at", "fires"),
    [
        # Long at A: C ends 40 mm behind A; on A the wall behind ends 2 mm behind its outside.
        ("A", "A", 20, "4.51", False),
        ("A", "A", 20, "4.49", True),
        ("A", "C", 20, "42.51", False),
        ("A", "C", 20, "42.49", True),
        # On B the end slants: square to it there is 0.7071 of the way along the tube.
        ("A", "B", 20, Fraction("20") + Fraction("3.536"), False),
        ("A", "B", 20, Fraction("20") + Fraction("3.535"), True),
        ("C", "A", 20, "42.6", False),
        ("C", "A", 20, "41.9", True),
    ],
)
def test_a_hole_leaves_a_mitred_end(long, face, across, at, fires):
    """Where the end slants away the hole must stay inside it on the outside and the inside of the wall."""
    mitres = (Mitre.on(long, Fraction(45)), None)
    said = found(tubes.holes_leave_end, SQUARE, five(face, Fraction(at), across=across), mitres=mitres)
    assert bool(said) == fires
    assert all("over the mitre of end 0" in f.text for f in said)


def test_a_hole_leaves_a_mitre_of_a_round_tube():
    """On the short side of a round tube of 25 mm a 45 degree end lies 25 mm back."""
    mitres = (None, Mitre(Fraction(45), Fraction(0)))
    for at, fires in ((372, False), (373, True)):
        assert bool(found(tubes.holes_leave_end, ROUND, five(180, at), mitres=mitres)) == fires
    assert not found(tubes.holes_leave_end, ROUND, five(0, 394), mitres=mitres)


@pytest.mark.parametrize(("apart", "fires"), [("5.01", False), (5, True), (0, True)])
def test_holes_of_a_face_meet(apart, fires):
    """Two holes of 5 mm on one face need more than 5 mm from centre to centre, along or across."""
    here = found(tubes.holes_of_face_meet, SQUARE, five("A", 100, 100 + Fraction(apart)))
    beside = (five("A", 100, across=15), five("A", 100, name="b", across=15 + Fraction(apart)))
    there = found(tubes.holes_of_face_meet, SQUARE, *beside)
    assert bool(here) == bool(there) == fires
    if fires:
        assert "1 and 2 on face A" in here[0].text
        assert ("at one place" in here[0].text) == (apart == 0)


def test_holes_of_other_faces_do_not_meet():
    """One wall each at one place along the tube is no fault, nor is a row right around a round tube."""
    holes = [five(face, 100, name=face) for face in "ABCD"]
    assert not found(tubes.holes_of_face_meet, SQUARE, *holes)
    around = [five(deg, 100, name=str(deg)) for deg in (0, 60, 120, 180, 240, 300)]
    assert not found(tubes.holes_of_face_meet, ROUND, *around)
    near = [five(deg, 100, name=str(deg)) for deg in (0, 27)]
    # At the inside of the wall, on a radius of 10.5 mm, they are 2 x 10.5 x sin 13.5 = 4.90 mm apart.
    (said,) = found(tubes.holes_of_face_meet, ROUND, *near)
    assert said.text == "holes run into each other: 1 and 2"


def test_where_a_drill_comes_out_counts_too():
    """A hole through both walls meets a hole of the opposite face; the pair is told once."""
    (said,) = found(tubes.holes_of_face_meet, SQUARE, five("A", 100, through=True), five("C", 103, name="c"))
    assert said.text == "holes run into each other: 1 and 2 on face C"
    twice = (five("A", 100, through=True), five("C", 100, name="c", through=True))
    (said,) = found(tubes.holes_of_face_meet, SQUARE, *twice)
    assert said.text == "holes run into each other: 1 and 2 on face A at one place"
    assert not found(tubes.holes_cross_inside, SQUARE, *twice)


def test_holes_of_one_wall_meet_only_in_a_shared_corner():
    """Square to each other they meet where both reach into the corner that their walls share."""
    a, b = five("A", 100, across=3), five("B", 101, name="b", across=37)
    (said,) = found(tubes.holes_of_face_meet, SQUARE, a, b)
    assert "1 and 2 in their shared corner" in said.text
    assert not found(tubes.holes_cross_inside, SQUARE, a, b)
    far = five("B", 101, name="b", across=30)
    assert not found(tubes.holes_of_face_meet, SQUARE, a, far)
    heel = five("A", 100, across=4), five("B", 100, name="b", across=4)
    assert found(tubes.holes_of_face_meet, ANGLE, *heel)
    assert not found(
        tubes.holes_of_face_meet, ANGLE, five("A", 100, across=9), five("B", 100, name="b", across=9)
    )


@pytest.mark.parametrize(("apart", "fires"), [(0, True), ("4.8", True), ("4.9", False), (6, False)])
def test_screws_through_neighbouring_faces_cross_inside(apart, fires):
    """Two 10-32 screws (4.826 mm) through neighbouring faces collide less than their size apart."""
    holes = (
        group("a", "A", 100, drill=SCREW, through=True),
        group("b", "B", 100 + Fraction(apart), drill=SCREW, through=True, across=7),
    )
    said = found(tubes.holes_cross_inside, SQUARE, *holes)
    assert bool(said) == fires
    if fires:
        assert said[0].level == "error"
        assert "holes 1 and 2 cross inside" in said[0].text
        assert "a screw through one runs into the screw through the other" in said[0].text
        assert "through one wall only" in said[0].remedy


def test_a_hole_of_one_wall_lets_a_screw_pass():
    """A screw through A and C passes a hole in the wall of B, and parallel screws never cross."""
    through, wall = five("A", 100, through=True), five("B", 100, name="b")
    assert not found(tubes.holes_cross_inside, SQUARE, through, wall)
    assert not found(tubes.holes_cross_inside, SQUARE, through, five("C", 110, name="c", through=True))
    legs = five("A", 100, across=15, through=True), five("B", 100, name="b", across=12, through=True)
    assert not found(tubes.holes_cross_inside, ANGLE, *legs)


@pytest.mark.parametrize("section", [ROUND, ROD])
def test_through_holes_of_a_round_section_cross_in_its_middle(section):
    """Whatever their angles, at one place along it; two that go the same way do not cross."""
    first = five(0, 100, through=True)
    (said,) = found(tubes.holes_cross_inside, section, first, five(90, 103, name="b", through=True))
    assert "along the tube 1 and 2 are 3 mm apart" in said.text
    assert said.remedy.startswith("move one row along the tube by at least 2 mm")
    assert not found(tubes.holes_cross_inside, section, first, five(90, 106, name="b", through=True))
    assert not found(tubes.holes_cross_inside, section, first, five(180, 100, name="b", through=True))
    assert not found(tubes.holes_cross_inside, section, first, five(90, 100, name="b"))


def twins(here, there, *, mine="bolts", theirs="bolts"):
    """What is found in two rails, the first of which must match the second."""
    rail = tube("rail", SQUARE, 400, group("ends", "B", 50), group("bolts", "A", *here))
    rail = replace(rail, twins=(Twin(mine, "post", theirs),))
    post = tube("post", SQUARE, 300, group("bolts", "D", *there))
    return list(tubes.twins_differ(job(rail, post, unit="mm")))


def test_twins_match_place_for_place():
    """The same places from end 0 in the same order match, on whatever face."""
    assert not twins([100, 200], [100, 200])
    (said,) = twins([100, 200], [100, 201])
    assert (said.level, said.place) == ("error", 'tube "rail"')
    assert said.text == (
        '"bolts" does not match "post / bolts": hole 3 is at 200 mm from end 0, hole 2 there at 201 mm'
    )
    (said,) = twins([100], [100, 200])
    assert said.text.endswith("it has 1 hole, the other 2")
    (said,) = twins([200, 100], [100, 200])
    assert "hole 2 is at 200 mm" in said.text


def test_a_twin_that_is_not_made_needs_no_match():
    """Nothing has to meet a tube of quantity 0."""
    rail = tube("rail", SQUARE, 400, group("bolts", "A", 50), twins=(Twin("bolts", "post", "bolts"),))
    post = tube("post", SQUARE, 300, group("bolts", "A", 60), quantity=0)
    both = job(rail, post, unit="mm", bars=[laid_tubes.bar(SQUARE)])
    assert not [f for f in examine(both) if f.level == "error"]
    assert [f for f in examine(job(rail, replace(post, quantity=1), unit="mm")) if f.level == "error"]


holes = st.lists(
    st.tuples(
        st.sampled_from("ABCD"), st.integers(-10, 410), st.integers(0, 40), st.booleans(), st.integers(1, 45)
    ),
    max_size=12,
)
angles = st.one_of(st.none(), st.tuples(st.integers(1, 80), st.sampled_from("ABCD")))


@settings(max_examples=40)
@given(holes, st.tuples(angles, angles), st.sampled_from([SQUARE, FLAT, ANGLE, STRIP]))
def test_any_holes_are_judged_and_the_opposite_hand_alike(rows, ends, section):
    """Whatever the holes and ends, every check comes to an end, and the opposite hand has the same errors."""
    groups = [
        group(str(i), face, at, across=across, through=through, drill=Drill(float(dia), "", "given"))
        for i, (face, at, across, through, dia) in enumerate(rows)
        if face in section.faces
    ]
    mitres = tuple(e and Mitre.on(e[1], Fraction(e[0])) for e in ends)
    made = tube("frame", section, 400, *groups, mitres=mitres if section.kind != "angle" else (None, None))
    here, there = (examine(job(part, unit="mm")) for part in (made, made.mirrored()))
    assert [(f.level, f.rule) for f in here] == [(f.level, f.rule) for f in there]
    assert all(f.text and f.remedy and f.source for f in here)


@settings(max_examples=40)
@given(
    st.lists(
        st.tuples(st.integers(0, 359), st.integers(-10, 410), st.booleans(), st.integers(1, 30)), max_size=10
    ),
    st.sampled_from([ROUND, ROD]),
)
def test_any_holes_of_round_sections_are_judged(rows, section):
    """Whatever the angles, every check comes to an end, and the opposite hand has the same errors."""
    groups = [
        group(str(i), deg, at, through=through, drill=Drill(float(dia), "", "given"))
        for i, (deg, at, through, dia) in enumerate(rows)
    ]
    made = tube("mast", section, 400, *groups, mitres=(Mitre(Fraction(30), Fraction(70)), None))
    here, there = (examine(job(part, unit="mm")) for part in (made, made.mirrored()))
    assert [(f.level, f.rule) for f in here] == [(f.level, f.rule) for f in there]
