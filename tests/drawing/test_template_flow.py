"""Texts that flow down a column."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Inset
from nestkit.drawing.template_facts import facts_of
from nestkit.drawing.template_flow import Flow, wrapped
from nestkit.drawing.template_info import HEADINGS, hole_table
from nestkit.drawing.type import text_width
from nestkit.geometry.points import Point
from tests.drawing import bench


@given(text=st.text(max_size=120), room=st.floats(25, 120))
def test_wrapped_lines_fit_and_lose_nothing(text, room):
    """Every line fits, and the lines hold all letters of the text in order."""
    lines = wrapped(text, room, 3.0)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    for line in lines:
        assert text_width(line, 3.0) <= room or len(line) == 1


@pytest.mark.parametrize("width", [84.0, 95.0, 130.0, 300.0])
def test_a_narrow_hole_table_breaks_no_word(width):
    """Beside a tall part the table of holes is narrow: its words wrap, none is cut in two."""
    part = bench.gusset()
    facts = facts_of(bench.job(part, how="router"), part, opposite=False, back=False, corrected=False)
    cut = replace(facts, holes=tuple(replace(row, drill="CUT ALREADY") for row in facts.holes))
    said = [mark.text for flow in hole_table(cut, width) for mark in flow.marks(0.0, 0.0)]
    for word in (*HEADINGS, "CUT", "ALREADY"):
        assert any(word in text.split() for text in said), word


def test_column_grows_down_from_its_top():
    """Texts stand one below the other and the height is what they take."""
    flow = Flow(80.0)
    flow.text("first", 4.0)
    flow.gap(2.0)
    flow.text("second", 4.0, bold=True)
    first, second = flow.marks(10.0, 200.0)
    assert first.at.x == second.at.x == 10.0
    assert first.bounds.top <= 200.0
    assert second.bounds.top < first.bounds.bottom
    assert flow.height == pytest.approx(2 * 1.3 * 4.0 + 2.0)
    assert second.bounds.bottom >= 200.0 - flow.height - 1e-9


def test_row_is_as_high_as_its_longest_cell():
    """A cell that wraps pushes the next row down for all columns."""
    flow = Flow(60.0)
    flow.row(("1", "a drill with a long name that wraps"), (20.0, 40.0), 3.0)
    flow.row(("2", "short"), (20.0, 40.0), 3.0)
    marks = flow.marks(0.0, 0.0)
    second = next(m for m in marks if m.text == "2")
    assert all(m.at.y > second.at.y for m in marks if m.text not in ("2", "short"))
    assert all(m.bounds.right <= 60.0 for m in marks)


def test_columns_side_by_side_take_the_higher_one():
    """Two columns beside each other count once, with pictures where they were put."""
    left, right = Flow(40.0), Flow(40.0)
    left.text("words", 3.0)
    right.picture(Drawing(30.0, 20.0, (Circle(Point(15, 10), 5, Layer.FINE),)))
    both = Flow(80.0)
    both.beside(left, right, 40.0)
    assert both.height == pytest.approx(20.0)
    [picture] = [m for m in both.marks(0.0, 100.0) if isinstance(m, Inset)]
    assert picture.at == Point(40.0, 80.0)


@given(st.lists(st.text("abc .·½", min_size=1, max_size=9), min_size=1, max_size=12), st.booleans())
def test_a_text_is_wrapped_where_the_whole_line_says_it_must(words, bold):
    """A line takes each word that still fits when all of it is measured, also where it fits exactly."""
    text = " ".join(words)
    for room in {text_width(text[:end], 3.0, bold=bold) for end in range(1, len(text) + 1)}:
        lines = wrapped(text, room, 3.0, bold=bold)
        rest = text.split(" ")
        if all(text_width(word, 3.0, bold=bold) <= room for word in rest):
            assert lines == wrapped_whole(rest, room, bold)


def wrapped_whole(words: list[str], room: float, bold: bool) -> list[str]:
    """The same by measuring each line from its start, for words that are none too long."""
    lines: list[str] = []
    now = ""
    for word in words:
        longer = f"{now} {word}" if now else word
        if text_width(longer, 3.0, bold=bold) > room:
            lines, longer = [*lines, now], word
        now = longer
    return [*lines, now] if now else lines
