"""Sticks to scale: every piece as long as it is, words in or below the right piece, nothing over anything."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Path, Text
from nestkit.drawing.stick_picture import HIGH, stick_drawing, stick_scale
from nestkit.estimate.cut_steps import sticks_alike
from nestkit.layout.bars.problem import LengthProblem, Piece, Stick
from nestkit.units import length_text
from nestkit.writers.pdf import pdf_bytes
from tests.cut_sticks import (
    HACKSAW,
    bar,
    boat_angle,
    boat_frames,
    boat_trim,
    from_list,
    layout_of,
    metric_rails,
    problems,
    stick,
    tube,
)
from tests.drawing.bench import read
from tests.drawing.clear import enters, straight

LAYOUTS = {"frames": boat_frames, "angle": boat_angle, "trim": boat_trim, "rails": metric_rails}
WIDTH = 180.0


def drawn(laid, unit="in"):
    """Return each kind of stick with its drawing."""
    kinds = sticks_alike(laid)
    scale = stick_scale(kinds, WIDTH)
    return [(alike, stick_drawing(alike, unit, scale=scale), scale) for alike in kinds]


def faults(page: Drawing) -> list[str]:
    """Return words that meet words, lie on a line, or are cut off."""
    texts = [m for m in page.marks if isinstance(m, Text)]
    lines = [m for m in page.marks if isinstance(m, Path) and m.layer is not Layer.HATCH]
    pieces = [piece for path in lines for piece in straight(path)]
    found = [
        f"{a.text!r} meets {b.text!r}"
        for a, b in combinations(texts, 2)
        if a.bounds.grown(-0.02).meets(b.bounds.grown(-0.02))
    ]
    for text in texts:
        box = text.bounds
        if box.left < -0.01 or box.bottom < -0.01 or box.right > page.width + 0.01 or box.top > page.height:
            found.append(f"{text.text!r} is cut off")
        if any(enters(a, b, box.grown(-0.02)) for a, b in pieces):
            found.append(f"{text.text!r} lies on a line")
    return found


def hard() -> list:
    """Sticks with many lengths, tiny pieces, names of 60 letters, a very long roll."""
    copies: Counter = Counter()
    many = [tube("W" * 57 + f"{n:03}", Fraction(12 + 3 * n)) for n in range(24)]
    tiny = [tube(f"pad {n}", Fraction(3 + n), "roll 1") for n in range(9)]
    roll = bar("tape", Fraction(30_000), "roll 1", "0")
    return [
        layout_of([stick(bar("W" * 60), 1, [(m, 2) for m in many], HACKSAW.kerf, copies)]),
        layout_of([stick(bar("short"), 1, [(m, 1) for m in many[:9]], HACKSAW.kerf, copies)]),
        layout_of([stick(roll, 1, [(t, 30) for t in tiny], Fraction(0), copies)], way=None),
    ]


@pytest.mark.parametrize("name", LAYOUTS)
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_words_are_clear_of_words_and_lines(name, unit):
    """In inches and millimetres nothing lies on anything."""
    for _, page, _ in drawn(LAYOUTS[name](), unit):
        assert faults(page) == []


def test_words_are_clear_where_there_are_very_many():
    """Also with many lengths on a stick, long names, and pieces of a roll too thin to draw."""
    for laid in hard():
        for _, page, _ in drawn(laid, "mm"):
            assert faults(page) == []


@settings(max_examples=40, deadline=None)
@given(st.builds(from_list, problems(), st.integers(1, 2)))
@example(
    from_list(
        LengthProblem((Piece(812000, 1), Piece(808000, 1)), (Stick(4000000, 0, None, Fraction(1000)),), 0), 1
    )
)
def test_any_stick_is_drawn_to_scale_with_its_words_apart(laid):
    """Grey boxes add up to the pieces, each as long as it is; lengths stand in them or below."""
    for alike, page, scale in drawn(laid):
        assert faults(page) == []
        boxes = [m.bounds for m in page.marks if isinstance(m, Fill) and 0.0 < m.grey < 1.0]
        assert len(boxes) == alike.pieces
        at = float(alike.stock.trim)
        for box, length in zip(boxes, [r.length for r in alike.rows for _ in range(r.each)], strict=True):
            assert box.left == pytest.approx(at * scale, abs=1e-6)
            assert box.width == pytest.approx(float(length) * scale, abs=1e-6)
            at += float(length + alike.kerf)
        said = [m.text for m in page.marks if isinstance(m, Text)]
        # Lengths that differ by less than is shown read alike: 20.3 and 20.2 mm are both .8 in.
        rows: dict[str, list[int]] = {}
        for row in alike.rows:
            rows.setdefault(length_text(row.length, "in", places=2), []).append(row.each)
        for length, counts in rows.items():
            below = sum(each for each in counts if f"{each} x {length}" in said)
            assert said.count(length) + below >= sum(counts)


def test_a_printed_stick_has_its_lengths():
    """pdfium reads pieces, stick and rest of the boat's frames, each to .01 mm on paper."""
    for alike, page, scale in drawn(boat_frames()):
        (printed,) = read(pdf_bytes((page,), title="sticks"))
        boxes = [p.box for p in printed.paths if p.closed and abs(p.box.height - HIGH) < 0.01]
        widths = Counter(round(box.width, 1) for box in boxes)
        for row in alike.rows:
            there = [b for b in boxes if abs(b.width - float(row.length) * scale) < 0.01]
            # Each piece is a grey box and its frame.
            assert len(there) >= 2 * row.each
        assert any(abs(b.width - float(alike.stock.length) * scale) < 0.01 for b in boxes)
        if alike.kept:
            assert any(abs(b.width - float(alike.left) * scale) < 0.01 for b in boxes), widths


def test_waste_is_hatched_and_a_kept_rest_is_white():
    """Between the far trim and the last piece lies a hatch, or a white box with its length."""
    three, fourth, _ = drawn(boat_frames())
    for alike, page, scale in (three, fourth):
        from_end = float(alike.stock.length - alike.stock.trim - alike.left) * scale
        until = float(alike.stock.length - alike.stock.trim) * scale
        hatched = [m.bounds for m in page.marks if isinstance(m, Path) and m.layer is Layer.HATCH]
        inner = [b for b in hatched if from_end + 0.5 < b.centre.x < until - 0.5]
        assert bool(inner) != alike.kept
        said = [m.text for m in page.marks if isinstance(m, Text)]
        assert ("KEEP 16 15/16" in said) == alike.kept
