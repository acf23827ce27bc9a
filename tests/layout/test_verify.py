"""The check that decides: each planted fault is caught and named."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.errors import ToolFault
from nestkit.layout.lay_out import lay_out
from nestkit.layout.proof import Bound
from nestkit.layout.result import Unplaced
from nestkit.layout.verify import verify
from tests.layout.made import MM, group, job, panel, sheet

STEP = Fraction(1, MM)


def layout_of(how: str = "router", **way: object):
    """Return a verified layout: two kinds of panels, one of them in both hands, on two sheets."""
    panels = [
        panel("lid", 400, 300, quantity=2, opposite_hand=1, spare_if_room=1, turn="half"),
        panel("rail", 700, 90, quantity=3, grain="x", turn="half"),
    ]
    stock = [sheet("full", 1000, 600, price=Fraction(20), on_hand=1, grain="x")]
    made = group(panels, stock, how, 4, 4 if how == "saw" else 6, (10, 10, 10, 10), **way)
    layout = lay_out(job(made), effort="quick").groups[0]
    verify(layout)
    return layout


def with_sheet(layout, index: int = 0, **changes: object):
    """Return a layout with one of its sheets changed."""
    sheets = list(layout.sheets)
    sheets[index] = replace(sheets[index], **changes)
    return replace(layout, sheets=tuple(sheets))


def with_part(layout, index: int = 0, sheet_index: int = 0, **changes: object):
    """Return a layout with one part of one sheet changed."""
    parts = list(layout.sheets[sheet_index].parts)
    parts[index] = replace(parts[index], **changes)
    return with_sheet(layout, sheet_index, parts=tuple(parts))


def refused(layout, words: str) -> None:
    """Assert that verify refuses a layout with these words."""
    with pytest.raises(ToolFault, match=words):
        verify(layout)


def neighbours(layout):
    """Return indices of two parts on the first sheet that keep just the gap along x or y, and which."""
    parts = layout.sheets[0].parts
    gap = layout.group.gap
    for a in parts:
        for j, b in enumerate(parts):
            if b.x - a.x - a.width == gap and a.y < b.y + b.height and b.y < a.y + a.height:
                return j, "x"
            if b.y - a.y - a.height == gap and a.x < b.x + b.width and b.x < a.x + a.width:
                return j, "y"
    raise AssertionError("no two parts are neighbours")


def test_an_overlap_is_caught():
    """Two parts in one place are refused."""
    layout = layout_of()
    first = layout.sheets[0].parts[0]
    refused(with_part(layout, 1, x=first.x, y=first.y), "overlap or are nearer than the gap")


def test_a_gap_short_by_one_step_is_caught():
    """A fortieth of a micrometre under the gap is refused."""
    layout = layout_of()
    index, axis = neighbours(layout)
    moved = getattr(layout.sheets[0].parts[index], axis) - STEP
    refused(with_part(layout, index, **{axis: moved}), "nearer than the gap")


def test_a_part_over_the_margin_is_caught():
    """A part one step inside the border that is not used is refused."""
    layout = layout_of()
    index = min(range(len(layout.sheets[0].parts)), key=lambda i: layout.sheets[0].parts[i].x)
    refused(with_part(layout, index, x=Fraction(10) - STEP), "over the sheet's border")


def test_a_place_off_the_grid_is_caught():
    """A place finer than the grid is refused."""
    layout = layout_of()
    x = layout.sheets[0].parts[0].x
    refused(with_part(layout, x=x + STEP / 2), "does not lie on the grid")


def test_a_turn_that_is_not_allowed_is_caught():
    """A quarter turn of a part that may only be turned by half is refused."""
    refused(with_part(layout_of(), turn=90), "turn and grain do not allow")


def test_a_wrong_size_is_caught():
    """A box that is not the panel's is refused."""
    layout = layout_of()
    refused(with_part(layout, width=layout.sheets[0].parts[0].width - STEP), "not the size of its panel")


def test_a_lost_part_is_caught():
    """A part that is neither placed nor listed is refused."""
    layout = layout_of()
    index = next(i for i, p in enumerate(layout.sheets[0].parts) if p.panel.name == "rail" or p.copy < 3)
    parts = layout.sheets[0].parts
    refused(with_sheet(layout, parts=parts[:index] + parts[index + 1 :]), "is lost, or there twice")


def test_an_extra_part_is_caught():
    """A copy that nobody asked for is refused."""
    layout = layout_of()
    parts = layout.sheets[0].parts
    refused(with_sheet(layout, parts=(*parts, replace(parts[0], copy=77))), "was not asked for")


def test_a_part_of_another_group_is_caught():
    """A panel that is not in the group is refused."""
    refused(with_part(layout_of(), panel=panel("stray", 400, 300)), "not a panel of this group")


def test_a_wrong_hand_is_caught():
    """An opposite hand where one as drawn was asked for is refused."""
    layout = layout_of()
    where = next(
        (s, i)
        for s, on in enumerate(layout.sheets)
        for i, p in enumerate(on.parts)
        if p.panel.name == "lid" and not p.opposite_hand and p.copy == 2
    )
    refused(with_part(layout, where[1], where[0], opposite_hand=True), "is lost, or there twice")


def test_with_faces_alike_either_hand_will_do():
    """A panel with faces alike may lie mirrored, its copies are counted over both hands."""
    made = group(
        [panel("lid", 400, 300, quantity=1, opposite_hand=1, faces="alike")],
        [sheet("full", 900, 600)],
        "router",
    )
    layout = lay_out(job(made), effort="quick").groups[0]
    assert sorted(p.copy for p in layout.sheets[0].parts) == [1, 2]
    verify(with_part(layout, 1, opposite_hand=True))


def test_a_wrong_price_is_caught():
    """A sheet that costs what the job does not say, and a sum that is none, are refused."""
    layout = layout_of()
    bought = next(i for i, s in enumerate(layout.sheets) if not s.on_hand)
    refused(with_sheet(layout, bought, cost=Fraction(19)), "not what the job says")
    refused(replace(layout, cost=layout.cost + 1), "not the sum over the sheets")
    refused(replace(layout, cost_in="m2"), "which the stock does not bear out")


def test_more_stock_than_there_is_is_caught():
    """Two sheets from the rack where one is on hand are refused."""
    layout = layout_of()
    bought = next(i for i, s in enumerate(layout.sheets) if not s.on_hand)
    refused(with_sheet(layout, bought, on_hand=True, cost=Fraction(0)), "than are on hand")


def test_buying_what_may_not_be_bought_is_caught():
    """A bought sheet of a kind with buy = false is refused."""
    layout = layout_of()
    kept = replace(layout.group.sheets[0], buy=False)
    sheets = tuple(replace(s, stock=kept) for s in layout.sheets)
    refused(
        replace(layout, group=replace(layout.group, sheets=(kept,)), sheets=sheets), "which the job forbids"
    )


def test_wrong_numbers_of_sheets_are_caught():
    """Sheets of one kind that do not count 1, 2, ... are refused, and empty ones."""
    layout = layout_of()
    refused(with_sheet(layout, number=9), "are not numbered")
    empty = replace(layout.sheets[0], parts=(), number=3)
    refused(replace(layout, sheets=(*layout.sheets, empty)), "used for nothing")


def test_bounds_above_the_result_are_caught():
    """A bound that the layout itself beats is refused, a missing one too, and one beside unplaced parts."""
    layout = layout_of()
    refused(replace(layout, least_sheets=Bound(Fraction(9), "planted")), "above the result")
    refused(replace(layout, least_cost=None), "is missing")
    parts = layout.sheets[0].parts
    gone = next(p for p in parts if p.panel.name == "rail" or p.copy < 3)
    listed = replace(
        with_sheet(layout, parts=tuple(p for p in parts if p is not gone)),
        unplaced=(Unplaced(gone.panel, gone.copy, gone.opposite_hand, "planted"),),
    )
    refused(listed, "although parts are unplaced|not free every part|offcut")


def with_cut(layout, index: int, **changes: object):
    """Return a layout with one cut of its first sheet changed."""
    cuts = list(layout.sheets[0].cuts)
    cuts[index] = replace(cuts[index], **changes)
    return with_sheet(layout, cuts=tuple(cuts))


@pytest.mark.parametrize("by", [STEP, -STEP, Fraction(2)])
def test_a_cut_beside_its_place_is_caught(by):
    """Each cut moved by as little as a grid step is refused."""
    layout = layout_of("saw")
    for index, cut in enumerate(layout.sheets[0].cuts):
        refused(with_cut(layout, index, at=cut.at + by), "saw cut|not one part of its own size")


def test_a_cut_that_is_missing_or_out_of_order_is_caught():
    """Every cut is needed, in its order, on a piece that is there, from edge to edge."""
    layout = layout_of("saw")
    cuts = layout.sheets[0].cuts
    refused(with_sheet(layout, cuts=cuts[:-1]), "not one part of its own size")
    refused(with_sheet(layout, cuts=cuts[1:]), "stands where cut 1 should")
    refused(with_cut(layout, 1, piece="7b"), "which is not there")
    refused(with_cut(layout, 0, end=cuts[0].end - STEP), "from edge to edge")
    refused(with_cut(layout, 0, trim=not cuts[0].trim), "trim")


def test_too_many_stages_are_caught():
    """Cuts that change direction more often than the way allows are refused, and a wrong first one."""
    layout = layout_of("saw", stages=3, first="any")
    way = layout.group.way
    refused(replace(layout, group=replace(layout.group, way=replace(way, stages=1))), "change direction")
    first = next(c for c in layout.sheets[0].cuts if not c.trim)
    other = "x" if first.axis == "x" else "y"
    refused(
        replace(layout, group=replace(layout.group, way=replace(way, first=other))),
        f"does not run along {other}",
    )


def test_saw_cuts_under_a_router_are_caught():
    """A layout that is not sawn has no saw cuts."""
    refused(with_sheet(layout_of(), cuts=layout_of("saw").sheets[0].cuts), "not sawn")


def test_wrong_offcuts_are_caught():
    """An offcut that the cuts do not leave, or that a part is too near to, is refused."""
    sawn = layout_of("saw")
    offcut = sawn.sheets[0].offcuts[0]
    smaller = replace(offcut, width=offcut.width - STEP)
    refused(with_sheet(sawn, offcuts=(smaller,)), "no piece that the cuts leave")
    refused(with_sheet(sawn, offcuts=(offcut, offcut)), "no piece that the cuts leave")
    free = layout_of()
    index = next(i for i, s in enumerate(free.sheets) if s.offcuts)
    rest = free.sheets[index].offcuts[0]
    part = free.sheets[index].parts[0]
    over = replace(rest, x=part.x + part.width, y=part.y, width=Fraction(60), height=Fraction(60))
    refused(with_sheet(free, index, offcuts=(over,)), "nearer to a part than the gap")
    refused(with_sheet(free, index, offcuts=(rest, rest)), "two offcuts overlap")
    refused(with_sheet(free, index, offcuts=(replace(rest, width=Fraction(1001)),)), "hangs over the sheet")
