"""Words of a tube's template: places are tried before anything is drawn there."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.drawing.tube_words import _arrow, _arrow_box
from nestkit.geometry.points import Point, around


@given(
    st.floats(-300, 3000), st.floats(-300, 300), st.sampled_from(["END 0", "to END 0"]), st.floats(2.0, 9.0)
)
def test_the_room_of_the_arrow_to_end_0_is_what_it_takes(x, y, said, size):
    """The box by which a place is tried is the box around the arrow and its words."""
    drawn = around(mark.bounds for mark in _arrow(Point(x, y), said, size))
    assert _arrow_box(Point(x, y), said, size) == pytest.approx(drawn, abs=1e-9)
