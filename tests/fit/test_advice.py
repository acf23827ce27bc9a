"""What would help: each change with the chance that it really gives, best first."""

from __future__ import annotations

import pytest

from nestkit.fit.fit_job import fit_job
from tests.fit.joint_jobs import job, joint, panel, tube

ROW = "[[10, 10], [150, 10], [150, 80]]"
FINE = 'screw = "M5"\n  fit = "fine"'
TAPE = 'method = "tape and marker"'


def advice(*texts):
    """Return the advice on a job's first joint."""
    found = fit_job(job(*texts), trials=4_000)
    assert not found.joints[0].assembly.faults
    return found.joints[0]


def test_the_best_change_comes_first():
    """Chances fall down the list, and every change is better than what is."""
    fit = advice(panel("a", ROW, FINE, more=TAPE), panel("b", ROW, FINE, more=TAPE), joint("a", "b"))
    chances = [round(a.chance.value, 2) for a in fit.advice]
    assert chances == sorted(chances, reverse=True)
    assert all(a.chance.value > fit.chance.value for a in fit.advice)
    assert {a.kind for a in fit.advice} >= {"hole", "method", "together", "after fit-up"}


@pytest.mark.parametrize(
    ("kind", "changed"),
    [
        ("method", ('method = "template"', FINE, "")),
        ("hole", (TAPE, 'screw = "M5"\n  fit = "coarse"', "")),
        ("together", (TAPE, FINE, 'made = "together"')),
    ],
)
def test_a_change_gives_what_it_says(kind, changed):
    """The job with the change made has the chance that the advice gave, within the errors of both."""
    before = advice(panel("a", ROW, FINE, more=TAPE), panel("b", ROW, FINE, more=TAPE), joint("a", "b"))
    told = next(a for a in before.advice if a.kind == kind and "scribe" not in a.text)
    method, holes, more = changed
    after = advice(
        panel("a", ROW, holes, more=method), panel("b", ROW, holes, more=method), joint("a", "b", more=more)
    )
    assert after.chance.value == pytest.approx(
        told.chance.value, abs=4 * (told.chance.error + after.chance.error) + 1e-6
    )


def test_a_joint_good_enough_has_no_advice():
    """Above what is asked nothing is advised."""
    coarse = 'screw = "M5"\n  fit = "coarse"'
    fit = advice(panel("a", ROW, coarse), panel("b", ROW, coarse), joint("a", "b"))
    assert fit.chance.value > 0.95
    assert fit.advice == ()


def test_a_larger_hole_that_comes_too_near_to_an_edge_is_warned_of():
    """A hole that keeps its edge distance now, and would not with the next fit, says so with its rule."""
    near = "[[10.6, 50], [150, 50], [150, 89.4]]"
    far = "[[20, 50], [150, 50], [150, 75]]"
    for places, warns in ((near, True), (far, False)):
        fit = advice(
            panel("a", places, FINE, more=TAPE), panel("b", places, FINE, more=TAPE), joint("a", "b")
        )
        loose = next(a for a in fit.advice if a.kind == "hole" and "coarse" in a.text)
        assert ("R001" in loose.warning) == warns


def test_parts_that_are_bought_are_not_drilled_through():
    """Nothing tells to mark or to match-drill what comes ready made; our part may be drilled through it."""
    bought = """
[[bought]]
name = "hinge"
  [[bought.holes]]
  name = "g"
  dia = 5.3
  at = [[0, 0], [140, 0], [140, 70]]
"""
    fit = advice(panel("a", ROW, FINE, more=TAPE), bought, joint("a", "hinge"))
    assert fit.advice
    (together,) = [a for a in fit.advice if a.kind == "together"]
    assert together.text == 'drill a through hinge (method = "match drilled")'
    after = advice(panel("a", ROW, FINE, more='method = "match drilled"'), bought, joint("a", "hinge"))
    assert after.chance.value == pytest.approx(together.chance.value, abs=0.01)
    assert not any("mark a and hinge" in a.text for a in fit.advice)


def test_holes_opened_after_fit_up_reach_what_is_asked():
    """The drill named is the smallest of the trade's with which enough go together."""
    fit = advice(
        panel("a", ROW, FINE, more=TAPE),
        tube("t", "[10, 150]", FINE),
        panel("b", ROW, FINE, more=TAPE),
        joint("a", "b"),
    )
    after = next(a for a in fit.advice if a.kind == "after fit-up")
    assert after.chance.value >= 0.95
    assert "open the holes that miss" in after.text


def test_a_slot_is_told_where_it_helps():
    """Two holes that hold their distance badly: a slot in one of them lets nearly all go together."""
    pair = "[[10, 10], [190, 10]]"
    fit = advice(panel("a", pair, FINE, more=TAPE), panel("b", pair, FINE, more=TAPE), joint("a", "b"))
    slot = next(a for a in fit.advice if a.kind == "slot")
    assert slot.chance.value > 0.95 > fit.chance.value
    assert "make hole 2 of a a slot, 3 mm longer than wide" in slot.text


def test_holes_of_rivets_are_not_opened():
    """A blind rivet fills its hole (R108): neither a slot nor a larger hole after fit-up is told."""
    row, drilled = "[[10, 10], [150, 10], [190, 80]]", 'drill = "3.3 mm"'
    metal = "aluminium 6061"
    fit = advice(
        panel("a", row, drilled, material=metal, more=TAPE),
        panel("b", row, drilled, material=metal, more=TAPE),
        joint("a", "b", screw='rivet = "3.2 mm"'),
    )
    assert fit.chance.value < 0.1
    assert {a.kind for a in fit.advice} == {"method", "together"}
