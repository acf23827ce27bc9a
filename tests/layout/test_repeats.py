"""Equal cuts come one after the other, without a move of the saw more and without a cut out of turn."""

from __future__ import annotations

from hypothesis import given

from nestkit.layout.repeats import Alike, together
from nestkit.layout.sawing import Piece, SawCut, moves, settings_of
from tests.layout.test_bench_order import KERF, MM, plans


def grid(columns, rows, width=100, height=90):
    """Return cuts that part equal pieces, all columns first, then the rows of each, ladder-wise."""
    cuts = []
    sheet = Piece(0, 0, columns * (width + 3) * MM, rows * (height + 3) * MM)
    ends = []
    piece, parent, side = sheet, None, 0
    for _ in range(columns):
        cuts.append(SawCut(parent, side, piece, 0, piece.left + width * MM, False, 0))
        low, high = piece.halves(0, piece.left + width * MM, KERF)
        parent, side = len(cuts) - 1, 1
        ends.append((low, parent))
        if high is None:
            break
        piece = high
    bench = [(piece, parent, 0) for piece, parent in ends]
    for _ in range(rows - 1):
        for at, (piece, parent, side) in enumerate(bench):
            cuts.append(SawCut(parent, side, piece, 1, piece.bottom + height * MM, False, 0))
            bench[at] = (piece.halves(1, piece.bottom + height * MM, KERF)[1], len(cuts) - 1, 1)
    return cuts


def test_strips_are_cut_up_one_after_the_other():
    """Five strips of six rows, cut row by row: after the sort each strip is cut up whole, in two sayings."""
    cuts = grid(5, 6)
    order, sayings = together(range(len(cuts)), cuts, Alike(cuts, KERF))
    assert sayings == 2
    assert order[:5] == [0, 1, 2, 3, 4]
    assert order[5:8] == [5, 10, 15]
    assert sorted(order) == list(range(len(cuts)))


@given(plans())
def test_any_order_stays_one_that_can_be_sawn(plan):
    """No cut is lost or comes before its piece is there, and the saw is not set more often."""
    cuts = plan.cuts
    order, sayings = together(range(len(cuts)), cuts, Alike(cuts, KERF))
    assert sorted(order) == list(range(len(cuts)))
    place = {index: at for at, index in enumerate(order)}
    assert all(c.parent is None or place[c.parent] < place[i] for i, c in enumerate(cuts))
    settings = settings_of(cuts, KERF)
    assert moves([settings[i] for i in order]) == moves(settings)
    assert sayings <= len(cuts)
