"""The picture on a tube's card: true along the tube and across each face, no word on a line."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Path, Text
from nestkit.drawing.tube_card_picture import tube_picture
from nestkit.drawing.tube_facts import tube_facts
from nestkit.geometry.mitre import Mitre
from tests.drawing import tube_bench
from tests.drawing.clear import enters, on_circle, straight
from tests.drawing.tube_bench import M5, NO_7, ROUND, SQUARE, holes, tube

WIDTH, MOST = 117.0, 75.0


def picture(part, *, opposite=False, width=WIDTH, most=MOST):
    """The picture of one hand of a tube."""
    facts = tube_facts(tube_bench.job(part), part, opposite=opposite, corrected=False)
    return tube_picture(facts, width, most), facts.view


def edges(drawing):
    """The outlines of the pieces, from the top down."""
    closed = [m for m in drawing.marks if isinstance(m, Path) and m.closed]
    return sorted((m.bounds for m in closed), key=lambda box: -box.top)


def check_clear(drawing):
    """No text lies on a line, a ring or another text, or leaves the picture."""
    texts = [m for m in drawing.marks if isinstance(m, Text)]
    lines = [piece for m in drawing.marks if isinstance(m, Path) for piece in straight(m)]
    rings = [m for m in drawing.marks if isinstance(m, Circle)]
    for text in texts:
        box = text.bounds.grown(-0.02)
        assert not any(enters(a, b, box) for a, b in lines), text.text
        assert not any(on_circle(ring, box) for ring in rings), text.text
        assert box.left >= -1e-6
        assert box.bottom >= -1e-6
        assert box.right <= drawing.width + 1e-6
        assert box.top <= drawing.height + 1e-6
    for a, b in combinations(texts, 2):
        assert not a.bounds.grown(-0.02).meets(b.bounds.grown(-0.02)), (a.text, b.text)


@pytest.mark.parametrize("opposite", [False, True])
def test_holes_lie_where_the_tube_has_them(opposite):
    """Along the tube by one scale from end 0, across in proportion from the edge below, face by face."""
    part = tube(
        SQUARE,
        holes("a", NO_7, [20, 150], face="A", through=True),
        holes("b", M5, [50], face="B", across=6),
    )
    made, view = picture(part, opposite=opposite)
    boxes = edges(made.drawing)
    faces = view.drilled_faces
    assert faces == (("A", "C", "D") if opposite else ("A", "B", "C"))
    assert len(boxes) == len(faces)
    rings = [m.centre for m in made.drawing.marks if isinstance(m, Circle)]
    assert len(rings) == len(view.marks)
    for mark in view.marks:
        box = boxes[faces.index(mark.spot.face)]
        x = box.left + float(mark.spot.at / view.length) * box.width
        y = box.bottom + float(mark.spot.across / SQUARE.width(mark.spot.face)) * box.height
        assert any(p.x == pytest.approx(x) and p.y == pytest.approx(y) for p in rings), mark


def test_a_mitre_slants_over_the_faces_it_cuts():
    """Of a 45 degree end, long at A, face A begins at end 0 and C one width behind it; B and D slant."""
    long = 4 * SQUARE.a
    ends = (Mitre.on("A", Fraction(45)), None)
    part = tube(SQUARE, holes("a", NO_7, [60], face="A", through=True), length=long, mitres=ends)
    made, _ = picture(part)
    a, b, c, d = edges(made.drawing)
    assert a.left == b.left == d.left
    assert c.left - a.left == pytest.approx(a.width / 4)
    letters = [m.text for m in made.drawing.marks if isinstance(m, Text) and m.height == 7.0]
    assert letters == ["A", "B", "C", "D"]


def test_a_round_tube_is_unrolled_with_its_four_lines():
    """A, B, C and D follow each other downwards at quarters; the line on the seam is named at both edges."""
    part = tube(ROUND, holes("a", NO_7, [20, 90], at_deg=0, through=True), holes("b", M5, [60], at_deg=90))
    made, _ = picture(part)
    letters = sorted(
        (m for m in made.drawing.marks if isinstance(m, Text) and m.text in "ABCD"), key=lambda m: -m.at.y
    )
    assert [m.text for m in letters] == ["D", "A", "B", "C", "D"]
    steps = [a.at.y - b.at.y for a, b in pairwise(letters)]
    assert steps == pytest.approx([steps[0]] * 4)


def test_the_ends_and_the_length_are_said():
    """END 0 at the left under a heavy line, END 1 at the right, the length over the long points above."""
    made, _ = picture(tube_bench.frame())
    words = {m.text: m for m in made.drawing.marks if isinstance(m, Text)}
    assert words["END 0"].bounds.right < words["END 1"].bounds.left
    assert words["6 in"].at.y > max(box.top for box in edges(made.drawing))
    heavy = [m.bounds for m in made.drawing.marks if isinstance(m, Path) and m.layer == Layer.HEAVY]
    assert len(heavy) == 1
    assert heavy[0].left < min(box.left for box in edges(made.drawing))


@pytest.mark.parametrize("opposite", [False, True])
@pytest.mark.parametrize("kind", ["frame", "rail", "spacer", "post", "pin", "heel", "flat"])
def test_no_word_lies_on_a_line(kind, opposite):
    """In pictures of every section, small and large, all hole numbers are there and none is on a line."""
    for width, most in ((WIDTH, MOST), (WIDTH, 0.0), (80.0, 50.0)):
        made, view = picture(getattr(tube_bench, kind)(), opposite=opposite, width=width, most=most)
        check_clear(made.drawing)
        if width == WIDTH:
            shown = [m.text for m in made.drawing.marks if isinstance(m, Text) and m.text.isdigit()]
            assert sorted(map(int, shown)) == sorted(mark.number for mark in view.marks)


@given(
    count=st.integers(1, 90),
    length=st.integers(20, 4000),
    across=st.integers(3, 22),
    angle=st.sampled_from([None, 20, 45, 60]),
    most=st.floats(0, 95),
)
@settings(max_examples=30, deadline=None)
def test_no_word_lies_on_a_line_however_dense(count, length, across, angle, most):
    """Whatever the row and the mitre: numbers that have no room are left out, and the picture says so."""
    row = holes("row", NO_7, [length * (n + 1) / (count + 1) for n in range(count)], face="A", across=across)
    mitre = None if angle is None else Mitre.on("B", Fraction(angle))
    made, view = picture(tube(SQUARE, row, length=length, mitres=(mitre, None)), most=most)
    check_clear(made.drawing)
    shown = [m.text for m in made.drawing.marks if isinstance(m, Text) and m.text.isdigit()]
    assert made.numbered == (len(shown) == len(view.marks))
