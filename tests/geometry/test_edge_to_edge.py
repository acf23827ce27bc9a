"""Cuts from edge to edge around what is kept clear."""

from __future__ import annotations

from math import inf

from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.edge_to_edge import stages_beside
from nestkit.layout.rects.sawable import FIRST_AXES, stages


@st.composite
def cells(draw: st.DrawFn) -> list[tuple[int, int, int, int]]:
    """Boxes that do not overlap, on a small grid."""
    found: list[tuple[int, int, int, int]] = []
    for _ in range(draw(st.integers(1, 7))):
        x, y = draw(st.integers(0, 6)), draw(st.integers(0, 6))
        box = (x, y, x + draw(st.integers(1, 3)), y + draw(st.integers(1, 3)))
        if all(box[0] >= b[2] or b[0] >= box[2] or box[1] >= b[3] or b[1] >= box[3] for b in found):
            found.append(box)
    return found


@given(cells(), st.sampled_from([0, 1]), st.sampled_from(["x", "y", "any"]))
def test_without_anything_kept_clear_it_is_what_parts_alone_need(boxes, axis, first):
    """With no region the count is that of the test without regions, where the first cut may run so."""
    wanted = stages(boxes, axis)
    if len(boxes) > 1 and axis not in FIRST_AXES[first]:
        wanted = inf
    assert stages_beside(boxes, [], axis, FIRST_AXES[first]) == wanted


@given(cells(), st.integers(0, 6), st.sampled_from([0, 1]))
def test_a_region_takes_no_stage_that_a_part_would_not(boxes, index, axis):
    """What one box as a region needs is never more than it needs as a part."""
    clear = [boxes[index % len(boxes)]]
    parts = [b for b in boxes if b not in clear]
    if parts:
        assert stages_beside(parts, clear, axis, (0, 1)) <= stages(boxes, axis)


def test_cuts_that_only_take_off_a_region_are_no_stage():
    """Two parts side by side and a region above both: one direction sets the parts apart."""
    parts, region = [(0, 0, 4, 4), (4, 0, 8, 4)], [(0, 4, 8, 6)]
    assert stages_beside(parts, region, 1, (0,)) == 1
    assert stages_beside(parts, region, 1, (1,)) == inf, "the first cut between parts runs the other way"


def test_a_pinwheel_around_a_region_cannot_be_cut():
    """Four parts around a region in the middle: every cut would run through one of them."""
    parts = [(0, 0, 3, 1), (3, 0, 4, 3), (1, 3, 4, 4), (0, 1, 1, 4)]
    assert all(stages_beside(parts, [(1, 1, 3, 3)], axis, (0, 1)) == inf for axis in (0, 1))
