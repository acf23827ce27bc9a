"""Groups of tubes and bars laid out: the contract's rules, said again apart from the package's check."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from math import ceil, floor

import pytest
from hypothesis import given, settings

from nestkit.errors import ToolFault
from nestkit.layout.bars.lay_out import lay_out_bars
from nestkit.layout.bars.verify import verify_bars
from nestkit.layout.efforts import effort_named
from nestkit.layout.proof import Bound
from tests.layout.bars.groups import ROLL, SAW, bar, grouped, groups, tube

GRID = 40000


def laid(group, effort="normal", **keys):
    """Return a group laid out."""
    return lay_out_bars(group, seed=1, effort=effort_named(effort), **keys)[0]


def up(mm):
    """Return a length on the grid, rounded up."""
    return Fraction(ceil(mm * GRID), GRID)


def down(mm):
    """Return a length on the grid, rounded down."""
    return Fraction(floor(mm * GRID), GRID)


@settings(max_examples=120, deadline=None)
@given(groups())
def test_nothing_is_lost_no_stick_is_overrun_and_every_cut_takes_one_kerf(group):
    """Copies, starts, rests, stock on hand, prices and bounds of any group are what the job says."""
    found = laid(group)
    wanted = Counter()
    for t in group.tubes:
        one_hand = t.either_hand
        wanted[t.name, False] = t.quantity + t.spare + (t.opposite_hand if one_hand else 0)
        wanted[t.name, True] = 0 if one_hand else t.opposite_hand
    made = Counter((p.tube.name, p.opposite_hand) for s in found.sticks for p in s.parts)
    left = Counter((u.tube.name, u.opposite_hand) for u in found.unplaced)
    extra = {t.name: t.spare_if_room for t in group.tubes}
    for key, number in wanted.items():
        more = made[key] + left[key] - number
        assert 0 <= more <= (0 if key[1] else extra[key[0]])
        assert not (more and left[key])
    for stick in found.sticks:
        trim, end = up(stick.stock.trim), down(stick.stock.length) - up(stick.stock.trim)
        assert stick.parts
        assert stick.parts[0].start == trim
        for one, two in zip(stick.parts, stick.parts[1:], strict=False):
            assert two.start == one.start + one.length + up(group.kerf)
            assert one.length >= two.length
        assert all(p.length == up(p.tube.length) for p in stick.parts)
        last = stick.parts[-1].start + stick.parts[-1].length
        assert last <= end
        assert stick.left == max(0, end - last - up(group.kerf))
        assert stick.kept == (stick.left >= 150)
    used = Counter((s.stock.name, s.on_hand) for s in found.sticks)
    for b in group.bars:
        assert used[b.name, True] <= b.on_hand
        assert b.buy or not used[b.name, False]
    priced = any(b.price is not None for b in group.bars)
    costs = [0 if s.on_hand else s.stock.price if priced else s.stock.length / 1000 for s in found.sticks]
    assert found.cost == sum(costs)
    if not found.unplaced:
        assert found.least_cost.value <= found.cost
        assert found.least_sticks.value <= len(found.sticks)
    needed = [u for u in found.unplaced if u.why]
    assert len(needed) == len(found.unplaced)


def test_of_equal_cost_fewer_sticks_are_taken():
    """Two short sticks cost as much as a long one: the long one is taken; and on hand three would do too."""
    dear = grouped([tube("frame", 300, quantity=2)], [bar("s", 400, price=5), bar("l", 700, price=10)])
    assert [s.stock.name for s in laid(dear).sticks] == ["l"]
    here = grouped(
        [tube("frame", 300, quantity=2)],
        [bar("s", 400, on_hand=3, buy=False), bar("l", 700, on_hand=1, buy=False)],
    )
    found = laid(here)
    assert [s.stock.name for s in found.sticks] == ["l"]
    assert (found.cost, found.proved, found.least_sticks.value) == (0, True, 1)


def test_what_is_on_hand_goes_first_and_saves_buying():
    """A rest on the rack is free: it takes what fits, and one stick less is bought."""
    group = grouped(
        [tube("frame", 500, quantity=3)], [bar("new", 1100, price=9), bar("rest", 520, on_hand=1, buy=False)]
    )
    found = laid(group)
    assert Counter(s.stock.name for s in found.sticks) == {"new": 1, "rest": 1}
    assert (found.cost, found.proved) == (9, True)


def test_without_prices_metres_count():
    """Two sticks of one metre buy less than one of three."""
    group = grouped([tube("frame", 900, quantity=2)], [bar("one", 1000), bar("three", 3000)])
    found = laid(group)
    assert (found.cost_in, found.cost, [s.stock.name for s in found.sticks]) == ("m", 2, ["one", "one"])


def test_rests_are_gathered_in_one_piece_unless_few_cuts_are_preferred():
    """Three equal lists leave 100 each or 300 in one: the saw that prefers an offcut gets the 300."""
    tubes = [tube("long", 600, quantity=2), tube("short", 100, quantity=6)]
    bars = [bar("new", 1000, keep=250)]
    found = laid(grouped(tubes, bars, replace(SAW, kerf=Fraction(0))))
    assert sorted(s.left for s in found.sticks) == [0, 200]
    assert [s.kept for s in found.sticks] == [False, False]


def test_spares_that_wait_for_room_never_cost_a_stick():
    """Of five that may be, as many are cut as the rests hold, and none is said to be missing."""
    group = grouped([tube("frame", 400, quantity=2, spare_if_room=5)], [bar("new", 1700, price=4)])
    found = laid(group)
    assert (len(found.sticks), len(found.sticks[0].parts), found.unplaced) == (1, 4, ())


def test_limited_sticks_place_all_parts_if_they_can():
    """The longest first on the tightest stick leaves one over; the other way round all fit."""
    group = grouped(
        [tube("a", 60), tube("b", 50), tube("c", 40), tube("d", 30, quantity=2), tube("e", 20)],
        [bar("one", 120, on_hand=1, buy=False), bar("two", 110, on_hand=1, buy=False)],
        replace(SAW, kerf=Fraction(0)),
    )
    found = laid(group)
    assert not found.unplaced
    assert found.proved


def test_with_too_few_sticks_as_many_parts_as_fit_are_placed():
    """One stick of 100 and parts of 60, 50 and 40: two parts fit, not one."""
    group = grouped(
        [tube("a", 70), tube("b", 50), tube("c", 40)],
        [bar("one", 100, on_hand=1, buy=False)],
        replace(SAW, kerf=Fraction(1)),
    )
    found = laid(group)
    assert [u.tube.name for u in found.unplaced] == ["a"]
    assert found.unplaced[0].why == "only 1 bar is on hand and none long enough can be bought"
    assert (found.least_cost, found.least_sticks, found.proved) == (None, None, False)


@pytest.mark.parametrize(
    ("bars", "why"),
    [
        ([], "there is no stock of this material and section"),
        ([bar("x", 900, buy=False)], "no bar is on hand and none can be bought"),
        ([bar("x", 505, trim=3)], "it is longer than a bar leaves between its trims"),
        ([bar("x", 499)], "it is longer than a bar leaves"),
    ],
)
def test_a_part_without_a_place_has_its_reason(bars, why):
    """The reason says what to change."""
    found = laid(grouped([tube("frame", 500)], bars))
    assert [(u.tube.name, u.copy, u.why) for u in found.unplaced] == [("frame", 1, why)]


def test_off_a_roll_nothing_is_lost_between_parts():
    """Edge trim is cut with scissors: 4 x 250 come from 1000."""
    group = grouped(
        [tube("edge", 250, section=ROLL, quantity=4)], [bar("trim", 1000, section=ROLL, price=3)], None
    )
    found = laid(group)
    assert (len(found.sticks), found.sticks[0].left, found.proved) == (1, 0, True)


def test_quantities_that_are_all_nought_need_nothing():
    """A group of which nothing is made is laid out as nothing, proved."""
    found = laid(grouped([tube("frame", 500, quantity=0)], [bar("x", 900)]))
    assert (found.sticks, found.unplaced, found.cost, found.proved) == ((), (), 0, True)


def test_an_end_by_the_user_keeps_a_whole_list():
    """Stopped at once, every part still has its place."""
    group = grouped([tube(f"t{i}", 237 + 31 * i, quantity=3) for i in range(6)], [bar("x", 1000, price=2)])
    found, _ = lay_out_bars(group, seed=1, effort=effort_named("normal"), stop=lambda: True)
    assert not found.unplaced


def first(stick, **changes):
    """Return a stick with its first part changed."""
    return replace(stick, parts=(replace(stick.parts[0], **changes), *stick.parts[1:]))


SPOILED = {
    "is lost, or there twice": lambda s: replace(s, parts=s.parts[:-1], left=s.left + 101),
    "begins before the trim": lambda s: replace(
        s, parts=(replace(s.parts[0], start=Fraction(0)), *s.parts[1:])
    ),
    "has not the length": lambda s: replace(
        s, parts=(replace(s.parts[0], length=Fraction(99)), *s.parts[1:])
    ),
    "runs into the trim": lambda s: replace(
        s, parts=(*s.parts[:-1], replace(s.parts[-1], start=Fraction(920)))
    ),
    "what is left": lambda s: replace(s, left=s.left + 1),
    "does not lie on the grid": lambda s: replace(s, left=Fraction(1, 3)),
    "said to cost": lambda s: replace(s, cost=Fraction(1)),
    "not numbered": lambda s: replace(s, number=2),
    "taken from the rack": lambda s: replace(s, on_hand=True, cost=Fraction(0)),
    "is no bar of this group": lambda s: replace(s, stock=replace(s.stock, length=Fraction(2000))),
}


@pytest.mark.parametrize("text", SPOILED)
def test_the_check_finds_what_is_spoiled(text):
    """Each rule broken by hand is told, so that no solver's slip is ever printed."""
    found = laid(grouped([tube("frame", 100, quantity=3)], [bar("x", 1000, price=2, trim=5)]))
    spoiled = replace(found, sticks=(SPOILED[text](found.sticks[0]),))
    if text == "said to cost":
        spoiled = replace(spoiled, cost=Fraction(1))
    if text == "taken from the rack":
        spoiled = replace(spoiled, cost=Fraction(0))
    with pytest.raises(ToolFault, match=text):
        verify_bars(spoiled)


def test_the_check_finds_bounds_that_are_too_high():
    """A bound above the result is a fault of ours."""
    found = laid(grouped([tube("frame", 100)], [bar("x", 1000, price=2)]))
    with pytest.raises(ToolFault, match="is above the result"):
        verify_bars(replace(found, least_cost=Bound(Fraction(3), "wrong")))
