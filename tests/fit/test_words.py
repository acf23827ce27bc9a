"""What is said of joints: the bench's words first, the figures behind."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.fit.findings import all_findings, joint_findings
from nestkit.fit.fit_job import fit_job
from nestkit.fit.odds import figure, odds
from nestkit.fit.words import accuracy_lines, fit_lines, joint_lines, last_line, overview, verdict
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
    assert lines[0] == f"j: {verdict(found.joints[0])}"
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
    """Of two joints the one below what is asked is named; where all are above, all together are told."""
    made = job(
        *(panel(n, ROW, FIT) for n in "ab"), *(panel(n, ROW, 'screw = "M5"\n  fit = "coarse"') for n in "cd"),
        joint("a", "b", name="tight"), joint("c", "d", name="loose"),
    )  # fmt: skip
    found = fit_job(made, trials=2_000)
    assert last_line(found).startswith("1 joint below what is asked; the weakest, tight: ")
    assert overview(found)[0].endswith("BELOW .950")
    good = fit_job(
        job(*(panel(n, ROW, 'screw = "M5"\n  fit = "coarse"') for n in "cd"), joint("c", "d")), trials=2_000
    )
    assert last_line(good).startswith("Every joint is above what is asked; all together ")
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
    text = " ".join(accuracy_lines(made, found))
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
