"""The order of work: every cut after its piece exists, and the saw set seldom."""

from __future__ import annotations

from collections import Counter
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.bench_order import in_bench_order
from nestkit.layout.sawing import Piece, SawCut, SawPlan, moves, settings_of

KERF = 120_000
"""Grid steps: 3 mm."""
MM = 40_000


@st.composite
def plans(draw):
    """Plans of a few cuts, each through a piece that an earlier one left, at one of few distances."""
    pieces = [(None, 0, Piece(0, 0, 2400 * MM, 1200 * MM))]
    cuts = []
    for _ in range(draw(st.integers(1, 6))):
        parent, side, piece = pieces.pop(draw(st.integers(0, len(pieces) - 1)))
        axis = draw(st.integers(0, 1))
        at = piece[axis] + draw(st.sampled_from([100, 250, 400, 650])) * MM
        if at + KERF >= piece[axis + 2]:
            pieces.append((parent, side, piece))
            continue
        index = len(cuts)
        cuts.append(SawCut(parent, side, piece, axis, at, False, 0))
        low, high = piece.halves(axis, at, KERF)
        pieces += [(index, 0, low), (index, 1, high)]
    return SawPlan(tuple(cuts), ())


def legal(cuts) -> bool:
    """Say whether each cut comes after the one that its piece comes from, and cuts that very piece."""
    for index, cut in enumerate(cuts):
        if cut.parent is None:
            continue
        if cut.parent >= index:
            return False
        before = cuts[cut.parent]
        if before.piece.halves(before.axis, before.at, KERF)[cut.side] != cut.piece:
            return False
    return True


@given(plans())
def test_the_same_cuts_come_in_an_order_that_can_be_sawn(plan):
    """No cut is lost or changed, and none is made in a piece that is not there yet."""
    ordered = in_bench_order(plan, KERF)
    assert legal(ordered.cuts)
    assert Counter((c.piece, c.axis, c.at) for c in ordered.cuts) == Counter(
        (c.piece, c.axis, c.at) for c in plan.cuts
    )


@given(plans())
@settings(max_examples=150, deadline=None)
def test_the_saw_is_set_nearly_as_seldom_as_any_order_allows(plan):
    """Of all orders of up to six cuts, tried one by one, none saves more than one move of fence or stop."""
    kinds = settings_of(plan.cuts, KERF)
    parents = [c.parent for c in plan.cuts]
    least = len(plan.cuts)
    for order in permutations(range(len(plan.cuts))):
        place = {cut: at for at, cut in enumerate(order)}
        if all(p is None or place[p] < place[c] for c, p in enumerate(parents)):
            least = min(least, moves([kinds[i] for i in order]))
    assert moves(settings_of(in_bench_order(plan, KERF).cuts, KERF)) <= least + 1
