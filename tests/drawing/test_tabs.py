"""Holding tabs on sheets: on the edge of the part as it lies, on their own layer, explained in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis.strategies import booleans, sampled_from

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Inset
from nestkit.drawing.part import laid
from nestkit.drawing.sheet import sheet_drawing, sheet_notes
from nestkit.drawing.sheet_picture import sheet_picture, signs_text
from nestkit.drawing.tabs import tab_marks
from nestkit.geometry.distances import boundary
from nestkit.stock.ways import Tabs
from tests.laid_boat import BRACKET, GUSSET, HATCH, LID, ROUTER, placed, routed_job

HELD = replace(ROUTER, tabs=Tabs(Fraction(6), 3))


@settings(max_examples=60, deadline=None)
@given(
    panel=sampled_from([LID, BRACKET, HATCH, GUSSET]),
    turn=sampled_from([0, 90, 180, 270, 13, 215]),
    opposite=booleans(),
)
def test_tabs_lie_across_the_edge_of_the_part_as_it_lies(panel, turn, opposite):
    """Turned, mirrored and moved: one end of each line in the part, one out, its middle on the edge."""
    part = placed(panel, 1, 300, 40, turn, opposite)
    edge = boundary(laid(part).outline)
    marks = tab_marks(part, HELD)
    assert len(marks) == 3
    for mark in marks:
        a, b = (v.point for v in mark.vertices)
        assert a.to(b) == pytest.approx(6.35)
        assert edge.depth(a) == pytest.approx(3.175, abs=0.05)
        assert edge.depth(b) == pytest.approx(-3.175, abs=0.05)
        assert edge.distance(a.moved((b.x - a.x) / 2, (b.y - a.y) / 2)) < 1e-9


def strokes(drawing):
    """How many tabs a drawing shows, those in its insets too."""
    own = sum(getattr(m, "layer", None) is Layer.HOLDING_TAB for m in drawing.marks)
    return own + sum(strokes(m.drawing) for m in drawing.marks if isinstance(m, Inset))


def test_tabs_are_drawn_only_where_asked_for():
    """Cutting file and picture show all tabs of a sheet and a word for them; without tabs nothing of it."""
    _, layout = routed_job()
    group, sheet = layout.groups[0].group, layout.groups[0].sheets[0]
    held = replace(group, way=HELD)
    for drawn in (
        sheet_drawing(sheet, held, unit="mm", stem="s"),
        sheet_picture(sheet, held, unit="mm", stem="s"),
    ):
        assert strokes(drawn) == 3 * len(sheet.parts)
    assert "holding tabs" in signs_text(sheet, held, "mm")
    assert any(
        "each line is the middle of a tab 6 mm wide" in row
        for row in sheet_notes(sheet, held, unit="mm", stem="s")
    )
    assert strokes(sheet_drawing(sheet, group, unit="mm", stem="s")) == 0
    assert "tab" not in signs_text(sheet, group, "mm")
    assert not any("TAB" in row for row in sheet_notes(sheet, group, unit="mm", stem="s"))
