"""What is said of joints: the bench's words first, the figures behind."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.fit.accuracy_words import accuracy_said
from nestkit.fit.findings import all_findings, joint_findings
from nestkit.fit.fit_job import fit_job
from nestkit.fit.odds import figure, odds
from nestkit.fit.words import fit_lines, joint_lines, last_line, overview, verdict
from nestkit.trade.materials import density
from tests.fit.joint_jobs import job, joint, panel, tube

ROW = "[[10, 10], [150, 10], [150, 80]]"
FIT = 'screw = "M5"\n  fit = "fine"'


@given(st.floats(0, 1), st.floats(0, 1))
def test_a_chance_is_never_said_better_than_it_is(a, b):
    """``n in m`` is rounded down, and a better chance is not said in worse words."""
    words = odds(a)
    if " in " in words and "than" not in words:
        n, m = map(int, words.split(" in "))
        assert n / m <= a + 1e-9
        assert a - n / m < 1 / m
    low, high = sorted((a, b))
    order = ["hardly any"] + [f"{n} in 100" for n in range(1, 10)] + [f"{n} in 10" for n in range(1, 10)]
    order += [f"{n} in 100" for n in range(95, 100)] + ["more than 99 in 100", "practically all"]
    assert order.index(odds(low)) <= order.index(odds(high))


def test_a_joint_below_what_is_asked_says_what_helps():
    """The verdict comes first; below it parts, zone, methods, chance, and changes with their chances."""
    made = job(
        panel("lid", ROW, FIT),
        tube("rail", "[10, 150]", FIT),
        panel("plate", ROW, FIT),
        joint("lid", "plate"),
    )
    found = fit_job(made, trials=2_000)
    lines = joint_lines(made, found.joints[0])
    assert lines[0].startswith(f"j: {verdict(found.joints[0])}; next drill up, ")
    assert verdict(found.joints[0]).endswith("go together without filing")
    keys = [line[2:15].strip() for line in lines[1:] if line[2:15].strip()]
    assert keys == ["through", "as they lie", "zone", "holes by", "chance", "better"]
    text = " ".join(line.strip() for line in lines)
    assert "M5 screws through lid 1 to 3, then plate 1 to 3, lock nut; made 1 x." in text
    assert "0.30 mm wide, +-0.11 mm per axis, for each hole" in text
    assert "asked is .950" in text
    assert "Drill 5.5 mm (5.5 mm, medium fit) in lid and plate" in text
    assert max(map(len, lines)) <= 96


def test_the_last_line_names_the_weakest_joint():
    """Of two joints the one below what is asked is named; of all together a count in a hundred is told."""
    made = job(
        *(panel(n, ROW, FIT) for n in "ab"), *(panel(n, ROW, 'screw = "M5"\n  fit = "coarse"') for n in "cd"),
        joint("a", "b", name="tight"), joint("c", "d", name="loose"),
    )  # fmt: skip
    found = fit_job(made, trials=2_000)
    said = last_line(found)
    assert said.startswith("1 joint below what is asked; the weakest, tight: ")
    assert re.search(r"\. That every joint goes together: \d+ in 100 \(\.\d{3}\)\.$", said)
    assert overview(found)[0].endswith("BELOW .950")
    good = fit_job(
        job(*(panel(n, ROW, 'screw = "M5"\n  fit = "coarse"') for n in "cd"), joint("c", "d")), trials=2_000
    )
    assert last_line(good).endswith("That every joint goes together: practically always (1.000).")
    assert last_line(fit_job(job(panel("a", ROW)), trials=100)) == "No joint has holes that must meet."


def test_a_joint_that_cannot_meet_is_said_first():
    """A fault is an error: in the joint's lines, in the findings, and in the last line."""
    far = "[[10, 10], [150, 10], [150, 90]]"
    made = job(panel("a", ROW, FIT), panel("b", far, FIT), joint("a", "b"))
    found = fit_job(made, trials=500)
    lines = joint_lines(made, found.joints[0])
    assert lines[0] == "j: CANNOT MEET"
    assert lines[1].startswith("  error")
    assert last_line(found) == "1 joint cannot meet as drawn: j."
    assert found.chance is None
    errors = [f for f in all_findings(made, found) if f.level == "error"]
    assert [f.place for f in errors] == ['joint "j"']
    assert errors[0].remedy


def test_a_finding_below_what_is_asked_has_the_figure_and_the_best_change():
    """The advice says the odds, the chance, what is asked, and the change that buys most."""
    made = job(panel("a", ROW, FIT), panel("b", ROW, FIT), joint("a", "b"))
    found = fit_job(made, trials=2_000)
    (finding,) = [f for f in joint_findings(found) if f.source.startswith("position zones")]
    chance = found.joints[0].chance
    assert finding.level == "advice"
    assert figure(chance.value) in finding.text
    assert ".950 is asked" in finding.text
    assert found.joints[0].advice[0].text in finding.remedy
    quick = fit_job(made, trials=2_000, advise=False)
    (plain,) = [f for f in joint_findings(quick) if f.source.startswith("position zones")]
    assert "nestkit fit" in plain.remedy


def test_a_joint_may_ask_for_less():
    """A joint's own chance replaces the job's."""
    made = job(panel("a", ROW, FIT), panel("b", ROW, FIT), joint("a", "b", more="chance = 0.5"))
    found = fit_job(made, trials=2_000)
    assert found.joints[0].goal == Fraction(1, 2)
    assert not [f for f in joint_findings(found) if f.source.startswith("position zones")]


def test_all_together_is_the_product():
    """A job's chance is that of every joint as often as it is made."""
    made = job(
        *(panel(n, ROW, FIT, more="quantity = 2") for n in "ab"), joint("a", "b", name="two"),
    )  # fmt: skip
    found = fit_job(made, trials=2_000)
    one = found.joints[0].chance
    assert found.joints[0].assembly.joint.quantity == 2
    assert found.chance.value == pytest.approx(one.value**2)
    assert found.chance.error == pytest.approx(2 * one.value * one.error)


def test_methods_are_told_once_with_their_source():
    """Each method in use has one line with its figure and rule; a practice piece says how sure it is."""
    practice = """
[[practice]]
method = "template"
wanted = [[0, 0], [10, 0], [20, 0], [30, 0], [40, 0], [50, 0]]
measured = [[0.9, 0.1], [11.1, 0], [21, -0.1], [31, 0], [41.1, 0.1], [50.9, 0]]
"""
    made = job(panel("a", ROW), panel("b", ROW, more='method = "router"'), joint("a", "b"), practice)
    found = fit_job(made, trials=500)
    text = " ".join(accuracy_said(made, found))
    assert text.count("R054") == 1
    assert "own practice, 6 marks" in text
    assert "template by practice: 6 marks, sigma 0.0" in text
    assert "all marks are off alike, 1.00 mm to the right, 0.02 mm up" in text


def test_nothing_is_wider_than_a_terminal():
    """Long names wrap, and none is cut."""
    name = "a part of a boat with a name that is as long as names can be"
    made = job(panel(name, ROW, FIT), panel("b", ROW, FIT), joint(name, "b"))
    lines = fit_lines(made, fit_job(made, trials=500))
    assert max(len(line) for line in lines if "made 1 x  " not in line) <= 96
    assert name in " ".join(line.strip() for line in lines)


ANGLE = """
[[bar]]
name = "angle"
material = "aluminium 6061"
section = "angle 25 mm x 25 mm x 3 mm"
length = "2400 mm"
[[tube]]
name = "leg"
material = "aluminium 6061"
section = "angle 25 mm x 25 mm x 3 mm"
length = "200 mm"
  [[tube.holes]]
  name = "g"
  face = "B"
  screw = "M5"
  at = [10, 150]
  across = 12
  [[tube.holes]]
  name = "h"
  face = "B"
  screw = "M5"
  at = [60]
  across = {across}
"""


@pytest.mark.parametrize(("across", "up"), [(9, "face B"), (15, "the inside of face B")])
def test_an_angle_says_which_side_of_its_leg_looks_to_the_heads(across, up):
    """A hole nearer to the heel is met from outside; further from it, only from inside: the leg stands up."""
    made = job(
        panel("lid", "[[10, 50], [150, 50], [60, 53]]"), ANGLE.format(across=across),
        joint("lid", "leg").replace('"leg / g"', '"leg / g", "leg / h"'),
    )  # fmt: skip
    found = fit_job(made, trials=100)
    assert not found.joints[0].assembly.faults
    assert f", {up} to the heads, END 0 at" in " ".join("\n".join(joint_lines(made, found.joints[0])).split())


@pytest.mark.parametrize(("y", "up"), [(3, "face A"), (-3, "face C")])
def test_a_tube_drilled_through_says_which_face_looks_to_the_heads(y, up):
    """Its holes lie mirrored in the wall behind: only one of the two faces meets a skew pattern."""
    post = tube("post", "[10, 150]", more="").replace('face = "A"', 'face = "A"\n  across = 12')
    post += '  [[tube.holes]]\n  name = "h"\n  face = "A"\n  through = true\n  screw = "M5"\n'
    post += "  at = [60]\n  across = 15\n"
    made = job(
        panel("lid", f"[[10, 50], [150, 50], [60, {50 + y}]]"), post,
        joint("lid", "post").replace('"post / g"', '"post / g", "post / h"'),
    )  # fmt: skip
    found = fit_job(made, trials=100)
    assert not found.joints[0].assembly.faults
    assert f", {up} to the heads, END 0 at" in " ".join("\n".join(joint_lines(made, found.joints[0])).split())


def test_the_first_part_says_what_of_it_looks_to_the_heads():
    """A tube nearest to the heads drilled in one wall is met from its hollow, and its frame is mirrored."""
    made = job(
        panel("lid", "[[10, 50], [100, 50], [60, 50]]"), tube("post", "[10, 100, 60]", through=False),
        joint("post", "lid"),
    )  # fmt: skip
    found = fit_job(made, trials=100)
    text = " ".join("\n".join(joint_lines(made, found.joints[0])).split())
    assert "On post, the inside of face A to the heads, seen from the heads: lid " in text


def test_what_clearance_takes_up_is_told():
    """A slip in one place is no fault where the holes are wide enough, but it is said, with its size."""
    made = job(
        panel("lid", "[[10, 10], [150, 10], [150, 80], [10, 80]]"),
        panel("base", "[[10, 10], [150, 10], [150.6, 80], [10, 80]]"),
        joint("lid", "base", more='position = { part = "base", at = [0, 0] }'),
        panel("flat", "[[10, 10], [150, 10], [150, 80], [10, 80]]"), joint("lid", "flat", name="k"),
    )  # fmt: skip
    found = fit_job(made, trials=100)
    off, none = found.joints
    assert not off.assembly.faults
    text = " ".join("\n".join(joint_lines(made, off)).split())
    assert "as drawn Hole 3 of base lies 0.60 mm off hole 3 of lid; the clearance takes it up" in text
    assert "as drawn Hole" not in " ".join("\n".join(joint_lines(made, none)).split())


@pytest.mark.parametrize("held", ['hook_and_loop = "25 mm"\nlength = 100', 'cable_tie = "4.8 mm"'])
def test_nothing_is_said_of_how_parts_lie_that_bend_round_corners(held):
    """Tape and ties match no holes, so that a place of one part on the other would be made up."""
    tape = "hook" in held
    parts = '"lid", "post"' if tape else '"lid / g", "post / g"'
    tied = f'\n[[joint]]\nname = "j"\n{held}\nthrough = [{parts}]\n'
    made = job(panel("lid", "[[10, 10], [50, 50]]"), tube("post", "[10, 100]"), tied)
    text = "\n".join(joint_lines(made, fit_job(made, trials=100).joints[0]))
    assert "as they lie" not in text


def test_the_last_line_looks_at_what_each_joint_asks():
    """A joint that asks for little may be the weakest: the one that falls short is still named."""
    coarse = 'screw = "M5"\n  fit = "coarse"'
    made = job(
        *(panel(n, ROW) for n in "ab"), joint("a", "b", name="modest", more="chance = 0.5"),
        *(panel(n, ROW, coarse) for n in "cd"), joint("c", "d", name="eager", more="chance = 0.9999"),
    )  # fmt: skip
    found = fit_job(made, trials=4_000)
    modest, eager = (fit.chance.value for fit in found.joints)
    assert 0.5 < modest < eager < 0.9999
    assert last_line(found).startswith("1 joint below what is asked; the weakest, eager: ")


def test_the_last_line_names_joints_that_hardware_keeps_apart():
    """A nut that no hand reaches is an error, however well the holes meet: it is said last as well."""
    made = job(
        panel("lid", "[[10, 50], [100, 50], [190, 50]]", 'screw = "M5"\n  fit = "coarse"'),
        tube("post", "[10, 100, 190]", 'screw = "M5"\n  fit = "coarse"', through=False),
        joint("lid", "post"),
    )  # fmt: skip
    found = fit_job(made, trials=500)
    assert any(conflict.error for conflict in found.hardware.conflicts)
    assert last_line(found).startswith("1 joint cannot be put together with its screws: j. ")


def test_joints_that_are_not_made_are_named():
    """A quantity of 0, or a part without copies, leaves a joint out, but never without a word."""
    made = job(
        panel("a", ROW), panel("b", ROW), joint("a", "b"), joint("a", "b", name="none", more="quantity = 0"),
        panel("c", ROW, more="quantity = 0"), joint("a", "c", name="no parts"),
    )  # fmt: skip
    found = fit_job(made, trials=500)
    assert [fit.name for fit in found.joints] == ["j"]
    assert found.not_made == ("none", "no parts")
    text = " ".join(" ".join(fit_lines(made, found)).split())
    assert "Not made, as their quantity or that of a part is 0: none, no parts." in text
    alone = fit_job(job(panel("a", ROW), panel("b", ROW), joint("a", "b", more="quantity = 0")), trials=100)
    assert last_line(alone) == "No joint is made: j."


@pytest.mark.parametrize("so", ['made = "together"', ""])
def test_holes_drilled_through_others_are_not_off_as_drawn(so):
    """What is drilled through its mate lies where that has its holes, wherever it is drawn."""
    drilled = "" if so else 'method = "match drilled"'
    made = job(
        panel("lid", "[[10, 10], [150, 10], [150, 80]]"),
        panel("base", "[[10, 10], [150, 10], [150.6, 80]]", more=drilled), joint("lid", "base", more=so),
    )  # fmt: skip
    found = fit_job(made, trials=100)
    assert found.joints[0].assembly.misses
    assert "as drawn Hole" not in " ".join("\n".join(joint_lines(made, found.joints[0])).split())


def test_heat_is_named_where_it_spoils_a_joint():
    """A metre of polycarbonate on aluminium from 20 to 60 C: half of 1,000 x 40 x (67.5 - 23.6)e-6."""
    long = "[[20, 10], [1020, 10]]"
    parts = [
        panel("strip", long).replace('size = ["200 mm", "100 mm"]', 'size = ["1100 mm", "20 mm"]'),
        panel("rail", long, material="aluminium 6061").replace(
            'size = ["200 mm", "100 mm"]', 'size = ["1100 mm", "20 mm"]'
        ),
    ]
    warm = "\n[fit]\ntemperature = [10, 60]\n"
    made = job(*parts, joint("strip", "rail"), warm)
    found = fit_job(made, trials=500).joints[0]
    plain = fit_job(job(*parts, joint("strip", "rail")), trials=500).joints[0]
    growth = {name: float(density(name).growth) for name in ("polycarbonate", "aluminium 6061")}
    apart = 500 * 40 * (growth["polycarbonate"] - growth["aluminium 6061"]) * 1e-6
    assert found.warmth.apart == pytest.approx(apart)
    assert found.warmth.as_made.value == plain.chance.value > found.chance.value
    assert plain.warmth is None
    text = " ".join("\n".join(joint_lines(made, found)).split())
    said = f"heat From 10 to 60 C holes move up to {apart:.2f} mm apart; as made, at 20 C, the chance is "
    assert said + figure(plain.chance.value) in text
    assert "heat" not in "\n".join(joint_lines(made, plain))


def test_the_clearance_of_a_screw_is_that_of_its_two_tightest_holes():
    """M5 in holes of 5.3, 5.5 and 5.8 mm: axes of the first two may be .15 + .25 mm apart."""
    made = job(
        panel("a", ROW), panel("b", ROW, FIT), panel("c", ROW, 'screw = "M5"\n  fit = "coarse"'),
        joint("a", "b", "c"),
    )  # fmt: skip
    found = fit_job(made, trials=100).joints[0]
    assert [screw.clearance for screw in found.screws] == [pytest.approx(0.4)] * 3
