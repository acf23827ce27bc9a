"""The saw's test, against splitting in every possible way."""

from __future__ import annotations

from math import inf

from hypothesis import given
from hypothesis import strategies as st

from nestkit.layout.rects.room import without
from nestkit.layout.rects.sawable import saw_test, stages
from tests.layout.checked import needed_stages


@st.composite
def layouts(draw):
    """Up to seven parts that do not overlap, anywhere on a sheet of 12 x 12."""
    room, parts = [(0, 0, 12, 12)], []
    for _ in range(draw(st.integers(1, 7))):
        if not room:
            break
        x1, y1, x2, y2 = draw(st.sampled_from(sorted(room)))
        left, bottom = draw(st.integers(x1, x2 - 1)), draw(st.integers(y1, y2 - 1))
        part = (left, bottom, draw(st.integers(left + 1, x2)), draw(st.integers(bottom + 1, y2)))
        parts.append(part)
        room = without(room, part, 1, 1)
    return parts


@given(layouts(), st.integers(0, 1))
def test_stages_are_those_of_trying_every_cut(parts, axis):
    """The quick count and the slow one agree, for each first direction."""
    assert stages(parts, axis) == needed_stages(parts, 0, axis)


@given(layouts(), st.sampled_from([1, 2, 3, inf]), st.sampled_from(["x", "y", "any"]))
def test_the_test_says_whether_the_stages_do(parts, depth, first):
    """The test passes exactly when one of the allowed first directions needs no more stages."""
    axes = {"x": (1,), "y": (0,), "any": (0, 1)}[first]
    least = min(needed_stages(parts, 0, a) for a in axes)
    expected = len(parts) < 2 or (least < inf and least <= depth)
    assert saw_test(depth, first)(list(parts)) is expected


@given(layouts(), st.sampled_from([1, 2, 3, inf]), st.data())
def test_what_can_be_sawn_can_be_sawn_with_parts_missing(parts, depth, data):
    """Where the first direction is free, taking parts away never asks for more stages."""
    test = saw_test(depth, "any")
    kept = [part for part in parts if data.draw(st.booleans())]
    assert test(kept) or not test(parts)
