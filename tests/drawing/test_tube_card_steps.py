"""The steps of tubes' cards: the order of the trade, walls from their own sides, mitres last."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.drawing.tube_card_steps import sawn_by_hand, tube_copies, tube_sizes, tube_steps
from nestkit.drawing.tube_facts import tube_facts
from nestkit.geometry.mitre import Mitre
from nestkit.parts.gangs import gangs_of
from nestkit.parts.holes import Drill
from tests.drawing import tube_bench
from tests.drawing.tube_bench import NO_2, QUARTER, SQUARE, holes, inches, tube

PORT = Drill(20.0, "", "")
TAP = Drill(4.2, "4.2 mm", "drills", tap="M5x0.8")


def steps(part, *, opposite=False, unit="in"):
    """The steps of one hand of a tube in a job of its own."""
    job = tube_bench.job(part, unit=unit)
    facts = tube_facts(job, part, opposite=opposite, corrected=False)
    return tube_steps(job, part, facts, opposite, gangs_of(job.tubes))


def said(part, **more):
    """The texts of the steps."""
    return [step.text for step in steps(part, **more)]


def sizes(part, unit="in"):
    """What is measured of a tube."""
    return tube_sizes(tube_facts(tube_bench.job(part, unit=unit), part, opposite=False, corrected=False))


def test_a_square_tube_goes_from_the_stick_to_its_label():
    """Saw, deburr and measure, write 0 and A, gang, template or table, punch, check, drill, deburr, try."""
    assert said(tube_bench.frame()) == [
        "Saw to 6 in, from the stick that the cut plan names. Mark ONE length, X the waste, saw beside the "
        "line.",
        "Deburr both ends inside and out. Measure the length, write it in.",
        "Write 0 on the end at your left, A on the face that is up.",
        "Faces A, C: first MARK TOGETHER 1. Face B: first MARK TOGETHER 2. See the marking-out.",
        "Template: measure both rulers, lay it as it says. Or use the table.",
        "Mark holes 1 to 6. Centre punch each cross, on a solid support.",
        "Check 1 to 4 on A: 5.000 in. END 0 to 4 on A: 5.500 in. Out by more than template or table accepts: "
        "do not drill.",
        "Drill #7 (.201): 4 holes: 1 to 4 from A and from C",
        "Drill #2 (.221): 2 holes: 5, 6 from B",
        "Deburr every hole, inside too.",
        "Try the first one on the machine before drilling the rest.",
        "Put its label on each.",
    ]


def test_pilots_come_first_and_taps_after_their_drill():
    """Each drill is a step with its holes by the sides they are drilled from, a large one is framed."""
    part = tube(
        SQUARE,
        holes("a", QUARTER, [20, 40], face="A", through=True),
        holes("b", TAP, [60], face="B"),
        holes("c", PORT, [100], face="D"),
    )
    large = [step for step in steps(part, unit="mm") if step.large]
    assert [step.text for step in large] == [
        "Pilot 3 mm: 3 holes: 1, 2 from A and from C; 4 from D",
        "Drill 4.2 mm: 1 hole: 3 from B",
        "Tap M5x0.8, square to the face: 1 hole: 3 from B",
        "Drill 1/4 in (6.35): 2 holes: 1, 2 from A and from C",
        "Step drill or hole saw Ø20 mm: 1 hole: 4 from D",
    ]
    assert [step.signed_off for step in large] == [False, False, False, False, True]


def test_the_opposite_hand_is_drilled_from_the_other_side():
    """B and D change places, the numbers stay."""
    part = tube_bench.frame(opposite_hand=1)
    assert "Drill #2 (.221): 2 holes: 5, 6 from D" in said(part, opposite=True)


def test_a_mitre_of_a_box_is_drawn_before_the_template_and_sawn_last():
    """Each strip is laid to the drawn line; the tube is held by a square end until all is drilled."""
    texts = said(tube_bench.rail())
    assert texts[0].startswith("Saw square to 48 in over the long points, from the stick")
    drawn = texts.index(
        "Draw the mitre over all faces, the long point at the sawn end. "
        "End 0: 45 degrees, long side A, short side 1 in behind."
    )
    assert (
        texts[drawn + 1]
        == "Template: measure both rulers, lay it to that line. Or use the marking-out table."
    )
    assert texts[-2] == "Saw the mitre last, beside its line. Deburr."


def test_a_mitre_of_a_round_tube_is_drawn_by_its_template():
    """The template is laid first, since its edge is the curve; how far it falls back is slope times width."""
    texts = said(tube_bench.post(), unit="mm")
    drawn = texts.index(
        "Draw the mitre by the template, the long point at the sawn end. "
        "End 1: 30 degrees, long at 90 degrees from A towards B, short side 14.665 mm behind."
    )
    assert (
        texts[drawn - 1] == "Template: measure both rulers, lay it as it says. Or use the marking-out table."
    )
    assert "Write 0 on the end at your left, draw line A along the top." in texts
    assert "Drill #7 (5.11): 2 holes: 1, 2 from 0° and from 180°" in texts


def test_a_brace_without_holes_is_only_mitred():
    """Two mitres, no drill: nothing to punch, to check or to look up in a table."""
    ends = (Mitre.on("A", Fraction(45)), Mitre.on("C", Fraction(30)))
    texts = said(tube(SQUARE, length=inches(12)[0], mitres=ends, quantity=2))
    assert texts[3] == "Template: measure both rulers, lay it as it says."
    assert texts[4].startswith("Draw the mitres by the template, the long point at the sawn end. End 0: 45")
    assert texts[5:] == [
        "Saw the mitres last, beside their lines. Deburr.",
        "Try the first one on the machine before finishing the rest.",
        "Put its label on each.",
    ]


def test_one_alone_is_not_tried_first():
    """Of a single tube there is no rest to wait for; spares and the other hand count by themselves."""
    alone = tube_bench.frame(quantity=1, opposite_hand=2)
    assert not any(step.signature for step in steps(alone))
    assert any(step.signature for step in steps(alone, opposite=True))
    assert any(step.signature for step in steps(tube_bench.frame(quantity=1, spare=1)))
    assert (tube_copies(alone, False), tube_copies(alone, True)) == (1, 2)


def test_what_has_no_inside_is_deburred_on_both_sides():
    """A rod, an angle and a strip have no hollow to deburr."""
    for part in (tube_bench.pin(), tube_bench.heel(), tube_bench.flat()):
        texts = said(part)
        assert "Deburr both ends. Measure the length, write it in." in texts
        assert "Deburr every hole, both sides." in texts
    assert "Drill #2 (.221): 3 holes: 1 to 3 from A" in said(tube_bench.heel())


def test_lengths_and_what_proves_the_holes_are_measured():
    """The length, the two marks furthest apart, one from end 0; a mitred tube has its shortest side."""
    assert sizes(tube_bench.frame()) == (
        ("Length", "6 in"),
        ("Hole 1 to 4 on A", "5 in"),
        ("END 0 to 4 on A", "5 1/2 in"),
    )
    assert sizes(tube_bench.rail(), "mm") == (
        ("Over long points", "1219.2 mm"),
        ("Shortest side", "1193.8 mm"),
        ("Hole 1 to 20 on A", "1140 mm"),
    )


@pytest.mark.parametrize(
    ("name", "by_hand"),
    [
        ("hacksaw", True),
        ("Hack-saw", True),
        ("hand_saw", True),
        ("cut by hand", True),
        ("power hacksaw", False),
        ("handheld band saw", False),
        ("chop saw", False),
        ("", False),
    ],
)
def test_a_saw_is_powered_unless_its_name_says_otherwise(name, by_hand):
    """Only a way named as a saw of the hand needs no trained adult; every other saw is framed."""
    part = tube(SQUARE, holes("a", NO_2, [20], face="A"))
    job = tube_bench.job(part)
    group = job.bar_groups[0]
    job = replace(job, bar_groups=(replace(group, way=replace(group.way, name=name)),))
    assert sawn_by_hand(job, part) is by_hand
    facts = tube_facts(job, part, opposite=False, corrected=False)
    assert tube_steps(job, part, facts, False, ())[0].signed_off is not by_hand


def test_without_a_way_of_cutting_the_saw_counts_as_powered():
    """Where the job names no saw for it, nothing says that it is the hand's."""
    part = tube(SQUARE, holes("a", NO_2, [20], face="A"))
    job = tube_bench.job(part)
    assert not sawn_by_hand(replace(job, bar_groups=()), part)
    assert not sawn_by_hand(replace(job, bar_groups=(replace(job.bar_groups[0], way=None),)), part)
