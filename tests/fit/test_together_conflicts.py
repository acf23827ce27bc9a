"""What cannot be drilled together, and copies that stay undrilled, are told before the first cut."""

from __future__ import annotations

import pytest

from nestkit.fit.together_conflicts import together_conflicts
from nestkit.make import make
from tests.drawing.together_bench import job, joint, own, panel, tube


def test_nothing_is_said_of_a_sound_joint():
    """All copies are drilled, nothing in a ring: no conflict."""
    assert list(together_conflicts(job(panel("a"), panel("b"), joint("a", "b")))) == []
    assert list(together_conflicts(job(panel("a")))) == []


def test_a_part_cannot_be_drilled_through_its_own_copy():
    """A plate on both sides of a beam: half of its copies would differ from the others."""
    made = job(panel("plate", more="quantity = 2"), tube("beam"), joint("plate", "beam", "plate"))
    [conflict] = together_conflicts(made)
    assert conflict.error
    assert "the very same holes of another copy" in conflict.text
    assert not make(made).complete


@pytest.mark.parametrize("ways", [("ab", "ba"), ("ab", "bc", "ca")])
def test_a_ring_is_an_error(ways):
    """Nothing would be drilled first: said at the joint that closes it."""
    made = job(*(panel(n, more="quantity = 2") for n in "abc"), *(joint(*way, name=way) for way in ways))
    [error] = [conflict for conflict in together_conflicts(made) if conflict.error]
    assert error.joint == ways[-1]
    assert 'holes 1 to 3 of "a" would be drilled through' in error.text


def test_copies_that_no_joint_drills():
    """Two of three are drilled: an advice says that one stays without these holes; spares are meant to."""
    more = "quantity = 3\nspare = 1"
    made = job(panel("a", more="quantity = 2"), panel("b", more=more) + own(), joint("a", "b"))
    [conflict] = together_conflicts(made)
    assert not conflict.error
    assert conflict.text.startswith('2 of 3 copies of "b" are drilled through another part')
    assert conflict.text.endswith("stay without holes 1 to 3")
    enough = job(panel("a", more="quantity = 3"), panel("b", more=more), joint("a", "b"))
    assert list(together_conflicts(enough)) == []
