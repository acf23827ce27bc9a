"""Check rulers: as long as there is room, one unbroken line, and the reading said in words."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.drawing.record import RecordPen
from nestkit.drawing.ruler_strip import ruler_strip
from nestkit.drawing.rulers import longest, reading
from nestkit.geometry.points import Point
from nestkit.units import MM_PER_INCH


def drawn(*args, **kw) -> RecordPen:
    """Record a ruler in its strip."""
    pen = RecordPen()
    for mark in ruler_strip(*args, **kw):
        mark.draw(pen)
    return pen


def ticks_of(pen: RecordPen) -> list[tuple[Point, Point]]:
    """The ticks of a ruler: foot and end of each, from its comb."""
    comb = pen.paths[1][1]
    return list(zip(comb[::3], comb[1::3], strict=True))


@pytest.mark.parametrize(
    ("length", "unit", "words"),
    [
        (Fraction(200), "mm", "must read 200.0, accept 199.6 to 200.4 mm"),
        (Fraction(270), "mm", "must read 270.0, accept 269.5 to 270.5 mm"),
        (8 * MM_PER_INCH, "in", "must read 8.000, accept 7.98 to 8.02 in"),
        (10 * MM_PER_INCH, "in", "must read 10.000, accept 9.98 to 10.02 in"),
    ],
)
def test_reading_says_the_limit_of_a_fifth_of_a_percent(length, unit, words):
    """The accepted reading is 0.2 % either way, to a place that can be read on a steel rule."""
    assert reading(length, unit) == words


@given(n=st.integers(1, 200))
def test_limit_is_never_looser_than_half_a_place(n):
    """Rounding never widens the limit by more than half of the last place that is printed."""
    for unit, length, place in (
        ("in", n * MM_PER_INCH / 2, Fraction(1, 100)),
        ("mm", Fraction(10 * n), Fraction(1, 10)),
    ):
        size = length / MM_PER_INCH if unit == "in" else length
        high = Fraction(reading(length, unit).split(" to ")[1].split()[0])
        assert high - size <= size / 500 + place / 2


@given(room=st.floats(15, 2000))
def test_ruler_is_the_longest_that_fits(room):
    """A ruler is a whole number of steps, fits its room, and one step more would not."""
    for unit, step in (("in", MM_PER_INCH / 2), ("mm", Fraction(10))):
        length = longest(room, unit)
        assert length % step == 0
        assert float(length) <= room + 1e-6
        assert float(length + step) > room - 1e-6


@pytest.mark.parametrize("along", ["x", "y"])
@pytest.mark.parametrize("scale", [(1.0, 1.0), (0.996, 1.004)])
def test_ruler_reads_nominal_after_the_printers_error(along, scale):
    """The line is one path of two points; times the printer's scale it is what the words say."""
    pen = drawn(Point(10, 10), 203.2, "mm", along=along, scale=scale)
    axis = 0 if along == "x" else 1
    spans = [abs(points[1][axis] - points[0][axis]) for _, points, closed in pen.paths if len(points) == 2]
    assert max(spans) * scale[axis] == pytest.approx(200.0)
    assert max(spans) <= 203.2
    assert pen.texts[0][0] == "CHECK RULER: must read 200.0, accept 199.6 to 200.4 mm"


def test_ticks_are_of_the_unit_and_close_both_ends():
    """Inch rulers carry eighths, mm rulers 5 mm; both ends carry a long tick."""
    pen = drawn(Point(0, 0), 101.6, "in", along="x")
    ticks = ticks_of(pen)
    assert len(ticks) == 4 * 8 + 1
    lengths = [a.to(b) for a, b in ticks]
    assert lengths[0] == lengths[-1] == max(lengths)
    assert [round(a.x, 4) for a, _ in ticks[:3]] == [0.0, 3.175, 6.35]
    assert len(ticks_of(drawn(Point(0, 0), 100, "mm", along="y"))) == 21


def test_half_a_step_ends_with_a_long_tick():
    """A ruler that ends on a half inch still ends with a long tick at its very end."""
    pen = drawn(Point(0, 0), 7.5 * 25.4, "in", along="x")
    a, b = ticks_of(pen)[-1]
    assert a.x == pytest.approx(190.5)
    assert a.to(b) == pytest.approx(3.4)


def test_pages_of_one_paper_share_their_ruler_and_other_papers_do_not():
    """A ruler once drawn is kept by all that makes it: length, unit, side, place, scale and words."""

    def strip(room=200.0, up=6, **more):
        return ruler_strip(Point(6, up), room, "mm", **{"along": "x", "fits": (0.94,), **more})

    assert strip() is strip()
    others = [
        strip(room=180.0),
        strip(up=20),
        strip(along="y"),
        strip(scale=(0.99, 1.0)),
        strip(fits=()),
        strip(beside=("page 2 joins here",)),
    ]
    assert all(other != strip() for other in others)
