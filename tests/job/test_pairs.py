"""Which holes are drilled through which part: leaders, followers, hands, rings."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nestkit.job.model import Job
from nestkit.job.pairs import copies_drilled, drilled_later, gangs_to_mark, later_of, pairs_of, to_mark
from tests.drawing.together_bench import job, joint, own, panel, tube

HINGE = """
[[bought]]
name = "hinge"
quantity = 2
thickness = "2 mm"
  [[bought.holes]]
  name = "g"
  screw = "M5"
  at = [["20 mm", "50 mm"], ["100 mm", "50 mm"], ["180 mm", "50 mm"]]
"""


def later(made: Job) -> dict[tuple[str, bool], dict[int, list[str]]]:
    """What is drilled later, by part and hand, and through what."""
    return {
        hand: {number: [pair.leader.part for pair in pairs] for number, pairs in holes.items()}
        for hand, holes in drilled_later(made).items()
    }


def test_the_first_part_of_a_joint_made_together_leads():
    """Its own holes are marked as usual, those of all others are drilled through them."""
    made = job(panel("plate"), tube("beam"), panel("back"), joint("plate", "beam", "back"))
    through = {1: ["plate"], 2: ["plate"], 3: ["plate"]}
    assert later(made) == {("beam", False): through, ("back", False): through}
    plate, back = made.panels
    assert to_mark(made, plate, False) == plate
    assert to_mark(made, back, False).holes == ()
    assert to_mark(made, made.tubes[0], False).holes == ()


def test_only_the_holes_of_the_joint_wait():
    """Holes that no joint has, or that another joint has, keep their marks and their numbers."""
    made = job(
        panel("plate"),
        panel("back", more="", made='screw = "M5"') + own(),
        panel("lid", at='[["30 mm", "20 mm"]]', made='screw = "M4"'),
        joint("plate", "back / g"),
    )
    assert [h.number for h in to_mark(made, made.panels[1], False).holes] == [4]
    some = job(panel("plate"), panel("back"), joint("plate / g : 1, 3", "back / g : 1, 3"))
    assert [h.number for h in to_mark(some, some.panels[1], False).holes] == [2]


def test_apart_and_none_mean_nothing():
    """A joint made apart has no followers, nor one that is made no times, nor one without rigid fasteners."""
    apart = job(panel("plate"), panel("back"), joint("plate", "back", more=""))
    none = job(panel("plate"), panel("back"), joint("plate", "back", more='made = "together"\nquantity = 0'))
    ties = joint("plate", "back", screw='cable_tie = "4 mm"', more="")
    tied = job(panel("plate"), panel("back", more='method = "match drilled"'), ties)
    for made in (apart, none, tied, job(panel("plate"))):
        assert pairs_of(made) == ()
        assert drilled_later(made) == {}
        assert all(to_mark(made, part, False) == part for part in made.panels)


def test_a_part_that_is_match_drilled_follows_the_first_other():
    """By its method it follows in every joint, wherever it stands in the stack."""
    follower = panel("strip", more='method = "match drilled"') + own()
    made = job(follower, panel("plate"), panel("back"), joint("strip", "plate", "back", more=""))
    assert later(made) == {("strip", False): {n: ["plate"] for n in (1, 2, 3)}}
    assert [h.number for h in to_mark(made, made.panels[0], False).holes] == [4]


def test_where_all_are_match_drilled_the_first_leads():
    """Something must be marked: by the job's usual method too."""
    both = 'method = "match drilled"'
    made = job(panel("a", more=both), panel("b", more=both), joint("a", "b", more=""))
    assert later(made) == {("b", False): {n: ["a"] for n in (1, 2, 3)}}
    usual = job(panel("a"), tube("b"), joint("a", "b", more=""), tables=f"[fit]\n{both}")
    assert later(usual) == {("b", False): {n: ["a"] for n in (1, 2, 3)}}


def test_what_is_bought_leads_and_is_never_printed_for():
    """A hinge has its holes: the lid is drilled through it. It may follow, too, but has no prints."""
    made = job(panel("lid"), HINGE, joint("hinge", "lid"))
    assert later(made) == {("lid", False): {n: ["hinge"] for n in (1, 2, 3)}}
    usual = job(panel("lid"), HINGE, joint("hinge", "lid", more=""), tables='[fit]\nmethod = "match drilled"')
    assert later(usual) == {("lid", False): {n: ["hinge"] for n in (1, 2, 3)}}


def test_hands_are_apart():
    """A joint with the opposite hand says nothing of parts as drawn."""
    two = "opposite_hand = 1"
    more = 'made = "together"\nopposite_hand = ["plate", "back"]'
    at = '[["20 mm", "50 mm"], ["100 mm", "30 mm"], ["180 mm", "50 mm"]]'
    made = job(panel("plate", at, more=two), panel("back", at, more=two), joint("plate", "back", more=more))
    assert later(made) == {("back", True): {n: ["plate"] for n in (1, 2, 3)}}
    back = made.panels[1]
    assert to_mark(made, back, False) == back
    assert to_mark(made, back, True).holes == ()


def test_either_hand_is_one_part():
    """Where faces are alike both hands are printed once: what holds for one holds for both."""
    alike = 'opposite_hand = 1\nfaces = "alike"'
    more = 'made = "together"\nopposite_hand = ["back"]'
    made = job(
        panel("plate", more="quantity = 2"), panel("back", more=alike), joint("plate", "back", more=more)
    )
    back = made.panels[1]
    assert set(later(made)) == {("back", False)}
    assert to_mark(made, back, True).holes == to_mark(made, back, False).holes == ()


def test_a_hole_may_be_drilled_through_one_part_or_another():
    """Two joints drill copies of one part through two others; both are named, and copies add up."""
    made = job(
        panel("left"), panel("right"), panel("back", more="quantity = 3"),
        joint("left", "back", name="one"), joint("right", "back", name="two"),
    )  # fmt: skip
    assert later(made) == {("back", False): {n: ["left", "right"] for n in (1, 2, 3)}}
    assert copies_drilled(later_of(made, made.panels[2], False)[1], "back", False) == 2


def test_nothing_is_drilled_through_itself():
    """A part on both sides of another would be drilled through its own copy: it is marked as usual."""
    made = job(panel("plate", more="quantity = 2"), tube("beam"), joint("plate", "beam", "plate"))
    assert set(later(made)) == {("beam", False)}
    [pair] = pairs_of(made)
    assert [mate.part for mate in pair.ringed] == ["plate"]


@pytest.mark.parametrize("ways", [("ab", "ba"), ("ab", "bc", "ca"), ("ab", "ac", "ba")])
def test_a_ring_is_broken_where_it_closes(ways):
    """a through b and b through a would leave nothing to drill first: the joint that closes it is marked."""
    joints = [joint(*way, name=way) for way in ways]
    made = job(*(panel(name, more="quantity = 2") for name in "abc"), *joints)
    found = pairs_of(made)
    assert [len(pair.ringed) for pair in found] == [0] * (len(ways) - 1) + [1]
    assert found[-1].followers == ()
    drilled = {name for name, _ in drilled_later(made)}
    assert drilled == set("abc") - {found[0].leader.part} - (set() if len(ways) == 3 else {"c"})


def test_gangs_leave_out_what_is_drilled_later():
    """Lines that are squared across tubes would mark the holes that wait: their gang is gone."""
    plain = job(panel("plate"), tube("beam", more="quantity = 2"), joint("plate", "beam", more=""))
    made = replace(plain, joints=tuple(replace(j, together=True) for j in plain.joints))
    assert len(gangs_to_mark(plain)) == 1
    assert gangs_to_mark(made) == ()
