"""Tiles: as few pages as the formula says, overlaps exact, crosses on both pages, holes kept whole."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nestkit.drawing.crosses import cross_marks
from nestkit.drawing.layers import Layer
from nestkit.drawing.record import RecordPen
from nestkit.drawing.tiles import OVERLAP, tile_count, tiling
from nestkit.geometry.points import Rect

side = st.floats(1, 1500)
usable = st.floats(4 * OVERLAP, 500)


def test_tile_count_of_the_worked_example():
    """24 x 12 in on letter, margin .25, overlap .5: 4 x 2 pages upright, 3 x 2 lying.

    Source: the project's own notes on printing templates; a derived formula, worked by hand there.
    """
    assert tile_count(24, 12, 8.0, 10.5, 0.5) == (4, 2)
    assert tile_count(24, 12, 10.5, 8.0, 0.5) == (3, 2)


def test_tile_count_at_the_edge():
    """What fits exactly takes no further page; sums of floats do not cost one either."""
    assert tile_count(100, 100, 100, 100) == (1, 1)
    assert tile_count(100.001, 100, 100, 100) == (2, 1)
    assert tile_count(3 * 0.1 + 0.9, 1, 1.2, 1.2, 0.1) == (1, 1)
    assert tile_count(2 * 100 - 12, 5, 100, 100, 12) == (2, 1)


def test_paper_no_larger_than_its_overlaps_is_refused():
    """A page that is all overlap can show nothing new."""
    with pytest.raises(ValueError, match="overlap"):
        tile_count(100, 100, 24, 100, 12)
    with pytest.raises(ValueError, match="overlap"):
        tiling(Rect(0, 0, 100, 100), 40, 100, [])


@given(width=side, height=side, wide=usable, high=usable, data=st.data())
@settings(deadline=None)
def test_tiles_show_everything_in_pages_that_fit(width, height, wide, high, data):
    """Windows cover the area, overlap by exactly 12 mm, fit the page, and are as many as the formula says."""
    columns, rows = tile_count(width, height, wide, high)
    assume(columns * rows <= 60)
    spots = data.draw(st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), max_size=8))
    boxes = [Rect(x * width - 4, y * height - 4, x * width + 4, y * height + 4) for x, y in spots]
    plan = tiling(Rect(-3, -5, width - 3, height - 5), wide, high, boxes)
    assert (plan.columns, plan.rows, len(plan.tiles)) == (columns, rows, columns * rows)
    by_number = {tile.number: tile for tile in plan.tiles}
    assert plan.tiles[0].window[:2] == pytest.approx((-3, -5))
    assert plan.tiles[-1].window[2:] == pytest.approx((width - 3, height - 5))
    for tile in plan.tiles:
        assert tile.window.width <= wide + 1e-6
        assert tile.window.height <= high + 1e-6
        if tile.right:
            assert tile.window.right - by_number[tile.right].window.left == pytest.approx(OVERLAP)
            assert by_number[tile.right].left == tile.number
        if tile.above:
            assert tile.window.top - by_number[tile.above].window.bottom == pytest.approx(OVERLAP)
            assert by_number[tile.above].below == tile.number


@given(width=st.floats(200, 900), height=st.floats(200, 900))
@settings(deadline=None)
def test_every_overlap_has_two_crosses_seen_whole_on_both_pages(width, height):
    """Two crosses of their own letters lie in the overlap of each two neighbours."""
    plan = tiling(Rect(0, 0, width, height), 190, 240, [])
    windows = {tile.number: tile.window for tile in plan.tiles}
    assert len({cross.name for cross in plan.crosses}) == len(plan.crosses)
    for tile in plan.tiles:
        for other in filter(None, (tile.right, tile.above)):
            a, b = tile.window, windows[other]
            shared = [
                cross.at
                for cross in plan.crosses
                if all(
                    w.left + 4 <= cross.at.x <= w.right - 4 and w.bottom + 4 <= cross.at.y <= w.top - 4
                    for w in (a, b)
                )
            ]
            assert len(shared) >= 2
            assert max(p.to(q) for p in shared for q in shared) > min(a.height, a.width, 60) / 3


def test_seams_keep_off_holes_where_that_costs_no_page():
    """With room to spare the seam moves; a hole is then wholly on one page and not in the overlap."""
    hole = Rect(140, 90, 160, 110)
    plan = tiling(Rect(0, 0, 300, 200), 200, 220, [hole])
    assert plan.columns == 2
    assert not any(seam.meets(hole) for seam in plan.seams())
    assert plan.whole(hole)
    even = tiling(Rect(0, 0, 300, 200), 200, 220, [])
    assert any(seam.meets(hole) for seam in even.seams())


def test_seams_are_even_without_holes():
    """Nothing to avoid: the windows are alike to within the 1 mm by which seams are tried."""
    widths = [t.window.width for t in tiling(Rect(0, 0, 500, 100), 191, 200, []).tiles]
    assert max(widths) - min(widths) <= 2.0 + 1e-9


@given(x=st.floats(20, 280), y=st.floats(20, 280), dia=st.floats(1, OVERLAP))
@settings(deadline=None)
def test_a_hole_no_larger_than_the_overlap_is_whole_somewhere(x, y, dia):
    """Whatever the seams, a small hole is wholly on one page at least."""
    box = Rect(x, y, x, y).grown(dia / 2 - 1e-6)
    assert tiling(Rect(0, 0, 300, 300), 100, 90, []).whole(box)


def test_crosses_move_off_holes():
    """A hole where a cross would stand moves the cross along its seam."""
    plain = tiling(Rect(0, 0, 300, 200), 200, 220, [])
    taken = [Rect(*c.at, *c.at).grown(5) for c in plain.crosses]
    # The seam itself cannot move away from boxes that stand everywhere across.
    moved = tiling(Rect(0, 0, 300, 200), 156, 220, [Rect(0, b.bottom, 300, b.top) for b in taken])
    for cross in moved.crosses:
        assert not any(b.bottom - 4 < cross.at.y < b.top + 4 for b in taken)


def test_cross_does_not_look_like_a_punch_mark():
    """A registration cross has a diamond and no circle."""
    [cross] = [c for c in tiling(Rect(0, 0, 300, 100), 200, 220, []).crosses if c.name == "a"]
    pen = RecordPen()
    for mark in cross_marks(cross):
        mark.draw(pen)
    assert pen.circles == []
    diamond = next(points for layer, points, closed in pen.paths if closed and layer == Layer.FINE)
    assert {round(p.to(cross.at), 6) for p in diamond} == {2.0}


@given(
    length=st.integers(250, 700),
    usable=st.integers(150, 260),
    holes=st.lists(st.integers(0, 700), max_size=14),
)
@settings(deadline=None, max_examples=60)
def test_no_seams_of_as_many_pages_would_meet_fewer_holes(length, usable, holes):
    """Along one axis every way to lay the seams, 1/2 mm apart, is tried: none meets fewer boxes."""
    spans = [(h - 5.0, h + 5.0) for h in holes]
    plan = tiling(Rect(0, 0, length, 50), usable, 60, [Rect(a, 20, b, 30) for a, b in spans])
    assume(2 <= plan.columns <= 3)
    met = sum(a < seam.right and b > seam.left for seam in plan.seams() for a, b in spans)

    def meets(middle: float) -> int:
        return sum(a < middle + OVERLAP / 2 and b > middle - OVERLAP / 2 for a, b in spans)

    step, half = usable - OVERLAP, OVERLAP / 2
    places = [half + i / 2 for i in range(int(2 * (length - OVERLAP)) + 1)]
    first = [p for p in places if OVERLAP <= p - half <= step]
    last = length - half
    if plan.columns == 2:
        least = min(meets(p) for p in first if OVERLAP <= last - p <= step)
    else:
        cost = {p: meets(p) for p in places}
        least = min(
            cost[p] + cost[q]
            for p in first
            for q in places
            if OVERLAP <= q - p <= step and OVERLAP <= last - q <= step
        )
    assert met <= least


def test_pages_that_would_be_empty_are_left_out():
    """Round a ring the page in the middle shows nothing: it is left out, and nobody is told to join it."""

    def ring(window: Rect) -> bool:
        return not Rect(60, 60, 340, 340).holds(window)

    plan = tiling(Rect(0, 0, 400, 400), 150, 150, [], shows=ring)
    assert (plan.columns, plan.rows, len(plan.tiles)) == (3, 3, 8)
    assert [t.number for t in plan.tiles] == list(range(1, 9))
    assert {(t.column, t.row) for t in plan.tiles} == {(c, r) for c in range(3) for r in range(3)} - {(1, 1)}
    by_place = {(t.column, t.row): t for t in plan.tiles}
    assert by_place[1, 0].above == by_place[0, 1].right == by_place[2, 1].left == by_place[1, 2].below == 0
    assert by_place[0, 0].right == by_place[1, 0].number


def test_pages_that_would_fall_apart_are_all_printed():
    """Two far corners alone could not be joined: the pages between are printed too."""
    far = Rect(300, 300, 400, 400)
    plan = tiling(Rect(0, 0, 400, 400), 150, 150, [], shows=lambda w: w.left < 1 > w.bottom or w.meets(far))
    assert len(plan.tiles) == 9
