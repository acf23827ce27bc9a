"""Every conflict fires, and is silent just past its limit."""

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.fit.assembly import Loose
from nestkit.fit.conflicts import conflicts
from nestkit.parts.tube import HoleGroup
from tests.fit.stacked import (
    bought,
    case,
    drill,
    inch,
    job,
    layer,
    panel,
    rivet,
    screw,
    tube,
    wood_screw,
)

LID, FRAME = panel("console lid"), tube("deck frame")
PLATE = panel("plate", ".125", "aluminium 5052")
STEEL = panel("mount", ".125", "steel")
RAIL = tube("rail", through=False)
RIB = panel("rib", ".5", "birch plywood")
ACCESS = HoleGroup("access", drill(".55"), (inch("4"), inch("8")), "C")


def found(*args, **more):
    """Return a joint's conflicts as (error, rule, text)."""
    return [
        (c.error, c.rule, c.text) for c in conflicts(job(), [case(*args, **more)]) if "copies" not in c.text
    ]


def about(word, *args, **more):
    """Return whether each conflict whose text has a word is an error."""
    return [error for error, _, text in found(*args, **more) if word in text]


def by(rule, *args, **more):
    """Return the texts of a rule's conflicts."""
    return [text for _, r, text in found(*args, **more) if r == rule]


def test_a_plain_good_joint_has_no_conflict():
    """Steel on steel with a lock nut: nothing to say."""
    assert found(screw("10-32"), layer(STEEL), layer(panel("foot", ".125", "steel"))) == []


def test_a_nut_in_a_closed_tube_is_out_of_reach():
    """Drilled through one wall, far from the ends: an error that names the holes."""
    (conflict,) = [c for c in found(screw(), layer(STEEL), layer(RAIL)) if c[0]]
    assert conflict[2] == ('the nuts at holes 1, 2 of "rail" would sit inside the closed tube, out of reach')
    assert about("out of reach", screw(), layer(STEEL), layer(FRAME)) == []
    assert (
        about("out of reach", screw(held_by="rivet nut"), layer(STEEL), layer(RAIL, holds_thread=True)) == []
    )
    angle = tube("angle", "angle 1 x 1 x 1/8", through=False)
    assert about("out of reach", screw(), layer(STEEL), layer(angle)) == []
    round_rail = tube("round rail", "round 1 x 1/16", through=False)
    assert about("out of reach", screw(), layer(STEEL), layer(round_rail)) == [True]


@pytest.mark.parametrize(("at", "error"), [("50 mm", False), ("50.1 mm", True), ("21 in", False)])
def test_a_nut_near_an_open_end_is_reached(at, error):
    """Up to 50 mm from an end it is an advice, beyond an error; the other end serves as well."""
    near = tube("rail", at=(at,), through=False)
    sits = about("sit inside", screw(), layer(STEEL), layer(near))
    assert sits == [error]


def test_an_access_hole_lets_a_nut_in():
    """A hole opposite lets in a nut of .434 over corners; a smaller one, or one beside it, does not."""

    def rail(dia, at=("4", "8")):
        group = replace(ACCESS, drill=drill(dia), at=tuple(inch(t) for t in at))
        return layer(tube("rail", through=False, more_holes=(group,)))

    assert about("sit inside", screw(), layer(STEEL), rail(".44")) == []
    assert about("sit inside", screw(), layer(STEEL), rail(".43")) == [True]
    assert about("sit inside", screw(), layer(STEEL), rail(".44", ("4.03", "8"))) == []
    assert about("sit inside", screw(), layer(STEEL), rail(".44", ("4.05", "8"))) == [True]
    assert about("sit inside", screw(washers="nut"), layer(STEEL), rail(".44")) == [True]


def test_a_head_in_a_closed_tube_is_out_of_reach():
    """A tube met from its hollow has the heads inside: an error for screws, rivets and wood screws."""
    inside = layer(RAIL, mirrored=True)
    assert about("the heads at", screw(), inside, layer(STEEL)) == [True]
    assert about("the heads at", rivet(), inside, layer(STEEL)) == [True]
    assert about("the heads at", screw(), layer(FRAME), layer(STEEL)) == []
    access = layer(tube("rail", through=False, more_holes=(ACCESS,)), mirrored=True)
    assert about("the heads", screw(), access, layer(STEEL)) == []


def test_a_screw_meets_the_far_wall():
    """The hollow of 1 in tube is .875 deep: a screw may stand in as far; further only with a hole there."""

    def rail(**more):
        return layer(tube("rail", through=False, **more), holds_thread=True)

    nut = {"held_by": "rivet nut"}
    long = screw(**nut, length=inch(".125") + inch("15/16"))
    assert about("far wall", long, layer(STEEL), rail()) == []
    longer = screw(**nut, length=inch(".125") + inch("15/16") + Fraction(1, 10))
    assert about("far wall", longer, layer(STEEL), rail()) == [True]
    assert about("far wall", longer, layer(STEEL), rail(more_holes=(ACCESS,))) == []
    assert about("far wall", screw(**nut), layer(STEEL), rail(section="1/2 x 1/2 x 1/16")) == [True]
    # A screw of 1/4 ends before the wall; the body of the rivet nut, .531 - .0625 behind it, does not.
    short = screw(**nut, length=inch("1/4"))
    assert about("far wall", short, layer(STEEL), rail(section="9/16 x 9/16 x 1/16")) == [True]
    assert about("far wall", short, layer(STEEL), rail(section="5/8 x 5/8 x 1/16")) == []
    flat = layer(tube("flat", "2 x 1/2 x 1/16", through=False), holds_thread=True)
    assert about("far wall", screw("1/4-20", "rivet nut"), layer(STEEL), flat) == [True]


def test_screws_through_a_hollow_tube_are_snug_only():
    """R112 for both walls, by screw or by rivet; not for one wall, nor for a solid rod."""
    assert len(by("R112", screw(), layer(STEEL), layer(FRAME))) == 1
    assert "both walls" in by("R112", rivet(), layer(STEEL), layer(FRAME))[0]
    assert by("R112", rivet(), layer(STEEL), layer(RAIL)) == []
    assert by("R112", screw(), layer(STEEL), layer(tube("pin", "rod 1/2"))) == []


def test_plain_nuts_on_plastic():
    """R075: plastic anywhere in the joint asks for lock nuts; metal alone, or a lock nut, does not."""
    assert len(by("R075", screw(held_by="nut"), layer(LID), layer(STEEL))) == 1
    assert by("R075", screw(), layer(LID), layer(STEEL)) == []
    assert by("R075", screw(held_by="nut"), layer(PLATE), layer(STEEL)) == []


@pytest.mark.parametrize(
    ("material", "cracks"),
    [("polycarbonate", True), ("acrylic", True), ("black ABS", True), ("hdpe", False), ("slabs", False)],
)
def test_thread_locker_cracks_some_plastics(material, cracks):
    """R076: polycarbonate, acrylic and ABS, wherever they lie in the joint; an advice, in strong words."""
    laid = layer(STEEL), layer(panel("p", ".118", material)), layer(panel("q", ".125", "steel"))
    conflict = [c for c in found(screw(thread_locker=True), *laid) if c[1] == "R076"]
    assert len(conflict) == int(cracks)
    assert not any(error for error, _, _ in conflict)
    assert by("R076", screw(), *laid) == []


def test_flat_heads_in_plastic():
    """R072, R073: no countersink in polycarbonate or acrylic; a pan head, or plastic below, is fine."""
    assert len(by("R072", screw(head="flat"), layer(LID), layer(STEEL))) == 1
    assert len(by("R073", screw(head="flat"), layer(panel("w", ".118", "acrylic")), layer(STEEL))) == 1
    assert len(by("R073", wood_screw(head="flat"), layer(panel("w", ".118", "acrylic")), layer(RIB))) == 1
    assert by("R072", screw(), layer(LID), layer(STEEL)) == []
    assert by("R072", screw(head="flat"), layer(STEEL), layer(LID)) == []


def test_flat_heads_in_thin_aluminium():
    """R074: a 10-32 head is .116 deep, .67 of .1732: thinner aluminium does not do; steel is not asked."""

    def thick(size, material="aluminium 6061", **more):
        return by("R074", screw(head="flat", **more), layer(panel("p", size, material)), layer(STEEL))

    assert len(thick(".1731")) == 1
    assert thick(".1732") == []
    assert thick(".1731", "steel") == []
    assert len(by("R074", screw(head="flat"), layer(FRAME), layer(STEEL))) == 1
    sleeve = (Loose(bought("sleeve", "1/4", "aluminium"), 0, 6.35),)
    assert by("R074", screw(head="flat"), layer(FRAME), layer(STEEL), loose=sleeve) == []


def test_a_washer_under_a_flat_head_is_not_counted():
    """It is said, and only where the job asks for one."""
    assert about("washer", screw(head="flat", washers="head"), layer(STEEL), layer(STEEL)) == [False]
    assert about("washer", screw(head="flat", washers="nut"), layer(STEEL), layer(STEEL)) == []


def test_heads_go_on_the_plastic():
    """R111: metal under heads and plastic under nuts is said; plastic at both ends, or wood, is not."""
    assert len(by("R111", screw(), layer(FRAME), layer(LID))) == 1
    assert by("R111", screw(), layer(LID), layer(FRAME)) == []
    assert by("R111", screw(), layer(LID), layer(panel("hatch"))) == []
    assert by("R111", screw(), layer(STEEL), layer(RIB)) == []


def test_rivets_on_plastic_want_a_washer():
    """Where the job forbids the washer it is said; it is there by itself."""
    assert about("spread", rivet(washers="none"), layer(PLATE), layer(LID)) == [False]
    assert about("spread", rivet(), layer(PLATE), layer(LID)) == []
    assert about("spread", rivet(washers="none"), layer(LID), layer(PLATE)) == []


def test_one_part_holds_the_thread():
    """Two tapped parts are an error, one with a nut an advice, a clear part and a tapped one nothing."""
    tapped = layer(panel("block", ".5", "steel", made_by=drill(".159", tap="10-32")), holds_thread=True)
    other = layer(panel("other", ".5", "steel", made_by=drill(".159", tap="10-32")), holds_thread=True)
    hole = screw(held_by="tapped hole")
    assert about("both hold", hole, tapped, other) == [True]
    assert about("as well", screw(), tapped, layer(STEEL)) == [False]
    assert found(hole, layer(STEEL), tapped) == []


def test_the_tapped_part_has_the_screws_thread():
    """A clearance hole, or another thread, cannot hold the screw."""
    hole = screw(held_by="tapped hole")
    assert about("as large as the screw", hole, layer(STEEL), layer(STEEL, holds_thread=True)) == [True]
    coarse = panel("block", ".5", "steel", made_by=drill(".1495", tap="10-24"))
    assert about("is tapped 10-24", hole, layer(STEEL), layer(coarse, holds_thread=True)) == [True]
    bare = panel("block", ".5", "steel", made_by=drill(".159"))
    assert found(hole, layer(STEEL), layer(bare, holds_thread=True)) == []


def test_a_spacer_behind_the_thread_falls_off():
    """A spacer lies before the part that holds the screw; behind it only with a nut."""
    block = layer(panel("block", ".5", "steel", made_by=drill(".159", tap="10-32")), holds_thread=True)
    spacer = bought("sleeve", "1/4", "steel")
    hole = screw(held_by="tapped hole")
    assert about("fall off", hole, layer(STEEL), block, loose=(Loose(spacer, 2, 6.35),)) == [True]
    assert about("fall off", hole, layer(STEEL), block, loose=(Loose(spacer, 1, 6.35),)) == []
    assert about("fall off", screw(), layer(STEEL), layer(STEEL), loose=(Loose(spacer, 2, 6.35),)) == []


@pytest.mark.parametrize(
    ("dia", "error"), [(".125", True), (".126", False), (".1285", None), (".133", None), (".135", False)]
)
def test_rivets_fill_their_holes(dia, error):
    """R108: 1/8 wants .129 to .133, #30 is fine; 1/8 itself does not take it, .126 and .135 are said."""
    holed = layer(panel("p", ".063", "steel", made_by=drill(dia)))
    other = layer(panel("q", ".063", "steel", made_by=drill(".1285")))
    said = [e for e, rule, _ in found(rivet(), holed, other) if rule == "R108"]
    assert said == ([] if error is None else [error])


def test_rivet_nuts_grip_their_wall():
    """10-32 grips .020 to .130, in a hole of .297 in (from memory): past that it is said, never an error."""

    def said(wall, hole=".297"):
        far = layer(panel("far", wall, "steel", made_by=drill(hole)), holds_thread=True)
        return found(screw(held_by="rivet nut"), layer(STEEL), far)

    assert said(".130") == []
    assert [(e, "grips" in t) for e, _, t in said(".131")] == [(False, True)]
    assert said(".020") == []
    assert [(e, "grips" in t) for e, _, t in said(".019")] == [(False, True)]
    assert said(".063", ".300") == []
    assert [(e, "wants a hole" in t) for e, _, t in said(".063", ".302")] == [(False, True)]


def test_wood_screws_end_in_wood():
    """Plastic or metal under the point is said; wood, and what is not known, is not."""
    assert about("end in", wood_screw(), layer(LID), layer(panel("m", ".5", "steel"))) == [False]
    assert about("end in", wood_screw(), layer(LID), layer(panel("m", ".5", "hdpe"))) == [False]
    assert about("end in", wood_screw(), layer(LID), layer(RIB)) == []
    assert about("end in", wood_screw(), layer(LID), layer(panel("m", ".5", "oak"))) == []


def test_errors_come_first_and_name_their_joint():
    """Within a joint errors stand before advice; joints stay in the job's order."""
    bad = case(screw(held_by="nut"), layer(LID), layer(RAIL), name="lid to rail")
    fine = case(screw(thread_locker=True), layer(LID), layer(FRAME), name="lid to frame")
    all_of_them = conflicts(job(), [bad, fine])
    assert [c.joint for c in all_of_them] == sorted((c.joint for c in all_of_them), reverse=True)
    assert [c.error for c in all_of_them if c.joint == "lid to rail"][:2] == [True, False]


def test_nothing_speaks_of_torque_or_loads():
    """No conflict gives a torque or a load."""
    laid = layer(LID), layer(RAIL), layer(FRAME)
    for _, _, text in found(screw(held_by="nut", head="flat", thread_locker=True), *laid):
        assert not any(word in text.lower() for word in ("torque", "newton", " lb", "load"))
