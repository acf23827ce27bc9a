"""Joints with their parts in place, and the words for what does not meet."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.fit.assemble import assemble
from nestkit.fit.assembly import Loose, Miss, Placement
from nestkit.geometry.points import Point
from nestkit.parts.holes import Drill
from nestkit.parts.joint import Mate, Position
from tests.fit.joint_bench import (
    ANGLE,
    CLEAR,
    FLAT,
    PLAY,
    ROUND,
    SQUARE,
    TAPPED,
    bought,
    job,
    joint,
    mate,
    panel,
    pattern,
    row,
    tube,
)

CORNERS = [(10, 10), (90, 10), (90, 60), (10, 60)]
LOPSIDED = [(0, 0), (50, 0), (0, 20), (37, 11)]
IMAGE = [(-x, y) for x, y in LOPSIDED]
LID = panel("lid", CORNERS)


def together(*parts, unit="mm", mates=None, **more):
    """Return parts of one job in their place, the heads' side first."""
    made = list({part.name: part for part in parts}.values())
    return assemble(job(*made, unit=unit), joint(*(mates or map(mate, parts)), **more))


def met(assembly):
    """Return which holes each screw goes through, part by part."""
    return list(zip(*(layer.numbers for layer in assembly.layers), strict=True))


def texts(assembly):
    """Return what is wrong with a joint."""
    return [fault.text for fault in assembly.faults]


def test_two_panels_that_are_alike():
    """Equal patterns lie on one another: no turn, no misses, hole by hole."""
    found = together(LID, panel("base", CORNERS))
    assert met(found) == [(1, 1), (2, 2), (3, 3), (4, 4)]
    assert [layer.placement for layer in found.layers] == [Placement(), Placement()]
    assert found.layers[1].points == LID_POINTS
    assert (found.misses, found.faults, found.symmetric, found.screws) == ((), (), True, 4)


LID_POINTS = tuple(Point(*map(float, p)) for p in CORNERS)


def test_a_part_is_laid_where_its_holes_meet():
    """A hinge that is drawn lying is turned a quarter and moved; its holes run in the lid's order."""
    hinge = bought("hinge", [(50, 0), (0, 0), (50, 80), (0, 80)])
    found = together(LID, hinge)
    (_, layer) = found.layers
    assert layer.placement == Placement(90.0, Point(90.0, 10.0))
    assert layer.points == LID_POINTS
    assert layer.numbers == (4, 2, 1, 3)
    assert layer.local == tuple(hinge.holes[n - 1].at for n in layer.numbers)
    assert layer.dias == (CLEAR.dia,) * 4


def test_a_panel_on_a_tube_and_one_below():
    """Three deep, through a tube: its wall that suits the row looks to the heads."""
    places = [(20, 5), (120, 5), (300, 5)]
    frame = tube("frame", FLAT, row("A", 20, 120, 300, across=10, through=True))
    found = together(panel("lid", places), frame, panel("base", places))
    assert met(found) == [(1, 1, 1), (2, 2, 2), (3, 3, 3)]
    assert (found.misses, found.faults) == ((), ())
    assert found.layers[1].plane.walls == (2, 2)


def test_a_tube_is_met_from_the_wall_that_fits():
    """Two rows that are not alike fit from the wall behind only; turned_over says so and changes nothing."""
    frame = tube(
        "frame",
        FLAT,
        row("A", 20, 120, across=10, through=True),
        row("A", 300, name="h", across=30, through=True),
    )
    behind = [(20, 30), (120, 30), (300, 10)]
    for turned in (False, True):
        found = together(
            panel("lid", behind), frame, mates=[mate(panel("lid", behind)), mate(frame, turned_over=turned)]
        )
        assert found.faults == ()
        assert found.layers[1].local == ((20, 30), (120, 30), (300, 10))
    front = [(x, 40 - y) for x, y in behind]
    found = together(
        panel("lid", front), frame, mates=[mate(panel("lid", front)), mate(frame, turned_over=True)]
    )
    assert texts(found) == ['the holes of "frame" meet those of "lid" only as their mirror image']


def test_angle_and_round_tube():
    """A leg of an angle on a round tube: a row meets a row, whichever way it runs."""
    heel = tube("heel", ANGLE, row("B", 20, 60, 200, across=10))
    axle = tube("axle", ROUND, row(None, 200, 340, 380, at_deg=90, through=True))
    found = together(heel, axle)
    assert met(found) == [(1, 3), (2, 2), (3, 1)]
    assert found.faults == ()
    assert found.layers[1].placement.turn_deg == 180


def test_alike_faces_let_either_part_lie_over():
    """A mirrored pattern meets when one of the two may be turned over, the first or the other."""
    lid, base = panel("lid", LOPSIDED), panel("base", IMAGE)
    assert together(lid, replace(base, faces="alike")).layers[1].plane.mirrored
    found = together(replace(lid, faces="alike"), base)
    assert [layer.plane.mirrored for layer in found.layers] == [True, False]
    assert found.faults == ()
    found = together(replace(lid, faces="alike"), replace(base, faces="alike"))
    assert [layer.plane.mirrored for layer in found.layers] == [False, True]


def test_the_opposite_hand_meets_its_mirror_image():
    """What the joint calls the opposite hand is taken mirrored, hole numbers as they are."""
    base = panel("base", IMAGE, opposite_hand=1)
    lid = panel("lid", LOPSIDED)
    found = together(lid, base, mates=[mate(lid), mate(base, opposite=True)])
    assert met(found) == [(i, i) for i in (1, 2, 3, 4)]
    assert found.faults == ()


OVER = 'write turned_over = ["base"] if its back looks to the heads'
ALIKE = 'faces = "alike" in the panel if it may lie either way'
HAND = 'write opposite_hand = ["base"] in the joint'


@pytest.mark.parametrize(
    ("part", "more", "remedy"),
    [
        (panel("base", IMAGE), {}, f"make its opposite hand, and {HAND}; or {OVER}; or {ALIKE}"),
        (panel("base", IMAGE, opposite_hand=1), {}, f"{HAND}; or {OVER}; or {ALIKE}"),
        (
            panel("base", LOPSIDED, opposite_hand=1),
            {"opposite": True},
            f'leave "base" out of opposite_hand; or {OVER}; or {ALIKE}',
        ),
        (bought("base", IMAGE), {}, OVER),
        (bought("base", LOPSIDED), {"turned_over": True}, 'leave "base" out of turned_over'),
    ],
)
def test_a_mirror_image_is_recognised(part, more, remedy):
    """The fault names the part whose pattern is mirrored, and what makes it fit."""
    lid = panel("lid", LOPSIDED)
    (fault,) = together(lid, part, mates=[mate(lid), mate(part, **more)]).faults
    assert fault.text == 'the holes of "base" meet those of "lid" only as their mirror image'
    assert fault.remedy == remedy


def test_of_three_parts_the_one_that_differs_is_the_mirrored_one():
    """Where both others are the mirror image of the first, the first is named."""
    found = together(panel("lid", LOPSIDED), panel("mid", IMAGE), panel("base", IMAGE))
    assert texts(found) == ['the holes of "lid" meet those of "mid" and "base" only as their mirror image']


def test_counts_that_differ():
    """The holes that have a partner are named, as the joint would write them."""
    hinge = bought("hinge", CORNERS[:2])
    found = together(LID, hinge)
    (fault,) = found.faults
    assert fault.text == '"lid" has 4 holes here, "hinge" 2: holes 3, 4 of "lid" have no partner'
    assert fault.remedy == 'name the 2 that are meant, as "lid / g : 1,2"'
    assert met(found) == [(1, 1), (2, 2)]
    assert [(m.part, m.number, m.dx) for m in found.misses] == [("lid", 3, None), ("lid", 4, None)]
    (fault,) = together(hinge, LID).faults
    assert fault.text == '"lid" has 4 holes here, "hinge" 2: holes 3, 4 of "lid" have no partner'
    (fault,) = together(LID, bought("hinge", [(0, 0), (33, 0)])).faults
    assert fault.text == '"lid" has 4 holes here, "hinge" 2: each screw needs one hole of each part'
    (fault,) = together(LID, bought("pin", [(7, 7)])).faults
    assert fault.remedy == 'name the one that is meant, as "lid / g : 1"'


def test_groups_are_named_with_their_holes():
    """Holes that are meant are listed by group, numbered as on every print."""
    both = (
        *pattern(CORNERS[:2], group="left"),
        *(replace(h, number=h.number + 2) for h in pattern(CORNERS[2:], group="right")),
    )
    more = replace(LID, holes=(*both, replace(both[0], number=5, at=Point(300, 250), group="vent")))
    (fault,) = together(more, bought("hinge", CORNERS[:3])).faults
    assert fault.text.endswith('holes 4, 5 of "lid" have no partner')
    assert fault.remedy == 'name the 3 that are meant, as "lid / left : 1,2", "lid / right : 3"'


def test_a_hole_smaller_than_the_screw():
    """A hole must let the screw pass, unless it holds its thread."""
    thin = panel("base", CORNERS, Drill(4.5, "4.5 mm", "test"))
    (fault,) = together(LID, thin).faults
    assert fault.text == 'holes 1 to 4 of "base" are 4.5 mm wide, and the screw 4.826 mm: it does not pass'
    assert fault.remedy == "make the holes larger, or take a thinner screw"
    assert not together(LID, thin, held_by="wood").faults
    assert not together(LID, panel("base", CORNERS, TAPPED), held_by="tapped hole").faults
    (fault,) = together(thin, LID, unit="in", kind="rivet", held_by="itself").faults
    assert fault.text == 'holes 1 to 4 of "base" are .177 in wide, and the rivet .19 in: it does not pass'


def test_a_small_miss_is_taken_up_and_said():
    """What clearance takes up is no fault: misses say how far off holes are, in the first part's frame."""
    found = together(LID, panel("base", [*CORNERS[:3], (11, 60)]))
    assert found.faults == ()
    assert found.misses[0] == Miss("base", 1, "lid", 1, -0.5, 0.0)
    assert found.misses[3] == Miss("base", 4, "lid", 4, 0.5, 0.0)
    assert len(found.misses) == 4
    assert together(LID, panel("base", [*CORNERS[:3], (10.009, 60)])).misses == ()


def test_one_hole_that_is_off():
    """The hole that is wrong is named, with both figures: against the others, and when all are laid best."""
    (fault,) = together(LID, panel("base", [*CORNERS[:3], (12, 59)])).faults
    assert fault.text == (
        'where the others meet, hole 4 of "base" is 2 mm too far right and 1 mm too far down for hole 4 of '
        '"lid" (as "lid" is drawn); laid as well as they can be, they are 1.118 mm off, and the holes take '
        "up 0.787 mm"
    )
    assert fault.remedy == "mend the places, or make the holes 0.4 mm wider in both"
    (fault,) = together(LID, panel("base", [*CORNERS[:3], (20, 60)])).faults
    assert fault.text.startswith('where the others meet, hole 4 of "base" is 10 mm too far right for hole 4')
    assert fault.remedy == "mend the places"


def test_pitches_that_differ():
    """With every hole off, the furthest is named with its direction, and the others that do not fit."""
    rows = [[(pitch * i, 0) for i in range(6)] for pitch in (25, 26)]
    (fault,) = together(panel("lid", rows[0]), panel("rail", rows[1]), unit="in").faults
    assert fault.text == (
        'laid as well as they can be, hole 1 of "rail" is .098 in too far left for hole 1 of "lid" '
        '(as "lid" is drawn), and the holes take up .031 in; holes 2, 5, 6 are too far off as well'
    )
    assert fault.remedy == "mend the places, or make the holes .068 in wider in both"


@pytest.mark.parametrize(
    ("slip", "held_by", "drill", "fault"),
    [
        (2 * PLAY, "lock nut", CLEAR, False),
        (2 * PLAY + 0.001, "lock nut", CLEAR, True),
        (PLAY, "tapped hole", TAPPED, False),
        (PLAY + 0.001, "tapped hole", TAPPED, True),
    ],
)
def test_what_the_holes_take_up(slip, held_by, drill, fault):
    """Floating, both holes' plays count; fixed, that of the clear hole alone (the rule of ASME Y14.5)."""
    base = panel("base", [(0, 0), (100 + 2 * slip, 0)], drill)
    found = together(panel("lid", [(0, 0), (100, 0)]), base, held_by=held_by)
    assert bool(found.faults) is fault
    if fault and held_by == "tapped hole":
        assert found.faults[0].remedy.endswith("wider in the one that does not hold the screw")


def test_two_threads_cannot_give():
    """Where both parts hold the screw, nothing is taken up."""
    found = together(panel("lid", [(0, 0), (100, 0)], TAPPED), panel("base", [(0, 0), (101, 0)], TAPPED))
    assert found.faults[0].text.count("the holes take up nothing; hole 2 is too far off as well")
    assert found.faults[0].remedy == "mend the places, or let one of the two have clearance holes"


def test_three_deep_all_must_let_the_screw_pass():
    """Two parts that each meet the first may still be too far from one another: the pair is named."""
    lid = panel("lid", [(0, 0), (100, 0)])
    wide, narrow = panel("wide", [(0, 0), (101.4, 0)]), panel("narrow", [(0, 0), (98.6, 0)])
    assert together(lid, wide).faults == together(lid, narrow).faults == ()
    (fault,) = together(lid, wide, narrow).faults
    assert 'of "narrow" is 1.4 mm too far' in fault.text
    assert 'of "wide"' in fault.text


def test_any_two_may_meet_and_all_three_not():
    """Three holes held in a triangle: any two let a screw pass, and no place suits all three."""
    parts = [panel(name, [(0, 0)]) for name in "abc"]
    places = [None, Position(Point(0.75, 0.0)), Position(Point(0.375, 0.65))]
    mates = [mate(part, position=place) for part, place in zip(parts, places, strict=True)]
    found = together(*parts, mates=mates, held=True)
    assert texts(found) == ['any two of "a", "b" and "c" meet, but no place suits the screws in all of them']
    assert not together(*parts, mates=mates).faults


def test_larger_holes_at_some_screws_count_there():
    """Where one hole is larger by design, the parts shift towards the others."""
    big = replace(CLEAR, dia=CLEAR.dia + 4)
    lid = panel("lid", [(0, 0), (100, 0)])
    base = panel("base", [(0, 0), (103, 0)])
    base = replace(base, holes=(base.holes[0], replace(base.holes[1], drill=big)))
    assert together(lid, base).faults == ()
    assert together(lid, base, held=True).faults


def test_no_partner_nearby():
    """A hole without a partner within 25 mm is named on both sides."""
    rail = panel("rail", [*((25 * i, 0) for i in range(7)), (180, 100)])
    found = together(panel("lid", [(25 * i, 0) for i in range(8)]), rail)
    assert texts(found) == [
        'only 7 of 8 holes of "rail" come within 25 mm of those of "lid": hole 8 of "lid" and hole 8 of '
        '"rail" have no partner'
    ]
    assert found.screws == 7
    other = panel("other", [(0, 0), (380, 0), (0, 290), (200, 290)])
    assert texts(together(LID, other))[0].startswith("the two patterns are not alike: at best")


def test_a_position_is_taken_as_it_stands():
    """Where the joint says how a part lies, it lies so, and its nearest holes go together."""
    base = panel("base", CORNERS)
    at = Position(Point(100.5, 70.0), 180.0)
    found = together(LID, base, mates=[mate(LID), mate(base, position=at)])
    assert met(found) == [(1, 3), (2, 4), (3, 1), (4, 2)]
    assert found.misses[0] == Miss("base", 3, "lid", 1, 0.5, 0.0)
    assert (found.layers[1].placement, found.faults) == (Placement(180.0, at.at), ())
    two_off = Position(Point(2.0, 0.0))
    assert not together(LID, base, mates=[mate(LID), mate(base, position=two_off)]).faults
    held = together(LID, base, mates=[mate(LID), mate(base, position=two_off)], held=True)
    assert texts(held) == [
        'at its position hole 1 of "base" is 2 mm too far right for hole 1 of "lid" (as "lid" is drawn)'
    ]
    assert held.faults[0].remedy == 'leave its position out, or write at = ["0", "0"]'


def test_a_position_far_from_where_holes_meet():
    """A position whose holes are more than 3 mm off is a fault, with the one that fits."""
    base = bought("base", [(x + 5, y) for x, y in CORNERS])
    far = mate(base, position=Position(Point(0.0, 0.0)))
    (fault,) = together(LID, base, mates=[mate(LID), far]).faults
    assert fault.text.startswith('at its position hole 1 of "base" is 5 mm too far right')
    assert fault.remedy == 'leave its position out, or write at = ["-5", "0"]'
    away = mate(base, position=Position(Point(200.0, 0.0), 90.0))
    (fault,) = together(LID, base, mates=[mate(LID), away]).faults
    assert fault.text == 'at its position 0 of 4 holes of "base" find partners'


def test_directions_are_those_of_the_first_part():
    """Of a tube the words say how it is looked at, and of a part that is turned over that it is."""
    frame = tube("frame", SQUARE, row("A", 20, 120, through=True))
    (fault,) = together(frame, panel("base", [(0, 0), (105, 0)])).faults
    assert '(seen from the heads, end 0 of "frame" at the left)' in fault.text
    inside = tube("frame", SQUARE, row("A", 20, 120))
    (fault,) = together(inside, panel("base", [(0, 0), (105, 0)])).faults
    assert '(seen from the heads, end 0 of "frame" at the right)' in fault.text
    lid = panel("lid", [(0, 0), (100, 0)])
    base = panel("base", [(0, 0), (105, 0)])
    (fault,) = together(lid, base, mates=[mate(lid, turned_over=True), mate(base)]).faults
    assert '(seen from the heads, "lid" turned over)' in fault.text


def test_two_copies_of_one_part_are_told_apart():
    """A part that is there twice is named by its place."""
    lid, hinge = panel("lid", [(0, 0), (100, 0)]), bought("hinge", [(0, 0), (105, 0)])
    found = together(lid, hinge, mates=[mate(lid), mate(hinge), mate(hinge)])
    assert '"hinge" (part 2 from the heads)' in found.faults[0].text
    assert not together(lid, lid).faults


def test_spacers_lie_where_they_are_named():
    """A part without holes goes loose over the screws, behind the layers before it."""
    pipe = tube("pipe", ROUND, length=12)
    ring = bought("ring", [], thickness=None)
    base = panel("base", CORNERS)
    mates = [Mate("ring", ()), mate(LID), Mate("pipe", ()), mate(base)]
    found = together(LID, base, pipe, ring, mates=mates)
    assert found.loose == (Loose(ring, 0, 0.0), Loose(pipe, 1, 12.0))
    assert [layer.part.name for layer in found.layers] == ["lid", "base"]


def test_faults_of_the_holes_themselves_leave_no_layers():
    """Where holes of a part do not lie in one plane, nothing is placed; each such part is named."""
    frame = tube("frame", SQUARE, row("A", 20), row("B", 40, name="h"))
    found = together(LID, frame, replace(frame, name="other"))
    assert len(found.faults) == 2
    assert found.layers == ()
    assert found.screws == 0


@pytest.mark.parametrize("kind", ["cable tie", "hook-and-loop"])
def test_ties_and_tapes_need_no_pattern(kind):
    """What bends goes round corners: parts are laid as they are measured, and nothing is matched."""
    frame = tube("frame", SQUARE, row("A", 20), row("B", 40, name="h"))
    found = together(LID, frame, mates=[mate(LID), mate(frame)], kind=kind, held_by="itself", dia=4.8)
    assert [layer.numbers for layer in found.layers] == [(1, 2, 3, 4), (1, 2)]
    assert (found.faults, found.misses) == ((), ())
    bare = together(LID, frame, mates=[Mate("lid", ()), Mate("frame", ())], kind=kind, held_by="itself")
    assert [layer.numbers for layer in bare.layers] == [(), ()]


cells = st.lists(st.tuples(st.integers(0, 11), st.integers(0, 9)), min_size=3, max_size=12, unique=True)


@settings(max_examples=60, deadline=None)
@given(cells, st.sampled_from([0.0, 90.0, 180.0, 21.5]), st.booleans(), st.floats(0, 1.2), st.floats(-40, 40))
def test_moving_turning_and_mirroring_a_joint_changes_nothing(places, turn, flip, slip, by):
    """All parts drawn elsewhere, turned or mirrored: the same pairs, misses, faults."""
    own = [(30.0 * x, 30.0 * y) for x, y in places]
    off = [
        (x + slip * ((7 * i) % 5 - 2) / 2, y + slip * ((3 * i) % 7 - 3) / 3) for i, (x, y) in enumerate(own)
    ]

    def moved(points):
        return [Point(-x if flip else x, y).turned(turn).moved(by, 2 * by) for x, y in points]

    before = together(bought("lid", own), bought("base", off))
    after = together(bought("lid", moved(own)), bought("base", moved(off)))
    assert met(after) == met(before)
    assert bool(after.faults) == bool(before.faults)
    worst = [max((abs(complex(m.dx, m.dy)) for m in a.misses), default=0.0) for a in (before, after)]
    assert worst[0] == pytest.approx(worst[1], abs=1e-5)


@settings(max_examples=25, deadline=None)
@given(cells, st.booleans())
def test_seen_from_the_far_side_a_joint_meets_as_well(places, through):
    """The stack turned round, with every part's back to the heads, has the same pairs and misses."""
    own = [(30.0 * x + 5, 12.0 * (y % 2) + 6) for x, y in places]
    own = sorted(set(own))
    groups = [row("A", x, name=str(i), across=y, through=True) for i, (x, y) in enumerate(own)]
    frame, lid = tube("frame", SQUARE, *groups), panel("lid", own)
    front = together(lid, frame, mates=[mate(lid), mate(frame)])
    back = together(lid, frame, mates=[mate(frame, turned_over=through), mate(lid, turned_over=through)])
    assert front.faults == ()
    if through:
        assert back.faults == ()
        assert {tuple(reversed(pair)) for pair in met(back)} == set(met(front)) or back.symmetric


def many_holes(count):
    """Return a job of two parts with so many holes alike, and the joint through them."""
    spots = [(37 * i % 391, 53 * i % 283) for i in range(count)]
    lid, base = panel("lid", spots), panel("base", spots, faces="alike")
    return job(lid, base), joint(mate(lid), mate(base))


def test_a_joint_of_many_holes_is_laid():
    """A joint of 12 holes, and one of 40, has every hole on its like."""
    for count in (12, 40):
        found = assemble(*many_holes(count))
        assert found.faults == ()
        assert found.screws == count


def test_length_of_a_bought_spacer():
    """A bought spacer's length is its thickness."""
    ring = bought("ring", [], thickness=Fraction(25, 4))
    base = panel("base", CORNERS)
    found = together(LID, base, ring, mates=[mate(LID), mate(base), Mate("ring", ())])
    assert found.loose == (Loose(ring, 2, 6.25),)
