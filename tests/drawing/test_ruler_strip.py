"""Tell-tales: where a steel rule shows a whole figure on a page that was printed to fit."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.drawing.model import Text
from nestkit.drawing.ruler_strip import fit_to_page, ruler_strip, tell_tales, usual_fits
from nestkit.drawing.rulers import STRIP
from nestkit.geometry.points import Point

JOINS = ("page 12 joins here: cut this side", "page 12 joins here: cut", "page 12: cut")


def test_letter_and_a4_shrink_as_reckoned():
    """Letter inside 1/4 in is printed at 8.0 / 8.5, A4 inside 4.2 mm at 201.6 / 210 (reckoned by hand)."""
    assert fit_to_page(215.9, 279.4, 6.35) == pytest.approx(8.0 / 8.5)
    assert fit_to_page(210.0, 297.0, 4.2) == pytest.approx(201.6 / 210)


def test_the_papers_own_share_is_watched_beside_the_usual_ones():
    """94 and 96 percent are always marked, by the paper's own figure where that is nearly one of them."""
    assert usual_fits(8 / 8.5) == (0.941, 0.96)
    assert usual_fits(0.9604) == (0.96, 0.94)
    assert usual_fits(0.914) == (0.914, 0.94, 0.96)
    assert usual_fits(None) == (0.94, 0.96)


@given(st.floats(100, 2000), st.sampled_from(["in", "mm"]), st.floats(0.85, 0.99))
def test_a_tell_tale_reads_its_whole_figure_at_its_share(room, unit, own):
    """Shrunk by its share, each mark lies where a rule shows the one figure that the words name."""
    length = Fraction(int(room / 12.7)) * Fraction("12.7") if unit == "in" else Fraction(int(room / 10) * 10)
    tales = tell_tales(length, usual_fits(own), unit)
    assert len({t.read for t in tales}) == 1
    for tale in tales:
        assert tale.place * tale.share == pytest.approx(float(tale.read))
        assert 0 < tale.place <= float(length) + 1e-6


@pytest.mark.parametrize("along", ["x", "y"])
@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("room", [126.0, 197.0, 203.2, 266.7, 407.0, 1000.0])
@pytest.mark.parametrize("beside", [(), JOINS])
def test_words_of_a_strip_stay_in_it_and_apart(along, unit, room, beside):
    """However short the strip, its texts stay within it and off each other, and who joins there is said."""
    marks = ruler_strip(
        Point(6, 6), room, unit, along=along, scale=(0.996, 1.004), fits=usual_fits(0.941), beside=beside
    )
    texts = [m for m in marks if isinstance(m, Text)]
    assert texts[0].text.startswith("CHECK RULER: must read ")
    assert not texts[0].text.endswith("…")
    assert not beside or any(t.text in beside for t in texts)
    assert all(t.height >= 2.5 for t in texts if t is not texts[0] or not beside)
    for box in (t.bounds for t in texts):
        low, high, first, last = (
            (box.bottom, box.top, box.left, box.right)
            if along == "x"
            else (box.left, box.right, box.bottom, box.top)
        )
        assert low >= 6 - 0.6
        assert high <= 6 + STRIP
        assert first >= 6 - 0.1
        assert last <= 6 + room + 0.1
    for a, b in combinations(texts, 2):
        assert not a.bounds.grown(-0.05).meets(b.bounds.grown(-0.05)), (a.text, b.text)


@pytest.mark.parametrize("along", ["x", "y"])
@pytest.mark.parametrize(
    ("unit", "room", "own"),
    [
        ("in", 203.2, 0.941), ("in", 258.5, 0.941), ("mm", 197.3, 0.94), ("mm", 276.1, 0.94),
        ("mm", 284.3, 0.957), ("mm", 399.1, 0.957),
    ],
)  # fmt: skip
def test_every_tell_tale_is_marked_and_asked_for_on_usual_papers(along, unit, room, own):
    """Letter, A4 and A3: a figure at each tell-tale, 2.5 mm high, and the question before them."""
    fits = usual_fits(own)
    texts = [m for m in ruler_strip(Point(6, 6), room, unit, along=along, fits=fits) if isinstance(m, Text)]
    figures = [t for t in texts if t.text.replace(".", "").isdigit()]
    assert len(figures) == len(fits)
    assert all(t.height >= 2.5 for t in texts)
    assert sum("here? " in t.text for t in texts) == 1
