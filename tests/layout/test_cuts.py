"""Saw cuts from places: few, in a person's order, with the rest in one piece or the fewest cuts."""

from __future__ import annotations

from itertools import pairwise
from math import inf
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.errors import ToolFault
from nestkit.layout.bench_order import in_bench_order
from nestkit.layout.cuts import saw_plan
from nestkit.layout.rects.sawable import stages
from nestkit.layout.replay import PlannedCut, replay
from nestkit.layout.sawing import Piece, moves, settings_of

SHEET = Piece(0, 0, 1000, 600)


def plan_of(parts, kerf=4, gap=4, first="any", prefer="offcut", sheet=SHEET):
    """Return the plan for parts given as left, bottom, right, top."""
    made = [Piece(*p) for p in parts]
    return saw_plan(sheet, made, kerf=kerf, gap=gap, first=first, prefer=prefer, least_rest=50)


def test_one_part_in_the_corner_takes_two_trims():
    """A part in the datum corner is freed by two cuts; the larger rest comes off whole."""
    plan = plan_of([(0, 0, 300, 200)])
    assert [(c.axis, c.at, c.trim) for c in plan.cuts] == [(0, 300, True), (1, 200, True)]
    assert plan.rests == (Piece(304, 0, 1000, 600), Piece(0, 204, 300, 600))


def test_a_part_that_fills_the_sheet_takes_no_cut():
    """Where nothing is left nothing is cut."""
    assert plan_of([tuple(SHEET)]).cuts == ()


def test_a_rest_narrower_than_the_kerf_is_sawn_away():
    """A strip of 2 beside a part is lost to a cut that hangs over the edge."""
    plan = plan_of([(0, 0, 998, 600)])
    assert [(c.axis, c.at) for c in plan.cuts] == [(0, 998)]
    assert plan.rests == ()


def test_a_part_away_from_the_edge_is_trimmed_on_its_low_side_first():
    """Left and lower border come off first, each by one cut for all parts."""
    plan = plan_of([(10, 10, 300, 590), (304, 10, 990, 590)])
    assert [(c.axis, c.at, c.trim) for c in plan.cuts[:2]] == [(0, 6, True), (1, 6, True)]
    assert sum(c.trim for c in plan.cuts) == 4


def test_a_gap_wider_than_the_kerf_is_trimmed_off_again():
    """With 10 between parts and a blade of 4, six are left on the second part and sawn off."""
    plan = plan_of([(0, 0, 495, 600), (505, 0, 1000, 600)], gap=10)
    assert [(c.at, c.trim) for c in plan.cuts] == [(495, False), (501, True)]


def test_the_fewest_stages_are_taken():
    """Four equal parts in a block need two stages, whichever way is cut first."""
    block = [(x, y, x + 496, y + 296) for x in (0, 500) for y in (0, 300)]
    plan = plan_of(block)
    assert sum(not c.trim for c in plan.cuts) == 3


def test_the_first_direction_is_kept():
    """Rips along x are cuts across y, and the other way round."""
    block = [(x, y, x + 496, y + 296) for x in (0, 500) for y in (0, 300)]
    for first, axis in (("x", 1), ("y", 0)):
        assert next(c.axis for c in plan_of(block, first=first).cuts if not c.trim) == axis


def test_few_cuts_and_one_large_rest_are_weighed_as_asked():
    """ "few cuts" never takes more cuts than "offcut", which never leaves a smaller largest rest."""
    parts = [(0, 0, 400, 150), (0, 154, 300, 304), (304, 154, 500, 304), (0, 308, 200, 400)]
    few, rest = plan_of(parts, prefer="few cuts"), plan_of(parts, prefer="offcut")
    assert len(few.cuts) <= len(rest.cuts)
    assert rest.largest_rest(50) >= few.largest_rest(50)


def test_a_piece_is_cut_only_after_the_cut_that_makes_it():
    """Every cut stands after the one its piece comes from, the sheet's own cut first."""
    block = [(x, y, x + 196, y + 146) for x in range(0, 1000, 200) for y in range(0, 600, 150)]
    plan = plan_of(block)
    assert plan.cuts[0].parent is None
    assert all(c.parent is None or c.parent < i for i, c in enumerate(plan.cuts))


def test_equal_settings_follow_each_other():
    """Five equal strips side by side are cut one after another with one fence setting."""
    block = [(x, y, x + 196, y + 146) for x in range(0, 1000, 200) for y in range(0, 600, 150)]
    plan = plan_of(block, first="x")
    settings = [(c.axis, c.at - c.piece[c.axis]) for c in plan.cuts]
    changes = sum(a != b for a, b in pairwise(settings))
    assert changes <= 3


WHEEL = [(0, 0, 600, 200), (604, 0, 1000, 400), (400, 404, 1000, 600), (0, 204, 396, 600)]


def test_parts_like_a_pinwheel_cannot_be_sawn_apart():
    """Four parts around a middle have no cut from edge to edge: that is our own fault, and said."""
    assert stages([(a, b, c + 4, d + 4) for a, b, c, d in WHEEL], 0) == inf
    with pytest.raises(ToolFault, match="edge to edge"):
        plan_of(WHEEL)


MM = 40_000
KERF = 3 * MM
BOARD = Piece(0, 0, 2440 * MM, 1220 * MM)


@st.composite
def sawable(draw, box=BOARD, axis=0, depth=4):
    """Parts that straight cuts of 3 mm set apart: few distances, so that settings come again; with rests."""
    far = box[axis + 2] - box[axis]
    at = draw(st.sampled_from([150, 300, 450, 620])) * MM
    if at + KERF < far and depth and draw(st.integers(0, 4)):
        low, high = box.halves(axis, box[axis] + at, KERF)
        turned = draw(st.sampled_from([axis, 1 - axis]))
        return draw(sawable(low, 1 - axis, depth - 1)) + draw(sawable(high, turned, depth - 1))
    # Nothing, 1 mm, a thin strip or an offcut is left to the left of, below, right of and above a part.
    left, bottom, right, top = (draw(st.sampled_from([0, 0, 1, 20, 80])) * MM for _ in range(4))
    part = Piece(box.left + left, box.bottom + bottom, box.right - right, box.top - top)
    return [part] if part.left < part.right and part.bottom < part.top else []


def in_the_order_of_before(plan):
    """Return the order that plans once had: the same size on the same axis again, else the largest piece."""
    sizes = [
        (c.axis, c.at - c.piece[c.axis] if c.at > c.piece[c.axis] else c.piece[c.axis + 2] - c.at - KERF)
        for c in plan.cuts
    ]
    ready, order, last = [i for i, c in enumerate(plan.cuts) if c.parent is None], [], None
    while ready:
        best = min(ready, key=lambda i: (sizes[i] != last, -plan.cuts[i].piece.area, i))
        ready.remove(best)
        order.append(best)
        last = sizes[best]
        ready += [i for i, c in enumerate(plan.cuts) if c.parent == best]
    return order


@given(sawable(), st.sampled_from(["offcut", "few cuts"]))
@settings(max_examples=150, deadline=None)
def test_any_layout_comes_apart_in_the_new_order_with_no_more_moves_than_in_the_old(parts, prefer):
    """Done again one by one the cuts leave just the parts and the rests, and the saw is set no oftener."""
    carved = []

    def seen(plan, kerf):
        carved.append((plan, in_bench_order(plan, kerf)))
        return carved[-1][1]

    with patch("nestkit.layout.cuts.in_bench_order", seen):
        plan = saw_plan(BOARD, parts, kerf=KERF, gap=KERF, first="any", prefer=prefer, least_rest=50 * MM)
    done = replay(tuple(BOARD), [tuple(p) for p in parts], planned(plan), KERF)
    assert done.parts == tuple(sorted(map(tuple, parts)))
    assert done.rests == tuple(sorted(map(tuple, plan.rests)))
    for before in (before for before, ordered in carved if ordered == plan):
        settings_before = settings_of(before.cuts, KERF)
        old = moves([settings_before[i] for i in in_the_order_of_before(before)])
        assert moves(settings_of(plan.cuts, KERF)) <= old


def planned(plan):
    """Return the cuts as the layout file writes them: by the names of their pieces."""
    return [
        PlannedCut(
            step,
            "sheet" if cut.parent is None else f"{cut.parent + 1}{'ab'[cut.side]}",
            cut.axis,
            cut.at,
            cut.piece[1 - cut.axis],
            cut.piece[3 - cut.axis],
            cut.trim,
        )
        for step, cut in enumerate(plan.cuts, 1)
    ]


def test_the_sheet_is_ripped_before_its_strips_are_cut():
    """Where it costs no move, all cuts through the whole sheet come before those through its strips."""
    parts = []
    for row, (height, width) in enumerate([(300, 500), (250, 400), (350, 450)]):
        bottom = (0, 303, 556)[row]
        parts += [((width + 3) * i, bottom, (width + 3) * i + width, bottom + height) for i in range(2)]
    scaled = [tuple(v * MM for v in p) for p in parts]
    plan = plan_of(scaled, kerf=KERF, gap=KERF, first="x", sheet=Piece(0, 0, 1200 * MM, 1000 * MM))
    # One trim of the whole sheet, then its rips, then what is within the strips.
    assert [c.axis for c in plan.cuts] == [0, 1, 1, 1, 0, 0, 0, 0, 0]


def test_a_cut_that_is_far_from_the_edge_is_no_setting_of_the_saw():
    """Beyond 24 in (common practice) a line is measured, and sawing along it leaves the fence as it is."""
    inch = 1_016_000
    sheet = Piece(0, 0, 48 * inch, 48 * inch)
    plan = plan_of([(0, 0, 30 * inch, 48 * inch)], kerf=KERF, gap=KERF, sheet=sheet)
    assert settings_of(plan.cuts, KERF) == [None]
    assert moves(settings_of(plan.cuts, KERF)) == 0
    at_24 = plan_of([(0, 0, 24 * inch, 48 * inch)], kerf=KERF, gap=KERF, sheet=sheet)
    assert settings_of(at_24.cuts, KERF) == [("fence", 24 * inch)]


@given(sawable())
@settings(max_examples=60, deadline=None)
def test_few_cuts_also_counts_settings(parts):
    """Of as few cuts no plan of the other preference sets fence, stop and straight edge less often."""
    few, rest = (
        saw_plan(BOARD, parts, kerf=KERF, gap=KERF, first="any", prefer=prefer, least_rest=50 * MM)
        for prefer in ("few cuts", "offcut")
    )

    def sets(plan) -> int:
        found = settings_of(plan.cuts, KERF)
        return moves(found) + found.count(None)

    assert len(few.cuts) <= len(rest.cuts)
    assert len(few.cuts) < len(rest.cuts) or sets(few) <= sets(rest)
