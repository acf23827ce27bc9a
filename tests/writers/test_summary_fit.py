"""The joints, the hardware and the drills in summary.html."""

from __future__ import annotations

import re
from dataclasses import replace

from nestkit.fit.assembly import Fault
from nestkit.fit.drilling import drill_schedule
from nestkit.fit.hardware_words import CAUTION
from nestkit.fit.result import Accuracy, Chance, Conflict, Hardware, Item, JobFit, JointFit, ScrewFit, Zone
from nestkit.writers.summary_fit import drills_part, hardware_part, joints_part
from tests.drawing.joint_bench import bracket, joint_of, laid, plate
from tests.fit.drill_bench import for_screw, for_tap, job, owned, panel
from tests.writers.test_summary import TAGS, Page

EVIL = '<b>lid & "co"</b>'
LID = plate(EVIL, 200, 100, (20, 20), (60, 20))
HINGE = bracket("hinge", (0, 0), (40, 0))
JOINT = joint_of(laid(LID), laid(HINGE, move=(20.0, 20.0)), name=EVIL)
FAULTY = replace(
    JOINT, assembly=replace(JOINT.assembly, faults=(Fault("hole 2 is 1/8 in off", "move hole 2"),))
)
SCREWS = Item(
    "machine screw, pan head", "10-32", 38.1, 12, 2, (EVIL, "deck on frame"), "ASME B18.6.3", "cap it"
)
TAPE = Item("hook-and-loop", "1", 508.0, 1, 0, ("lid strap",))
CONFLICTS = (
    Conflict(EVIL, False, "plain nut on plastic", "take a lock nut", "R110"),
    Conflict("deck on frame", True, "the nut cannot be reached", "use a rivet nut"),
)


def fit_of(*joints: JointFit, hardware: Hardware | None = None, made=None) -> JobFit:
    """What is known of a job, as far as these sections read it."""
    return JobFit(joints, None, hardware or Hardware(), drill_schedule(made) if made is not None else ())


def known(fit: JointFit) -> JointFit:
    """A joint with a chance and what belongs to it."""
    screws = tuple(ScrewFit(i, (), Chance(0.9), 0.3) for i in (1, 2))
    zones = (Zone(EVIL, 1, 0.7874), Zone("hinge", 1, 0.7874))
    accuracies = tuple(Accuracy("template", 0.2, "R049, common practice") for _ in fit.assembly.layers)
    return replace(fit, accuracies=accuracies, chance=Chance(0.31, 0.01, 2000), screws=screws, zones=zones)


def page(lines: list[str]) -> Page:
    """The lines as a page is read: tags pair, texts are unescaped."""
    return Page("\n".join(lines))


def test_nothing_without_joints_and_holes():
    """A job without them has no such sections."""
    assert joints_part(job(), fit_of()) == []
    assert hardware_part(job(), fit_of()) == []
    assert drills_part(job(), fit_of()) == []


def test_a_joint_has_its_verdict_picture_and_figures():
    """Name, verdict in large letters, the picture, then words with their keys."""
    read = page(joints_part(job(), fit_of(known(JOINT), FAULTY)))
    tags = [tag for tag, _ in read.tags]
    assert tags.count("svg") == 2
    assert tags.index("h3") < tags.index("figure") < tags.index("dl")
    assert "3 in 10 go together without filing." in read.text
    assert "Chance" in read.text
    assert "P1 Q1" in read.text
    assert {tag for tag, _ in read.tags} <= TAGS


def test_a_joint_that_cannot_meet_is_framed():
    """What is wrong and what to do stand in the heavy frame, once."""
    lines = joints_part(job(), fit_of(FAULTY))
    text = "\n".join(lines)
    frame = text[text.index('<div class="must">') : text.index("</div>")]
    assert "CANNOT MEET." in frame
    assert "Hole 2 is 1/8 in off." in frame
    assert "Move hole 2." in frame
    assert text.count("Move hole 2.") == 1


def test_pictures_keep_their_ids_apart():
    """No two clip paths of a page have one name, and each that is used is there."""
    text = "\n".join(joints_part(job(), fit_of(known(JOINT), FAULTY, known(JOINT))))
    ids = re.findall(r'id="([^"]+)"', text)
    assert len(ids) == len(set(ids)) > 0
    assert set(re.findall(r"url\(#([^)]+)\)", text)) <= set(ids)


def test_texts_of_the_job_are_escaped():
    """A name with tags is a name: in joints, pictures, hardware and drills."""
    made = job(replace(panel(EVIL, for_screw("10-32")), place="x"))
    hardware = Hardware((SCREWS, TAPE), CONFLICTS)
    found = fit_of(known(JOINT), FAULTY, hardware=hardware, made=made)
    lines = [*joints_part(made, found), *hardware_part(made, found), *drills_part(made, found)]
    read = page(lines)
    assert {tag for tag, _ in read.tags} <= TAGS
    assert EVIL in read.text
    assert not any("style" in attrs or any(name.startswith("on") for name in attrs) for _, attrs in read.tags)


def test_hardware_says_what_to_get():
    """Count with spares, size as the trade writes it, for which joints; errors framed; the caution last."""
    lines = hardware_part(job(), fit_of(hardware=Hardware((SCREWS, TAPE), CONFLICTS)))
    read = page(lines)
    rows = "".join(lines).split("<tr>")
    [screws] = [row for row in rows if "machine screw" in row]
    assert '<span class="size">14</span><br><span class="small">12 and 2 spare</span>' in screws
    assert '<span class="size">10-32 x 1 1/2</span>' in screws
    assert "deck on frame" in screws
    [tape] = [row for row in rows if "hook-and-loop" in row]
    assert "spare" not in tape
    text = "\n".join(lines)
    frame = text[text.index('<div class="must">') : text.index("</div>")]
    assert "The nut cannot be reached. Use a rivet nut." in frame
    assert "Plain nut on plastic. Take a lock nut." in read.text
    assert "Plain nut" not in frame
    assert CAUTION in read.text


def test_drills_by_size_with_their_holes():
    """Each drill once a line: name, size, count, order, speed, parts; notes and how many to lay out."""
    lid = panel("console lid", for_screw("10-32"), for_screw("10-32"), for_tap("10-32"), quantity=2)
    made = job(lid, shop_drills=owned("1/8", "B", "#21"))
    lines = drills_part(made, fit_of(made=made))
    read = page(lines)
    rows = "".join(lines).split("<tr>")
    [two] = [row for row in rows if '<span class="size">#2</span>' in row]
    assert '<span class="size">4</span>' in two
    assert "10-32 normal<br>1/8 in, then #2<br>1500 rpm, .002 in/rev (R065)" in two
    assert "console lid 2 in each of 2." in two
    [tap] = [row for row in rows if '<span class="size">#21</span>' in row]
    assert "Tap 10-32<br>1/8 in, then #21, then tap 10-32" in tap
    assert "3 drills to lay out." in read.text
    assert "#2, 10-32 normal is not here: use B (.238), within the loose fit of 10-32." in read.text
