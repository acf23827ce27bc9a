"""The sizes of offcuts stand on white, where no cut's number is."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.drawing.model import Fill, Text
from nestkit.drawing.sheet_offcuts import offcut_labels
from nestkit.geometry.points import Point, Rect
from nestkit.layout.result import Offcut
from tests.laid_boat import lid_job

ORIGIN = Point(0, 0)


def sheet_with(*offcuts):
    """Return a sheet with these offcuts, each x, y, width, height in mm."""
    _, layout = lid_job()
    found = tuple(Offcut(*(Fraction(v) for v in offcut)) for offcut in offcuts)
    return replace(layout.groups[0].sheets[0], offcuts=found)


def said(marks):
    """Return the texts among marks."""
    return [m.text for m in marks if isinstance(m, Text)]


@pytest.mark.parametrize(
    ("size", "words"),
    [
        ((500, 400), ["offcut 500 x 400 mm"]),
        ((200, 60), ["200 x 60 mm"]),
        ((60, 500), ["offcut 60 x 500 mm"]),
        ((20, 20), []),
    ],
)
def test_a_size_is_said_as_fully_as_there_is_room(size, words):
    """The word, size and unit; the size; or nothing where it could not be read."""
    assert said(offcut_labels(sheet_with((0, 0, *size)), "mm", 10, ORIGIN, ())) == words


def test_a_label_goes_aside_for_a_number():
    """A cut's number in the middle of an offcut moves the size to the longer free stretch."""
    sheet = sheet_with((0, 0, 900, 100))
    number = Rect(30, 4, 35, 9)
    (plain,) = [m for m in offcut_labels(sheet, "mm", 10, ORIGIN, ()) if isinstance(m, Text)]
    assert plain.bounds.meets(number)
    (moved,) = [m for m in offcut_labels(sheet, "mm", 10, ORIGIN, (number,)) if isinstance(m, Text)]
    assert moved.text == plain.text
    assert moved.bounds.left > number.right


circle = st.tuples(st.floats(-5, 105), st.floats(-5, 45)).map(
    lambda at: Rect(at[0] - 2.1, at[1] - 2.1, at[0] + 2.1, at[1] + 2.1)
)


@given(
    busy=st.lists(circle, max_size=8),
    width=st.integers(50, 1000),
    height=st.integers(50, 400),
    unit=st.sampled_from(["mm", "in"]),
)
def test_no_label_meets_a_number_or_leaves_its_offcut(busy, width, height, unit):
    """Wherever numbers stand: a label keeps off them and within its offcut, or is left out."""
    marks = offcut_labels(sheet_with((0, 0, width, height)), unit, 10, ORIGIN, tuple(busy))
    box = Rect(0, 0, width / 10, height / 10)
    for mark in marks:
        assert isinstance(mark, Text | Fill)
        assert not any(mark.bounds.meets(b) for b in busy)
        if isinstance(mark, Text):
            assert box.left <= mark.bounds.left
            assert mark.bounds.right <= box.right
            assert box.bottom <= mark.bounds.bottom + 0.01
            assert mark.bounds.top <= box.top + 0.01
