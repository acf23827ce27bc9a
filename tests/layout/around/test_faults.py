"""What the verification sees of holds, regions and numbers: each fault that is planted is named."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.errors import ToolFault
from nestkit.job.model import Hold
from nestkit.layout.around.lay_out import judge
from nestkit.layout.lay_out import lay_out
from nestkit.stock.keep_clear import KeepClear
from nestkit.units import grid_mm
from tests.layout.made import group, job, panel, sheet

STEP = grid_mm(1)
SCRATCH = KeepClear(Fraction(300), Fraction(250), Fraction(340), Fraction(280), on=1, why="scratch")


def laid(how: str):
    """Return five panels around a scratch, two of them held, on two sheets."""
    made = group(
        [panel("lid", 200, 150, quantity=5), panel("side", 90, 60, quantity=6)],
        [sheet("ply", 600, 400, price=Fraction(10), on_hand=1, keep_clear=(SCRATCH,))],
        how,
    )
    holds = (
        Hold("lid", 2, False, "ply", 1, Fraction(20), Fraction(30), 0),
        Hold("side", 5, False, "ply", 2, Fraction(100), Fraction(50), 90),
    )
    return lay_out(job(replace(made, holds=holds)), effort="quick").groups[0]


def changed(layout, number: int, **change: object):
    """Return a layout with one of its sheets changed."""
    sheets = list(layout.sheets)
    sheets[number] = replace(sheets[number], **change)
    return replace(layout, sheets=tuple(sheets))


def with_part(layout, number: int, is_held: bool, **change: object):
    """Return a layout with the first part of a sheet that is held, or is not, changed."""
    parts = list(layout.sheets[number].parts)
    index = next(i for i, p in enumerate(parts) if p.held is is_held)
    parts[index] = replace(parts[index], **change)
    return changed(layout, number, parts=tuple(parts))


def with_regions(layout, *regions: KeepClear):
    """Return a layout of which other regions are asked."""
    stock = replace(layout.group.sheets[0], keep_clear=regions)
    sheets = tuple(replace(s, stock=stock) for s in layout.sheets)
    return replace(layout, group=replace(layout.group, sheets=(stock,)), sheets=sheets)


@pytest.mark.parametrize("how", ["saw", "router"])
def test_what_is_laid_around_passes(how):
    """The layout that faults are planted in is a good one: two sheets, both holds kept."""
    layout = laid(how)
    judge(layout)
    assert [s.number for s in layout.sheets] == [1, 2]
    assert sum(p.held for s in layout.sheets for p in s.parts) == 2


@pytest.mark.parametrize("how", ["saw", "router"])
@pytest.mark.parametrize("sheet_number", [0, 1])
def test_a_held_copy_off_its_place_is_seen(how, sheet_number):
    """One grid step, another copy, another turn: it is not where it is held."""
    layout = laid(how)
    part = next(p for p in layout.sheets[sheet_number].parts if p.held)
    for change in ({"x": part.x + STEP}, {"y": part.y - STEP}, {"turn": (part.turn + 180) % 360}):
        with pytest.raises(ToolFault, match="is not where it is held"):
            judge(with_part(layout, sheet_number, True, **change))
    other = next(p for s in layout.sheets for p in s.parts if p.panel == part.panel and p.copy != part.copy)
    swapped = with_part(layout, sheet_number, True, copy=other.copy)
    rows = [tuple(replace(p, copy=part.copy) if (p is other) else p for p in s.parts) for s in swapped.sheets]
    sheets = tuple(replace(s, parts=row) for s, row in zip(swapped.sheets, rows, strict=True))
    with pytest.raises(ToolFault, match="is not where it is held"):
        judge(replace(swapped, sheets=sheets))


@pytest.mark.parametrize("how", ["saw", "router"])
def test_a_copy_that_says_it_is_held_and_is_not_is_seen(how):
    """Both ways round: a mark too many, and a mark that is missing."""
    layout = laid(how)
    with pytest.raises(ToolFault, match="said to be held, which the job does not ask for"):
        judge(with_part(layout, 0, False, held=True))
    with pytest.raises(ToolFault, match="is not where it is held"):
        judge(with_part(layout, 0, True, held=False))


@pytest.mark.parametrize("how", ["saw", "router"])
def test_a_hold_on_the_other_sheet_is_seen(how):
    """Where two sheets change their numbers, what is held is on the wrong one."""
    layout = laid(how)
    one, two = layout.sheets
    swapped = (replace(one, number=2, on_hand=False, cost=two.cost), replace(two, number=1, on_hand=True))
    swapped = (swapped[0], replace(swapped[1], cost=one.cost))
    with pytest.raises(ToolFault, match="is not where it is held"):
        judge(replace(layout, sheets=swapped))


@pytest.mark.parametrize("how", ["saw", "router"])
def test_numbers_that_are_not_those_of_the_job_are_seen(how):
    """A number twice, one passed over, and one on hand that is not among the first."""
    layout = laid(how)
    none = with_regions(replace(layout, group=replace(layout.group, holds=layout.group.holds[:1])))
    one, two = none.sheets
    bare = replace(two, parts=tuple(replace(p, held=False) for p in two.parts))
    with pytest.raises(ToolFault, match="not numbered in turn"):
        judge(replace(none, sheets=(one, replace(bare, number=3))))
    with pytest.raises(ToolFault, match="one number"):
        judge(replace(none, sheets=(one, replace(bare, number=1))))
    with pytest.raises(ToolFault, match="those on hand come first"):
        judge(replace(none, sheets=(replace(one, on_hand=False, cost=two.cost), bare), cost=2 * two.cost))


def test_a_part_on_or_beside_a_region_is_seen():
    """Under a router, a region in a part, and one a step nearer to it than the cut is wide."""
    layout = laid("router")
    part = next(p for p in layout.sheets[0].parts if p.held)
    right = part.x + part.width
    inside = KeepClear(part.x + 10, part.y + 10, part.x + 20, part.y + 20, on=1)
    beside = KeepClear(right + 3 - STEP, part.y, right + 5, part.y + 9, on=1)
    apart = KeepClear(right + 3, part.y, right + 5, part.y + 9, on=1)
    disc = KeepClear(right + 3 - STEP, part.y, right + 5, part.y + 2 + STEP, disc=True, on=1)
    for region in (inside, beside, disc):
        with pytest.raises(ToolFault, match="on or beside what is kept clear"):
            judge(with_regions(layout, region))
    bare = replace(layout.sheets[0], offcuts=(), parts=(part,))
    alone = replace(layout, sheets=(bare, layout.sheets[1]))
    with pytest.raises(ToolFault) as fault:
        judge(with_regions(alone, apart))
    assert "kept clear" not in str(fault.value), "the kerf beside it is enough"


def test_cuts_through_a_region_are_seen():
    """Under a saw, a region in a part, on a cut, or larger than its piece."""
    layout = laid("saw")
    part = next(p for p in layout.sheets[0].parts if p.held)
    cut = layout.sheets[0].cuts[0]
    place = (cut.at, cut.start, cut.at + 2, cut.start + 2)
    if cut.axis == "y":
        place = (cut.start, cut.at, cut.start + 2, cut.at + 2)
    for region in (
        KeepClear(part.x + 10, part.y + 10, part.x + 20, part.y + 20, on=1),
        KeepClear(*map(Fraction, place), on=1),
        KeepClear(Fraction(0), Fraction(0), Fraction(600), Fraction(400), on=1),
    ):
        whole = with_regions(changed(layout, 0, offcuts=()), region)
        with pytest.raises(ToolFault, match="run through what is kept clear"):
            judge(whole)


@pytest.mark.parametrize("how", ["saw", "router"])
def test_an_offcut_with_a_region_in_it_is_seen(how):
    """What is kept clear is no offcut, and no part of one."""
    layout = laid(how)
    offcut = next(o for s in layout.sheets for o in s.offcuts)
    number = next(s.number for s in layout.sheets if offcut in s.offcuts)
    region = KeepClear(offcut.x + 1, offcut.y + 1, offcut.x + 2, offcut.y + 2, on=number)
    with pytest.raises(ToolFault, match="an offcut has a region in it"):
        judge(with_regions(layout, SCRATCH, region))
