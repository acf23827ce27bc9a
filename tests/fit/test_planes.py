"""The holes of a part seen from the heads, against the same holes put into space."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.errors import ToolFault
from nestkit.fit.assembly import Fault, Plane
from nestkit.fit.planes import as_measured, planes_of
from nestkit.geometry.points import Point
from nestkit.geometry.section import FACE_DEG
from nestkit.parts.joint import Mate
from tests.fit.joint_bench import (
    ANGLE,
    FLAT,
    ROD,
    ROUND,
    SQUARE,
    STRIP,
    TAPPED,
    bought,
    job,
    joint,
    mate,
    panel,
    row,
    tube,
)

LID = panel("lid", [(10, 20), (60, 25), (30, 80)])
BACK = panel("back", [(1, 1)])


def views(part, index=1, *, around=(LID, BACK), **more):
    """Return the planes of a part that stands first (0), between (1) or last (2) among two panels."""
    mates = [mate(p) for p in around]
    mates.insert(index, mate(part, **more))
    return planes_of(job(*around, part), joint(*mates), index)


def outside(part, face):
    """Return the way a wall looks: outwards, as a vector in space."""
    degrees = math.radians(FACE_DEG[face])
    return (0.0, -math.sin(degrees), math.cos(degrees))


def in_space(part, plane, wall=None):
    """Return the holes in space: along the tube, and y, z of its section, in the wall that is said."""
    found = []
    for number in plane.numbers:
        marks = [m for m in part.marks if m.number == number]
        spot = next(m.spot for m in marks if wall is None or m.spot.face == wall)
        y, z = part.section.on_face(spot.face, spot.across)
        found.append((float(spot.at), float(y), float(z)))
    return found


def seen_as(plane, space, heads):
    """Assert that a plane shows places in space as an eye sees them that looks from the heads."""
    (a, b, c), (p, q, r) = space, plane.points
    for (s, t), (u, v) in (((a, b), (p, q)), ((a, c), (p, r)), ((b, c), (q, r))):
        assert u.to(v) == pytest.approx(math.dist(s, t), abs=1e-9)
    one, two = ([e - f for e, f in zip(other, a, strict=True)] for other in (b, c))
    cross = (
        one[1] * two[2] - one[2] * two[1],
        one[2] * two[0] - one[0] * two[2],
        one[0] * two[1] - one[1] * two[0],
    )
    area = sum(x * h for x, h in zip(cross, heads, strict=True))
    flat = (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)
    assert abs(flat) > 1
    assert flat == pytest.approx(area, abs=1e-9)


def three(section, face, *, through=False):
    """Return a tube with three holes on a face, not in one line."""
    groups = (
        row(face, 20, 90, across=6, through=through),
        row(face, 50, name="h", across=13, through=through),
    )
    return tube("frame", section, *groups)


FACED = [(SQUARE, f) for f in "ABCD"] + [(FLAT, f) for f in "ABCD"]
ONE_WALL = [(ANGLE, "A"), (ANGLE, "B"), (STRIP, "A")]


@pytest.mark.parametrize("hand", [False, True])
@pytest.mark.parametrize(("section", "face"), FACED)
def test_a_tube_drilled_through_is_seen_from_either_wall(section, face, hand):
    """The entry wall comes first, then the wall behind it, each as it looks from outside."""
    drawn = three(section, face, through=True)
    made = drawn.mirrored() if hand else drawn
    entry = made.holes[0].spot.face
    behind = {"A": "C", "B": "D", "C": "A", "D": "B"}[entry]
    found = views(drawn, opposite=hand)
    assert len(found) == 2
    for plane, wall in zip(found, (entry, behind), strict=True):
        seen_as(plane, in_space(made, plane, wall), outside(made, wall))
        assert not plane.mirrored
        assert plane.walls == (2.0, 2.0)
        assert plane.depth == float(section.b if face in "AC" else section.a)


@pytest.mark.parametrize("hand", [False, True])
@pytest.mark.parametrize(("section", "face"), FACED)
def test_a_wall_that_is_drilled_alone_bears_on_the_next_part(section, face, hand):
    """Last of the parts it is seen from outside, first of them from inside, and in no other way."""
    drawn = three(section, face)
    made = drawn.mirrored() if hand else drawn
    wall = made.holes[0].spot.face
    out = outside(made, wall)
    (last,) = views(drawn, 2, opposite=hand)
    seen_as(last, in_space(made, last), out)
    (first,) = views(drawn, 0, opposite=hand)
    seen_as(first, in_space(made, first), tuple(-v for v in out))
    assert (last.mirrored, first.mirrored) == (False, True)
    assert last.walls == (2.0,)
    assert last.depth == 2.0


@pytest.mark.parametrize("hand", [False, True])
@pytest.mark.parametrize(("section", "face"), ONE_WALL)
def test_legs_and_strips_are_met_from_either_side(section, face, hand):
    """Of an angle and a strip the outside comes first, then the inside, wherever they stand."""
    drawn = three(section, face)
    made = drawn.mirrored() if hand else drawn
    out = outside(made, face)
    for index in (0, 1, 2):
        plain, inside = views(drawn, index, opposite=hand)
        seen_as(plain, in_space(made, plain), out)
        seen_as(inside, in_space(made, inside), tuple(-v for v in out))
        assert (plain.mirrored, inside.mirrored) == (False, True)
        assert plain.walls == (3.0,)
        assert plain.depth == 3.0
    (only,) = views(drawn, turned_over=True, opposite=hand)
    assert only.mirrored


@pytest.mark.parametrize(
    ("section", "face", "expected"),
    [
        (FLAT, "A", [(20, 6), (90, 6), (50, 13)]),
        (FLAT, "B", [(20, 6), (90, 6), (50, 13)]),
        (FLAT, "C", [(20, 6), (90, 6), (50, 13)]),
        (FLAT, "D", [(20, 6), (90, 6), (50, 13)]),
        (ANGLE, "A", [(20, 6), (90, 6), (50, 13)]),
        # The heel of an angle is at the top of face B: what is further across is further down.
        (ANGLE, "B", [(20, -6), (90, -6), (50, -13)]),
        (STRIP, "A", [(20, 6), (90, 6), (50, 13)]),
    ],
)
def test_coordinates_by_hand(section, face, expected):
    """From outside, end 0 at the left: x from end 0, y from the edge that across is measured from."""
    assert views(three(section, face), 2)[0].points == tuple(Point(*map(float, p)) for p in expected)


def test_the_other_wall_by_hand():
    """6 and 13 mm across from B on a 40 mm face are 34 and 27 mm across from D on the wall behind."""
    behind = views(three(FLAT, "A", through=True))[1]
    assert behind.points == ((20, 34), (90, 34), (50, 27)) == behind.local
    (only,) = views(three(FLAT, "A", through=True), turned_over=True)
    assert only == replace(behind, mate=only.mate)


@pytest.mark.parametrize("section", [ROUND, ROD])
def test_round_sections_are_met_along_a_line(section):
    """All holes at one angle lie on a line along the tube, in its plane and across."""
    made = tube("axle", section, row(None, 20, 90, at_deg=30, through=True))
    (plane,) = views(made)
    assert plane.points == plane.local == ((20, 0), (90, 0))
    walls = (2.0, 2.0) if section is ROUND else (20.0,)
    assert (plane.walls, plane.depth) == (walls, float(section.a))


def test_angles_opposite_to_each_other_are_one_line():
    """A through hole at 30 degrees and one at 210 go the same way; one at 31 does not."""
    made = tube(
        "axle",
        ROUND,
        row(None, 20, at_deg=30, through=True),
        row(None, 50, name="h", at_deg=210, through=True),
    )
    assert views(made)[0].points == ((20, 0), (50, 0))
    made = tube(
        "axle",
        ROUND,
        row(None, 20, at_deg=30, through=True),
        row(None, 50, name="h", at_deg=31, through=True),
    )
    assert views(made).text == 'the holes of "axle" do not look one way: 1 at 30 deg, 2 at 31 deg'


def test_through_holes_from_both_sides_are_shown_in_one_wall():
    """A hole that goes in at C has its place on A too: across from the other edge."""
    made = tube(
        "frame", FLAT, row("A", 20, across=6, through=True), row("C", 50, name="h", across=6, through=True)
    )
    front, back = views(made)
    assert front.points == ((20, 6), (50, 34))
    assert back.points == ((20, 34), (50, 6))


def test_panels_are_seen_as_drawn_or_turned_over():
    """Turned over, x becomes -x; only faces that are alike leave the choice."""
    drawn = ((10, 20), (60, 25), (30, 80))
    over = tuple((-x, y) for x, y in drawn)
    (plane,) = views(LID, 0, around=(BACK,))
    assert (plane.points, plane.local, plane.mirrored) == (drawn, drawn, False)
    (plane,) = views(LID, 0, around=(BACK,), turned_over=True)
    assert (plane.points, plane.local, plane.mirrored) == (over, drawn, True)
    alike = replace(LID, faces="alike")
    assert [p.points for p in views(alike, 0, around=(BACK,))] == [drawn, over]
    assert [p.points for p in views(alike, 0, around=(BACK,), turned_over=True)] == [over]
    assert plane.walls == (3.0,)


def test_the_opposite_hand_of_a_panel_is_measured_from_its_own_corner():
    """Of a panel 400 wide x becomes 400 - x, in its plane and at the bench."""
    (plane,) = views(LID, 0, around=(BACK,), opposite=True)
    assert plane.points == plane.local == ((390, 20), (340, 25), (370, 80))


def test_bought_parts_have_one_side_unless_it_is_turned():
    """A bought part looks to the heads as its holes are given; its depth is its thickness, 0 if not known."""
    hinge = bought("hinge", [(5, 5), (30, 5)])
    (plane,) = views(hinge)
    assert (plane.points, plane.walls, plane.depth) == (((5, 5), (30, 5)), (1.5,), 1.5)
    (plane,) = views(replace(hinge, thickness=None), turned_over=True)
    assert (plane.points, plane.walls, plane.depth) == (((-5, 5), (-30, 5)), (0.0,), 0.0)


def test_holes_follow_the_numbers_of_the_joint():
    """Numbers, places and diameters run alike, in the order of the joint."""
    made = job(LID, BACK)
    plane = planes_of(made, joint(Mate("lid", (3, 1)), mate(BACK)), 0)[0]
    assert (plane.numbers, plane.points) == ((3, 1), ((30, 80), (10, 20)))
    assert plane.dias == (5.6134, 5.6134)


@pytest.mark.parametrize(
    ("part", "held_by", "index", "holds"),
    [
        (BACK, "lock nut", 1, False),
        (BACK, "rivet nut", 1, True),
        (BACK, "wood", 1, True),
        (BACK, "rivet nut", 0, False),
        (panel("plate", [(1, 1)], TAPPED), "tapped hole", 1, True),
        (panel("plate", [(1, 1)], TAPPED), "lock nut", 0, True),
    ],
)
def test_what_holds_the_thread(part, held_by, index, holds):
    """Tapped holes hold it anywhere; rivet nuts and wood only in the last part."""
    mates = [mate(LID)]
    mates.insert(index, mate(part))
    assert planes_of(job(LID, part), joint(*mates, held_by=held_by), index)[0].holds_thread is holds


def test_spacers_do_not_count_as_neighbours():
    """With a spacer beneath it a tube drilled in one wall is still the last part."""
    made = three(SQUARE, "A")
    spacer = bought("spacer", [])
    stack = joint(mate(LID), mate(made), Mate("spacer", ()))
    assert isinstance(planes_of(job(LID, made, spacer), stack, 1)[0], Plane)


ONE = row("A", 20, across=6)


@pytest.mark.parametrize(
    ("part", "index", "more", "text", "remedy"),
    [
        (
            tube("frame", SQUARE, ONE, row("B", 30, 40, name="h", through=True)), 2, {},
            'the holes of "frame" do not look one way: 1 on face A, 2, 3 on face B',
            "make one joint for the holes of each side",
        ),
        (
            tube("frame", SQUARE, ONE, row("C", 30, name="h")), 2, {},
            'the holes of "frame" do not look one way: 1 on face A, 2 on face C',
            "make one joint for the holes of each side",
        ),
        (
            tube("heel", ANGLE, ONE, row("B", 30, name="h")), 1, {},
            'the holes of "heel" do not look one way: 1 on face A, 2 on face B',
            "make one joint for the holes of each side",
        ),
        (
            tube("frame", SQUARE, row("A", 20, 30, 40)), 1, {},
            'holes 1 to 3 of "frame" are in one wall only, with parts on both sides: the screw cannot pass',
            "write through = true for the holes",
        ),
        (
            tube("frame", SQUARE, ONE), 2, {"turned_over": True},
            'hole 1 of "frame" is in one wall only: turned over, the wall behind is in the way of the screw',
            "leave it out of turned_over, or write through = true for the holes",
        ),
        (
            tube("frame", SQUARE, ONE, row("A", 30, name="h", through=True)), 2, {},
            'hole 1 of "frame" is in one wall, its other holes in both: they take screws of two lengths',
            "make two joints of them, or write through = true for the holes",
        ),
        (
            tube("axle", ROD, row(None, 20, at_deg=0)), 2, {},
            'hole 1 of "axle" does not go through the rod',
            "write through = true for the holes",
        ),
    ],
)  # fmt: skip
def test_holes_that_screws_cannot_go_through_side_by_side(part, index, more, text, remedy):
    """A fault says which holes of which part are in the way, and what to write."""
    assert views(part, index, **more) == Fault(text, remedy)


def test_ties_take_holes_of_any_faces():
    """For what bends round corners holes are as they are measured; a part may have none."""
    made = tube("frame", SQUARE, ONE, row("B", 30, name="h", across=7))
    plane = as_measured(job(made), mate(made))
    assert plane.points == plane.local == ((20, 6), (30, 7))
    assert as_measured(job(made), Mate("frame", ())).points == ()
    assert as_measured(job(LID), Mate("lid", ())).walls == (3.0,)


def test_a_name_that_the_job_does_not_have_is_our_own_fault():
    """The reader has looked at all names, so an unknown one is a fault of the tool."""
    with pytest.raises(ToolFault, match="does not have"):
        planes_of(job(LID), joint(Mate("lead", (1,))), 0)


@given(
    st.sampled_from([*FACED, *ONE_WALL]),
    st.booleans(),
    st.booleans(),
    st.lists(st.tuples(st.integers(1, 390), st.integers(1, 19)), min_size=1, max_size=6),
)
def test_axes_lead_from_what_is_measured_to_the_plane(where, through, hand, places):
    """However a tube is met, its measured places along the axes are its points, and no zero is negative."""
    section, face = where
    groups = [
        row(face, at, name=f"g{i}", across=across, through=through) for i, (at, across) in enumerate(places)
    ]
    drawn = tube("frame", section, *groups)
    index = 1 if through or not section.two_walls else 2
    for plane in views(drawn, index, opposite=hand):
        (xx, xy), (yx, yy) = plane.axes
        for point, local in zip(plane.points, plane.local, strict=True):
            assert point == (xx * local.x + yx * local.y, xy * local.x + yy * local.y)
            assert math.copysign(1.0, point.x) == 1.0 or point.x
