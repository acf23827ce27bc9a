"""Offcuts: disjoint rectangles away from parts, worth keeping."""

from __future__ import annotations

from nestkit.layout.offcuts import free_rests, least_side, worth_keeping
from nestkit.layout.sawing import Piece

K = least_side()


def test_the_least_side_is_fifty_millimetres():
    """The rules table says from which side on a rest is kept."""
    assert K == 50 * 40_000


def test_small_rests_are_not_kept():
    """A sliver is no offcut; what is kept comes largest first."""
    rests = (Piece(0, 0, K, K), Piece(0, 0, K - 1, 9 * K), Piece(0, 0, 2 * K, 3 * K))
    assert worth_keeping(rests) == [rests[2], rests[0]]


def test_free_rests_keep_the_gap_and_are_disjoint():
    """Round a part in the corner two rectangles are left, the larger one whole."""
    sheet, part, gap = Piece(0, 0, 10 * K, 6 * K), Piece(0, 0, 4 * K, 2 * K), K // 10
    rests = free_rests(sheet, [part], gap)
    assert rests == [Piece(0, 2 * K + gap, 10 * K, 6 * K), Piece(4 * K + gap, 0, 10 * K, 2 * K + gap)]


def test_a_full_sheet_has_no_rest():
    """Where only slivers are left there is no offcut."""
    assert free_rests(Piece(0, 0, 4 * K, 4 * K), [Piece(0, 0, 4 * K, 4 * K - K // 2)], 0) == []
