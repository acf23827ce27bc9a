"""Tubes: holes by face, both walls, rows from either end, the opposite hand, mitres."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.mitre import Mitre
from nestkit.geometry.round_wrap import RoundWrap
from nestkit.geometry.section import Section
from nestkit.geometry.wrap import Strip
from nestkit.parts.holes import Drill
from nestkit.parts.tube import HoleGroup, Spot, Tube, WallMark, numbered, row
from tests.folding import fold_round, fold_strip

INCH = Fraction(254, 10)
DRILL = Drill(5.1054, "#7", "table")
SQUARE = Section("tube", INCH, INCH, INCH / 16)
FLAT = Section("tube", Fraction(40), Fraction(20), Fraction(2))
ROUND = Section("round", INCH, INCH, INCH / 16)
ROD = Section("rod", Fraction(6), Fraction(6))
ANGLE = Section("angle", INCH, INCH, INCH / 8)
STRIP = Section("strip", INCH, INCH / 8)


def group(name="rail", at=(10,), **more):
    """Return a group of holes at these millimetres."""
    more = {k: Fraction(v) if k in {"across", "at_deg"} else v for k, v in more.items()}
    return HoleGroup(name, DRILL, tuple(Fraction(a) for a in at), **more)


def tube(section, *groups, length=200, **more):
    """Return a tube with these groups of holes."""
    long = Fraction(length)
    return Tube("frame", "tube", "aluminium", section, long, numbered(groups, section, long), **more)


def places(part):
    """Return number, face, at and across of every mark."""
    return [(m.number, m.spot.face, m.spot.at, m.spot.across) for m in part.marks]


def test_numbers_run_through_all_groups():
    """Holes are numbered 1, 2, ... in file order through all groups; both walls of one bear one number."""
    made = tube(FLAT, group(at=(10, 5), face="A", through=True), group("side", at=(50,), face="B", across=6))
    assert places(made) == [
        (1, "A", 10, 20), (1, "C", 10, 20), (2, "A", 5, 20), (2, "C", 5, 20), (3, "B", 50, 6),
    ]  # fmt: skip
    assert [m.comes_out for m in made.marks] == [False, True, False, True, False]
    assert {m.group for m in made.marks_on("B")} == {"side"}
    assert made.drilled_faces == ("A", "B", "C")


def test_across_on_the_wall_opposite_is_measured_from_its_own_edge():
    """6 mm from B on a 40 mm face A is 34 mm from D on C; on B and D likewise with their width."""
    made = tube(FLAT, group(face="A", across=6, through=True), group("s", face="D", across=5, through=True))
    assert places(made) == [(1, "A", 10, 6), (1, "C", 10, 34), (2, "D", 10, 5), (2, "B", 10, 15)]


def test_from_the_far_end():
    """Distances from end 1 are turned into distances from end 0, the order of numbers stays."""
    made = tube(SQUARE, group(at=(10, 30), face="A", from_end=1), length=200)
    assert [m.spot.at for m in made.marks] == [190, 170]


@pytest.mark.parametrize(
    ("arguments", "places"),
    [
        ({"start": 5, "count": 3, "pitch": 10}, [5, 15, 25]),
        ({"start": 5, "count": 4, "end": 6}, [5, Fraction(16, 3), Fraction(17, 3), 6]),
        ({"start": 30, "count": 2, "pitch": -10}, [30, 20]),
        ({"start": 7, "count": 1, "end": 99}, [7]),
    ],
)
def test_rows(arguments, places):
    """A row goes by its pitch, or evenly to its end, exactly."""
    given_as = {k: v if k == "count" else Fraction(v) for k, v in arguments.items()}
    assert row(**given_as) == tuple(places)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ({"count": 3}, "either a pitch or an end"),
        ({"count": 3, "pitch": Fraction(1), "end": Fraction(2)}, "either a pitch or an end"),
        ({"count": 0, "pitch": Fraction(1)}, "one hole or more"),
        ({"count": 2, "pitch": Fraction(0)}, "lie on one another"),
        ({"count": 3, "end": Fraction(5)}, "lie on one another"),
    ],
)
def test_wrong_rows_are_refused(arguments, why):
    """A row needs one way to go on, and holes apart."""
    with pytest.raises(ValueError, match=why):
        row(Fraction(5), **arguments)


def test_round_tube_goes_by_angle():
    """Through both walls of a round tube or rod is half way round; a face is refused."""
    for section in (ROUND, ROD):
        made = tube(section, group(at_deg=30, through=True), group("low", at_deg=-90))
        assert [m.spot.at_deg for m in made.marks] == [30, 210, 270]
        assert made.drilled_faces == ()
    with pytest.raises(ValueError, match="by angle"):
        tube(ROUND, group(face="A"))


def test_one_wall_has_no_second_mark():
    """Through a leg or a strip there is one place to punch, said or not."""
    for section in (ANGLE, STRIP):
        assert len(tube(section, group(face="A", through=True)).marks) == 1


@pytest.mark.parametrize(("section", "face"), [(SQUARE, None), (STRIP, "B"), (ANGLE, "C")])
def test_a_face_that_is_not_there_is_refused(section, face):
    """A hole needs a face that its section has."""
    with pytest.raises(ValueError, match="face"):
        tube(section, group(face=face))


def test_the_opposite_hand_of_a_tube():
    """B and D change places, across becomes width - across, numbers and drills stay."""
    made = tube(
        FLAT,
        group(face="A", across=6, through=True),
        group("b", at=(50,), face="B", across=4),
        mitres=(Mitre.on("B", Fraction(45)), Mitre.on("A", Fraction(30))),
    )
    other = made.mirrored()
    assert places(other) == [(1, "A", 10, 34), (1, "C", 10, 6), (2, "D", 50, 16)]
    assert other.mitres == (Mitre.on("D", Fraction(45)), Mitre.on("A", Fraction(30)))
    assert other.mirrored() == made


def test_the_opposite_hand_of_an_angle():
    """At becomes length - at, faces and across stay, and the ends change places."""
    long_b = Mitre.on("B", Fraction(45))
    made = tube(ANGLE, group(at=(10, 30), face="B", across=6), mitres=(long_b, None))
    other = made.mirrored()
    assert places(other) == [(1, "B", 190, 6), (2, "B", 170, 6)]
    assert other.mitres == (None, long_b)
    assert other.mirrored() == made


def test_the_opposite_hand_of_a_round_tube_and_a_strip():
    """Angles turn to the other side; a strip's holes go to the other edge."""
    assert [m.spot.at_deg for m in tube(ROUND, group(at_deg=30)).mirrored().marks] == [330]
    assert [m.spot.at_deg for m in tube(ROUND, group(at_deg=0)).mirrored().marks] == [0]
    assert [m.spot.across for m in tube(STRIP, group(face="A", across=10)).mirrored().marks] == [INCH - 10]


def test_a_part_that_is_its_own_mirror_is_found():
    """Holes in the middle of A, or right through B and D, are the same on both hands, others are not."""
    both = tube(SQUARE, group(face="A"), group("s", at=(20,), face="B", through=True), opposite_hand=1)
    assert both.either_hand
    assert not replace(both, opposite_hand=0).either_hand
    assert not tube(SQUARE, group(face="A", across=5), opposite_hand=1).either_hand
    assert not tube(SQUARE, group(face="B"), opposite_hand=1).either_hand
    assert not tube(SQUARE, mitres=(Mitre.on("B", Fraction(45)), None), opposite_hand=1).either_hand


def test_counts():
    """Needed are copies as drawn, opposite hands and spares; of quantity 0 alone nothing is made."""
    made = tube(SQUARE, group(face="B"), quantity=2, opposite_hand=1, spare=1, spare_if_room=3)
    assert (made.needed, made.made, made.hands, made.as_drawn) == (4, True, (False, True), 2)
    none = tube(SQUARE, quantity=0)
    assert (none.needed, none.made, none.hands) == (0, False, ())
    assert tube(SQUARE, group(face="B"), quantity=0, opposite_hand=1).hands == (True,)


def test_a_part_that_is_its_own_mirror_is_printed_once():
    """Where both hands are one part, one print serves, and all copies count as drawn."""
    made = tube(SQUARE, group(face="A"), quantity=2, opposite_hand=1)
    assert (made.hands, made.as_drawn, made.needed) == ((False,), 3, 3)


def test_the_reach_along_a_face_ends_at_the_mitre():
    """Long on A the material of C begins one depth later; along B it depends on the height."""
    made = tube(FLAT, mitres=(Mitre.on("A", Fraction(45)), Mitre.on("A", Fraction(45))))
    assert made.reach(Spot(Fraction(0), "A", Fraction(20))) == pytest.approx((0, 200))
    assert made.reach(Spot(Fraction(0), "C", Fraction(20))) == pytest.approx((20, 180))
    assert made.reach(Spot(Fraction(0), "B", Fraction(5))) == pytest.approx((15, 185))
    assert made.least_length == pytest.approx(160)
    pipe = tube(ROUND, mitres=(Mitre(Fraction(45), Fraction(90)), None))
    assert pipe.reach(Spot(Fraction(0), at_deg=Fraction(270))) == pytest.approx((25.4, 200))


def in_space(section, spot):
    """Return where a spot lies in space, by way of its template folded back."""
    if spot.face is None:
        wrap = RoundWrap(section, 81.0, 45.0)
        return fold_round(wrap, wrap.point(float(spot.at), float(spot.at_deg)))
    strip = Strip(section, spot.face)
    return fold_strip(strip, strip.point(float(spot.at), float(spot.across)))


FRACTION = st.fractions(0, 1, max_denominator=64)


@given(st.sampled_from("ABCD"), FRACTION, FRACTION, st.booleans())
def test_twice_over_and_twice_mirrored_is_as_before(face, along, across, is_round):
    """Going to the opposite wall or to the other hand twice leads back, exactly."""
    section = ROUND if is_round else FLAT
    at = along * 200
    if is_round:
        spot = Spot(at, at_deg=across * 359)
    else:
        spot = Spot(at, face, across * section.width(face))
    assert spot.opposite(section).opposite(section) == spot
    assert spot.mirrored(section, Fraction(200)).mirrored(section, Fraction(200)) == spot
    assert spot.opposite(section).mirrored(section, Fraction(200)) == (
        spot.mirrored(section, Fraction(200)).opposite(section)
    )


@st.composite
def drilled(draw):
    """Return a tube of any section with a few groups of holes."""
    section = draw(st.sampled_from([SQUARE, FLAT, ROUND, ROD, ANGLE, STRIP]))
    groups = []
    for name in "abc":
        at = tuple(share * 200 for share in draw(st.lists(FRACTION, min_size=1, max_size=4)))
        face = None if section.is_round else draw(st.sampled_from(section.faces))
        across = None if face is None else draw(st.none() | FRACTION.map(lambda s: s * 20))
        if across is not None:
            across = min(across, section.width(face))
        deg = draw(FRACTION) * 360 if face is None else Fraction(0)
        through, far = draw(st.booleans()), draw(st.sampled_from([0, 1]))
        groups.append(HoleGroup(name, DRILL, at, face, deg, across, through, far))
    return tube(section, *groups)


@given(drilled())
def test_the_templates_of_a_tube_folded_back_have_every_axis(part):
    """Both marks of a through hole lie on one axis square to the wall, to a millionth of a millimetre."""
    marks = part.marks
    assert [m.number for m in marks if not m.comes_out] == list(range(1, len(part.holes) + 1))
    for mark in marks:
        if not mark.comes_out:
            continue
        first = next(m for m in marks if m.number == mark.number)
        one, other = in_space(part.section, first.spot), in_space(part.section, mark.spot)
        if first.spot.face in ("A", "C"):
            assert other == pytest.approx((one.x, one.y, -one.z), abs=1e-6)
        elif first.spot.face in ("B", "D"):
            assert other == pytest.approx((one.x, -one.y, one.z), abs=1e-6)
        else:
            assert other == pytest.approx((one.x, -one.y, -one.z), abs=1e-6)


@given(drilled())
def test_the_opposite_hand_is_the_mirror_image_in_space(part):
    """Every mark of the opposite hand is the drawn one in a mirror: left for right, an angle end for end."""
    for mark, twin in zip(part.marks, part.mirrored().marks, strict=True):
        assert (mark.number, mark.group, mark.drill) == (twin.number, twin.group, twin.drill)
        one, other = in_space(part.section, mark.spot), in_space(part.section, twin.spot)
        if part.section.kind == "angle":
            assert other == pytest.approx((200 - one.x, one.y, one.z), abs=1e-6)
        else:
            assert other == pytest.approx((one.x, -one.y, one.z), abs=1e-6)


@given(drilled(), st.sampled_from("ABCD"), st.sampled_from("ABCD"), FRACTION)
def test_the_reach_of_the_opposite_hand(part, near, far, share):
    """In the mirror each spot has as much material before and behind it as on the drawn part."""
    angle = 10 + share * 60
    part = replace(part, mitres=(Mitre.on(near, angle), Mitre.on(far, angle)))
    other = part.mirrored()
    assert other.least_length == pytest.approx(part.least_length)
    for mark, twin in zip(part.marks, other.marks, strict=True):
        start, end = part.reach(mark.spot)
        if part.section.kind == "angle":
            start, end = 200 - end, 200 - start
        assert other.reach(twin.spot) == pytest.approx((start, end), abs=1e-6)
        assert end - start >= part.least_length - 1e-6


def test_a_mark_knows_its_drill():
    """Each mark carries number, drill and group of its hole."""
    (mark,) = tube(STRIP, group(face="A")).marks
    assert mark == WallMark(1, Spot(Fraction(10), "A", INCH / 2), DRILL, "rail")
