"""A section as it is seen from end 0: letters where the faces are, B towards you."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.drawing.end_view import end_view
from nestkit.drawing.model import Text
from nestkit.stock.section import read_section

SECTIONS = ["1 x 1 x 1/16", "1 x 2 x 1/8", "2 x 1 x 1/8", "round 1 x 1/16", "rod 1/4", "angle 1 x 1 x 1/8",
            "angle 2 x 1 x 1/8", "strip 1 x 1/8", "roll 1"]  # fmt: skip


@pytest.mark.parametrize("text", SECTIONS)
def test_faces_are_where_they_are_seen_from_end_0(text):
    """Looking along the tube from end 0, A is up, B at the right, C down, D at the left; all is in view."""
    section = read_section(text, "in")
    view = end_view(section)
    letters = {m.text: m.bounds.centre for m in view.marks if isinstance(m, Text) and len(m.text) == 1}
    assert tuple(letters) == (section.faces or (("A", "B", "C", "D") if section.is_round else ()))
    middle = view.width / 2
    for face, at in letters.items():
        if face in "AC":
            assert at.x == pytest.approx(middle, abs=0.1)
        else:
            assert (at.x > middle) == (face == "B")
    if "C" in letters:
        assert letters["A"].y > letters["C"].y
    boxes = [m.bounds for m in view.marks]
    assert all(
        b.left >= 0 and b.bottom >= -0.3 and b.right <= view.width and b.top <= view.height for b in boxes
    )
    texts = [m.bounds for m in view.marks if isinstance(m, Text)]
    others = [m.bounds for m in view.marks if not isinstance(m, Text)]
    assert not any(t.meets(o) for t in texts for o in others)
    assert not any(a.meets(b) for i, a in enumerate(texts) for b in texts[:i])


def test_the_view_agrees_with_the_frame():
    """B is the face at negative y, towards you: from end 0, looking along x with z up, at the right."""
    section = read_section("1 x 1 x 1/16", "in")
    y, _ = section.on_face("B", Fraction(1))
    assert y < 0
