"""The tree of cuts, against the test that looks at every part anew."""

from __future__ import annotations

from math import inf

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.rects.cut_tree import CutTree
from nestkit.layout.rects.room import without
from nestkit.layout.rects.sawable import saw_test


def side_by_side(draw, most):
    """Draw parts that do not overlap, anywhere on a sheet of 12 x 12, mostly in the corner of free room."""
    room, parts = [(0, 0, 12, 12)], []
    for _ in range(draw(st.integers(1, most))):
        if not room:
            break
        x1, y1, x2, y2 = draw(st.sampled_from(sorted(room)))
        corner = draw(st.booleans())
        left = x1 if corner else draw(st.integers(x1, x2 - 1))
        bottom = y1 if corner else draw(st.integers(y1, y2 - 1))
        part = (left, bottom, draw(st.integers(left + 1, x2)), draw(st.integers(bottom + 1, y2)))
        parts.append(part)
        room = without(room, part, 1, 1)
    return parts


@settings(max_examples=400, deadline=None)
@given(st.data(), st.sampled_from([1, 2, 3, 4, inf]), st.sampled_from(["x", "y", "any"]))
def test_the_tree_answers_as_the_test_of_all_parts_does(data, depth, first):
    """Part after part, those refused left out, both say the same, also for a tree begun in the midst."""
    parts = side_by_side(data.draw, 14)
    begin = data.draw(st.integers(0, len(parts)))
    test = saw_test(depth, first)
    laid, tree = [], CutTree([], depth, first)
    for index, part in enumerate(parts):
        if index == begin:
            tree = CutTree(laid, depth, first)
        fits = test([*laid, part])
        assert tree.takes(part) is fits
        if fits:
            laid.append(part)
            tree.add(part)


def test_a_first_direction_without_a_cut_may_serve_later():
    """Two parts on top of each other have no cut along y between them; a third beside them makes one."""
    tree = CutTree([(0, 0, 4, 4)], 2, "y")
    assert not tree.takes((0, 4, 4, 8))
    tree = CutTree([(0, 0, 4, 4)], 2, "any")
    tree.add((0, 4, 4, 8))
    assert tree.takes((4, 0, 8, 5))


def test_parts_one_inside_the_corner_of_the_other_go_as_deep_as_they_like():
    """Twelve hundred parts, each cut off what the one before leaves, are no deeper than the tree can go."""
    count = 1200
    parts = []
    left = bottom = 0
    for i in range(count):
        if i % 2:
            parts.append((left, bottom, left + 1, 2 * count))
            left += 1
        else:
            parts.append((left, bottom, 2 * count, bottom + 1))
            bottom += 1
    tree = CutTree(parts[:1], inf, "any")
    for part in parts[1:]:
        assert tree.takes(part)
        tree.add(part)
    assert saw_test(inf, "any")(parts)
