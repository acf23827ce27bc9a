"""The engine's saw test against the one that layouts are checked with."""

from __future__ import annotations

from math import inf

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.rects.engine.arrays import GROUP, PART
from nestkit.layout.rects.engine.saw import cut_apart, put_in_order, take_from_order
from nestkit.layout.rects.sawable import within

BASE = 3


@st.composite
def apart(draw):
    """Return rectangles that overlap none of the others."""
    found = []
    for _ in range(draw(st.integers(2, 9))):
        x, y = draw(st.integers(0, 12)), draw(st.integers(0, 12))
        w, h = draw(st.integers(1, 8)), draw(st.integers(1, 8))
        if all(x >= c or x + w <= a or y >= d or y + h <= b for a, b, c, d in found):
            found.append((x, y, x + w, y + h))
    return found


def rows_of(rectangles):
    """Return rows with the rectangles as parts of one sheet, in order."""
    part, order = [0] * ((BASE + 12) * PART), [0] * (2 * (BASE + 12))
    for i, r in enumerate(rectangles):
        part[(BASE + i) * PART : (BASE + i + 1) * PART] = [0, *r]
        put_in_order(order, part, BASE, i)
    return part, order


@settings(max_examples=300)
@given(apart(), st.sampled_from([1, 2, 3, 4, 1 << 30]), st.sampled_from([0, 1]))
def test_the_saw_test_agrees_with_the_check_of_layouts(rectangles, depth, axis):
    """Parts can be cut apart in so many stages from a first direction in both tests, or in neither."""
    part, order = rows_of(rectangles)
    group = [0] * (GROUP * 14)
    expected = len(rectangles) < 2 or within(list(rectangles), axis, inf if depth > 9 else depth)
    if len(rectangles) > 1:
        assert (cut_apart(group, order, part, BASE, len(rectangles), axis, depth) > 0) == expected


@given(apart())
def test_a_part_taken_back_leaves_the_orders_as_they_were(rectangles):
    """A trial that is taken back changes nothing for the next one."""
    part, order = rows_of(rectangles[:-1])
    before = list(order)
    last = len(rectangles) - 1
    part[(BASE + last) * PART : (BASE + last + 1) * PART] = [0, *rectangles[-1]]
    put_in_order(order, part, BASE, last)
    take_from_order(order, BASE, last)
    assert order[: 2 * (BASE + last)] == before[: 2 * (BASE + last)]
