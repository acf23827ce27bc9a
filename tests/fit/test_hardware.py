from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from nestkit.fit.assembly import Assembly, Loose
from nestkit.fit.fit_job import fit_job
from nestkit.fit.hardware import hardware
from nestkit.parts.joint import Fastener, Joint, Mate
from tests.fit.joint_jobs import job as whole_job
from tests.fit.joint_jobs import joint as meeting_joint
from tests.fit.joint_jobs import panel as meeting_panel
from tests.fit.stacked import assembly, bought, inch, job, layer, panel, rivet, screw, tube, wood_screw

LID, FRAME = panel("console lid"), tube("deck frame")
STEEL = panel("mount", ".125", "steel")
RIB = panel("rib", ".709", "birch plywood")


def listed(*assemblies, spares="0.1"):
    """Return the list as (what, size, length in mm, count, spares)."""
    items = hardware(job(spares=spares), assemblies).items
    return [(i.what, i.size, i.length, i.count, i.spares) for i in items]


def tape(name, size, length, quantity=1, kind="hook-and-loop"):
    """Return a joint of two parts without holes."""
    fastener = Fastener(
        kind, f"{size} in", float(inch(size)), "itself", length=inch(length) if length else None
    )
    mates = (Mate("battery box", ()), Mate("console lid", ()))
    return Assembly(Joint(name, f'joint "{name}"', fastener, mates, quantity), ())


def test_a_joints_hardware_is_counted_over_its_quantity():
    """Two screws in three joints: six screws, six lock nuts, six washers, a tenth to spare."""
    assert listed(assembly(screw(), layer(LID), layer(FRAME), quantity=3)) == [
        ("machine screw, pan head", "10-32", 38.1, 6, 1),
        ("lock nut, nylon insert", "10-32", None, 6, 1),
        ("flat washer", "#10", None, 6, 1),
    ]


def test_like_things_of_several_joints_are_one_line():
    """Same size and length are one line with both joints; another length is a line of its own."""
    first = assembly(screw(), layer(LID), layer(FRAME), name="left")
    second = assembly(screw(), layer(LID), layer(FRAME), name="right", quantity=5)
    third = assembly(screw(), layer(LID), layer(panel("hatch")), name="hatch")
    items = hardware(job(), (first, second, third)).items
    assert [(i.what, i.length, i.count, i.spares, i.joints) for i in items] == [
        ("machine screw, pan head", 15.875, 2, 1, ("hatch",)),
        ("machine screw, pan head", 38.1, 12, 2, ("left", "right")),
        ("lock nut, nylon insert", None, 14, 2, ("left", "right", "hatch")),
        ("flat washer", None, 16, 2, ("left", "right", "hatch")),
    ]


def test_metric_names_are_one():
    """M5 and M5x0.8 are bought as one."""
    first = assembly(screw("M5"), layer(LID), layer(FRAME), name="a")
    second = assembly(screw("M5x0.8"), layer(LID), layer(FRAME), name="b")
    assert [i.joints for i in hardware(job(), (first, second)).items] == [("a", "b")] * 3


def test_the_order_is_by_kind_size_and_length():
    """By kind, diameter and length, whatever the joints' order."""
    joints = [
        assembly(screw("1/4-20"), layer(LID), layer(FRAME), name="a"),
        assembly(rivet(), layer(STEEL), layer(STEEL), name="b"),
        assembly(screw("10-32", "rivet nut"), layer(LID), layer(STEEL, holds_thread=True), name="c"),
        assembly(wood_screw(), layer(LID), layer(RIB), name="d"),
        assembly(screw("10-32", "nut"), layer(STEEL), layer(STEEL), name="e"),
        tape("f", "1", "6"),
        tape("g", "3/16", "", kind="cable tie"),
        assembly(screw("M4", head="flat"), layer(STEEL), layer(STEEL), name="h"),
    ]
    there, back = listed(*joints), listed(*reversed(joints))
    assert there == back
    assert [(what.split(",")[0], size) for what, size, *_ in there] == [
        ("machine screw", "M4"),
        ("machine screw", "10-32"),
        ("machine screw", "10-32"),
        ("machine screw", "1/4-20"),
        ("wood screw", "#8"),
        ("blind rivet", "1/8 in code 44"),
        ("lock nut", "M4"),
        ("lock nut", "1/4-20"),
        ("hex nut", "10-32"),
        ("rivet nut", "10-32"),
        ("flat washer", "#8"),
        ("flat washer", "#10"),
        ("flat washer", "1/4"),
        ("cable tie", "3/16 in"),
        ("hook-and-loop", "1 in"),
    ]


@given(st.integers(1, 400), st.integers(0, 100))
def test_spares_round_up(quantity, percent):
    """At least one to spare of anything, none only where the job asks for none."""
    share = str(Fraction(percent, 100))
    laid = assembly(screw(washers="none"), layer(LID), layer(FRAME), quantity=quantity)
    for _, _, _, count, spares in listed(laid, spares=share):
        assert count == 2 * quantity
        assert spares >= count * percent / 100 > spares - 1
        assert (spares >= 1) == (percent > 0)


def test_spacers_of_the_jobs_own_are_not_bought():
    """What the job cuts itself, or lists as bought, is no hardware."""
    spacer = (Loose(tube("spacer", length="1/2", at=()), 1, 12.7),)
    laid = assembly(screw(), layer(LID), layer(FRAME), loose=spacer)
    assert {what.split(",")[0] for what, *_ in listed(laid)} == {"machine screw", "lock nut", "flat washer"}


def test_tape_is_one_line_a_width():
    """6 in three times and 4 in: 22 in, a tenth on top 24.2, up to 24 1/4; another width is another line."""
    items = hardware(job(), (tape("a", "1", "6", 3), tape("b", "1", "4"), tape("c", "2", "6"))).items
    assert [(i.size, i.length, i.count, i.spares, i.joints) for i in items] == [
        ("1 in", float(inch("24 1/4")), 1, 0, ("a", "b")),
        ("2 in", float(inch("6 5/8")), 1, 0, ("c",)),
    ]
    assert items[0].note == "in all, for 4 pieces; with some to spare"


def test_tape_of_unknown_length_says_so():
    """Without a length there is none in the list, and it is said."""
    (item,) = hardware(job(), (tape("a", "1", ""),)).items
    assert item.length is None
    assert "write length" in item.note


def test_ties_are_one_a_hole():
    """A tie for each hole, with the length the job gives; parts alone take one tie."""
    fastener = Fastener("cable tie", "3/16 in", float(inch("3/16")), "itself", length=inch("8"))
    laid = assembly(fastener, layer(LID), layer(FRAME), quantity=2)
    assert listed(laid) == [("cable tie", "3/16 in", 203.2, 4, 1)]
    assert listed(tape("g", "3/16", "", kind="cable tie"))[0][3] == 1


def test_a_joint_that_could_not_be_laid_is_still_counted():
    """Its screws are counted by its holes; their length is open."""
    laid = assembly(screw(), layer(LID), layer(FRAME))
    (screws, nuts) = hardware(job(), (Assembly(laid.joint, ()),)).items
    assert (screws.count, screws.length, nuts.count) == (2, None, 2)
    assert "does not meet" in screws.note


def test_an_open_length_names_what_to_measure():
    """The note of the line says it, and so does a conflict."""
    found = hardware(job(), (assembly(screw(), layer(LID), layer(bought("hinge"))),))
    assert found.items[0].note == "length open: measure hinge"
    assert any("hinge is not known" in c.text for c in found.conflicts)


def test_notes_and_sources_are_there():
    """Threads that show too far, wide washers on plastic, pilots, grips; each thing's standard and basis."""
    items = hardware(
        job(),
        (
            assembly(screw(washers="none"), layer(LID), layer(FRAME)),
            assembly(screw(), layer(LID), layer(panel("hatch")), name="b"),
            assembly(rivet(), layer(STEEL), layer(STEEL), name="c"),
            assembly(wood_screw(), layer(STEEL), layer(RIB), name="d"),
            assembly(screw(held_by="rivet nut"), layer(STEEL), layer(STEEL, holds_thread=True), name="e"),
        ),
    ).items
    notes: dict[str, str] = {}
    for i in items:
        kind = i.what.split(",")[0]
        notes[kind] = f"{notes.get(kind, '')} {i.note}".strip()
    assert "more than 3 threads show" in notes["machine screw"]
    assert "wide ones on plastic" in notes["flat washer"]
    assert "makers differ" in notes["rivet nut"]
    assert notes["blind rivet"] == "grips .188 to .25 in"
    assert notes["wood screw"] == "pilot 7/64 in soft wood, 1/8 in hard wood"
    assert all("memory" in i.source for i in items)


def test_hands_and_faults_change_no_count():
    """A joint with faults but with places is counted as laid."""
    laid = assembly(screw(), layer(LID), layer(FRAME), quantity=2)
    assert listed(replace(laid, symmetric=True)) == listed(laid)


def test_a_joint_that_does_not_meet_has_a_screw_for_every_hole():
    """Where a mirrored pattern leaves holes without partners, the screws of all holes are bought."""
    made = whole_job(
        meeting_panel("lid", "[[10, 10], [90, 20], [190, 10], [40, 90]]"),
        meeting_panel("base", "[[190, 10], [110, 20], [10, 10], [160, 90]]"),
        meeting_joint("lid", "base"),
    )
    found = fit_job(made, trials=100)
    assert found.joints[0].assembly.faults
    assert found.joints[0].assembly.screws == 3
    assert [(i.what.split(",")[0], i.count) for i in found.hardware.items] == [
        ("machine screw", 4), ("lock nut", 4), ("flat washer", 8),
    ]  # fmt: skip
