"""Long pieces are cut across into lengths first, where stages, direction and the rest allow it."""

from __future__ import annotations

from itertools import pairwise
from math import inf

import pytest

from nestkit.geometry.edge_to_edge import split
from nestkit.layout.cuts import saw_plan
from nestkit.layout.lengths import BENCH, is_long, runs_of, ways_to_begin
from nestkit.layout.sawing import Piece
from nestkit.units import grid_down

MM = 40_000
KERF = 3 * MM


def rows_of(columns, rows, width=146, height=114):
    """Return equal parts in columns and rows, a kerf apart."""
    return [
        Piece(x * (width + 3) * MM, y * (height + 3) * MM, (x * (width + 3) + width) * MM,
              (y * (height + 3) + height) * MM)
        for x in range(columns) for y in range(rows)
    ]  # fmt: skip


def plan_of(parts, sheet, *, depth=3.0, first="any", prefer="offcut"):
    """Return the plan for parts on a sheet in grid steps."""
    return saw_plan(
        sheet, parts, kerf=KERF, gap=KERF, first=first, prefer=prefer, least_rest=50 * MM, depth=depth
    )


ROLL = Piece(0, 0, 610 * MM, (100 * 117 - 3) * MM)


def test_a_long_piece_is_cut_into_even_lengths():
    """Of 11.7 m come twenty lengths of five rows; only cuts into lengths are made in a long piece."""
    plan = plan_of(rows_of(4, 100), ROLL)
    long = [c for c in plan.cuts if is_long(c.piece)]
    assert all(c.axis == 1 for c in long)
    lengths = {c.piece.top - c.piece.bottom for c in plan.cuts if c.axis == 0}
    assert lengths == {(5 * 117 - 3) * MM}


@pytest.mark.parametrize(("depth", "first"), [(2.0, "any"), (3.0, "y")])
def test_lengths_ask_for_a_stage_and_their_direction(depth, first):
    """No more stages than allowed; where the first cut has to run along the piece, it does."""
    plan = plan_of(rows_of(4, 100), ROLL, depth=depth, first=first)
    stages = max(_turns(plan.cuts, i) for i in range(len(plan.cuts)))
    assert stages <= depth
    if first == "y":
        assert next(c.axis for c in plan.cuts if not c.trim) == 0


def _turns(cuts, index):
    """Return the stages of one cut: changes of direction on the way to it, and one."""
    axes = []
    at = index
    while at is not None:
        if not cuts[at].trim:
            axes.append(cuts[at].axis)
        at = cuts[at].parent
    return 1 + sum(a != b for a, b in pairwise(axes))


def test_a_large_rest_is_not_cut_up_for_lengths():
    """Beside one column of 146 mm a rest of 461 mm stays in one piece of 11.7 m: offcuts come first."""
    plan = plan_of(rows_of(1, 100), ROLL)
    assert max(r.top - r.bottom for r in plan.rests) == ROLL.top


def test_few_cuts_stay_few():
    """ "few cuts" never takes a cut more for the sake of lengths."""
    parts = rows_of(4, 100)
    assert len(plan_of(parts, ROLL, prefer="few cuts").cuts) <= len(plan_of(parts, ROLL, depth=2.0).cuts)


def test_what_lies_on_a_bench_is_left_whole():
    """A sheet of 1.5 m has no lengths to begin with."""
    sheet = Piece(0, 0, 1200 * MM, 1500 * MM)
    grown = [(p.left, p.bottom, p.right + KERF, p.top + KERF) for p in rows_of(4, 10)]
    assert ways_to_begin(sheet, grown, "any", inf) == []
    assert ways_to_begin(ROLL, grown, "y", inf) == []
    assert ways_to_begin(ROLL, grown, "any", inf) != []


def test_runs_are_few_and_even():
    """Ten rows that fit a bench by nine are five and five, and a row longer than the most is alone."""
    grown = [(p.left, p.bottom, p.right + KERF, p.top + KERF) for p in rows_of(1, 10, height=130)]
    runs = runs_of(split(grown, 1), 1, grid_down(BENCH))
    assert [len(r) for r in runs] == [5, 5]
    tall = [(0, 0, 10, 5 * grid_down(BENCH)), (0, 5 * grid_down(BENCH), 10, 5 * grid_down(BENCH) + 10)]
    assert [len(r) for r in runs_of(split(tall, 1), 1, grid_down(BENCH))] == [1, 1]
