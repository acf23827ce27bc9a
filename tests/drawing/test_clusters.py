"""Windows placed by themselves: every box whole in one, few of them, at the sheet's edges if they can."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.clusters import clusters
from nestkit.geometry.points import Point, Rect

SHEET = Rect(0, 0, 1200, 800)
WIDE, HIGH = 180.0, 240.0
NEAR = 1e-6


@st.composite
def boxes(draw, most=40):
    """Boxes of a hole's size and larger ones, all on the sheet."""
    found = []
    for _ in range(draw(st.integers(1, most))):
        size = draw(st.sampled_from([10.0, 14.0, 60.0]))
        x, y = draw(st.integers(0, int(1200 - size))), draw(st.integers(0, int(800 - size)))
        found.append(Rect(x, y, x + size, y + size))
    return found


@given(boxes())
@settings(deadline=None)
def test_each_box_lies_whole_in_its_own_window_and_in_no_other_by_number(some):
    """Windows have the usable size; their members are all boxes, each once, each shown as a whole."""
    found = clusters(some, SHEET, WIDE, HIGH)
    assert sorted(i for c in found for i in c.members) == list(range(len(some)))
    for c in found:
        assert (c.window.width, c.window.height) == pytest.approx((WIDE, HIGH))
        grown = c.window.grown(NEAR)
        assert all(grown.holds(some[i]) for i in c.members)


@given(boxes(most=6))
@settings(deadline=None, max_examples=60)
def test_no_fewer_windows_would_do(some):
    """Of up to six boxes, all ways to share them out among fewer windows are tried: none fits."""

    def fits(group) -> bool:
        around = [f(side) for f, side in zip((min, min, max, max), zip(*group, strict=True), strict=True)]
        return around[2] - around[0] <= WIDE + NEAR and around[3] - around[1] <= HIGH + NEAR

    groups = [
        frozenset(g)
        for k in range(1, len(some) + 1)
        for g in combinations(range(len(some)), k)
        if fits([some[i] for i in g])
    ]
    count = len(clusters(some, SHEET, WIDE, HIGH))
    for fewer in range(1, count):
        assert not any(len(frozenset().union(*c)) == len(some) for c in combinations(groups, fewer))


def test_a_window_is_moved_to_the_edges_that_it_can_show():
    """A box near a corner of the sheet gets a window from that corner, one in the middle is in its middle."""
    corners = {
        Point(20, 20): (0, 0),
        Point(1150, 20): (1200 - WIDE, 0),
        Point(1150, 760): (1200 - WIDE, 800 - HIGH),
        Point(20, 760): (0, 800 - HIGH),
    }
    for at, want in corners.items():
        [found] = clusters([Rect(*at, *at).grown(7)], SHEET, WIDE, HIGH)
        assert found.window[:2] == want
    [middle] = clusters([Rect(600, 400, 600, 400).grown(7)], SHEET, WIDE, HIGH)
    assert middle.window.centre == Point(600, 400)


def test_a_box_that_two_windows_show_goes_where_no_edge_is_lost():
    """A hole by the lower edge and a notch at the upper one are parted so that both pages show an edge."""
    low, high, between = Rect(500, 10, 520, 30), Rect(510, 230, 530, 250), Rect(505, 120, 525, 140)
    found = clusters([low, high, between], Rect(0, 0, 1200, 260), WIDE, 235.0)
    assert len(found) == 2
    assert {c.window.bottom for c in found} == {0.0, 25.0}


def test_a_box_larger_than_a_window_has_no_answer():
    """What no page can show as a whole is not for pages placed by themselves."""
    assert clusters([Rect(0, 0, 200, 10)], SHEET, WIDE, HIGH) is None
