"""Saw cuts from places: few, in a person's order, with the rest in one piece or the fewest cuts."""

from __future__ import annotations

from itertools import pairwise
from math import inf

import pytest

from nestkit.errors import ToolFault
from nestkit.layout.cuts import saw_plan
from nestkit.layout.rects.sawable import stages
from nestkit.layout.sawing import Piece

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
