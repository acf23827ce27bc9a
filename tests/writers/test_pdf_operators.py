"""The operators of lines and curves: the digits of the PDF library, each path written once."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.lib.rl_accel import fp_str

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing
from nestkit.drawing.template_page import PageShape, rulers
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point
from nestkit.writers.pdf import pdf_bytes
from nestkit.writers.pdf_operators import circle, look, number, way
from tests.drawing.bench import read


@given(st.floats(-1e6, 1e6) | st.floats(-2, 2) | st.floats(-1e-6, 1e-6))
def test_numbers_have_the_digits_that_the_library_gives(value):
    """A number is written as the PDF library writes it, so that no mark moves by a digit."""
    assert number(value) == fp_str(value)


@given(st.floats(-20_000, 20_000))
def test_numbers_are_true_to_two_micrometres_on_any_page(value):
    """Up to seven metres from the page's corner no place is off by more than 0.002 mm."""
    assert float(number(value)) == pytest.approx(value, abs=0.0051)
    assert "e" not in number(value)


@pytest.mark.parametrize(
    ("value", "text"), [(0.0, "0"), (-0.0, "0"), (0.5, ".5"), (-12.50, "-12.5"), (1e9, "1000000000")]
)
def test_numbers_are_short(value, text):
    """No zeros that say nothing, no exponents, which a PDF does not know."""
    assert number(value) == text


def test_paths_begin_go_on_and_end_as_a_pdf_asks():
    """An open path ends at its last point, a closed one is closed; arcs and circles are curves."""
    points = (Vertex(0, 0), Vertex(25.4, 0), Vertex(25.4, 50.8))
    assert way(points, False) == "n 0 0 m 72 0 l 72 144 l"
    assert way(points, True) == "n 0 0 m 72 0 l 72 144 l h"
    arc = way((Vertex(0, 0, 1.0), Vertex(25.4, 0)), False)
    assert arc.startswith("n 0 0 m ")
    assert arc.endswith(" 72 0 c")
    assert circle(Point(0, 0), 1.0).count(" c") % 4 == 0
    assert circle(Point(0, 0), 1.0).endswith(" h")


def test_lines_are_as_wide_on_paper_in_whatever_inset():
    """At a tenth of the scale a line's width and its dashes are ten times as long."""
    for layer in Layer:
        whole, tenth = (look(layer, scale).split() for scale in (1.0, 0.1))
        for a, b in zip(whole, tenth, strict=True):
            if a.strip("[]").replace(".", "").isdigit() and a != b:
                assert float(b.strip("[]")) == pytest.approx(10 * float(a.strip("[]")), rel=1e-5)
        assert float(tenth[0]) == pytest.approx(10 * float(whole[0]), rel=1e-5)


def test_the_ticks_of_check_rulers_are_written_once_for_all_pages_of_one_paper():
    """The longest path of a page is kept, and every page still has it in its place."""
    letter = PageShape(215.9, 279.4, 1.0, 1.0)
    pages = [Drawing(letter.width, letter.height, rulers(letter, "in")) for _ in range(5)]
    pdf_bytes(pages[:1], title="t")
    made = way.cache_info().misses
    first, *others = read(pdf_bytes(pages, title="t"))
    assert way.cache_info().misses == made
    assert len(first.paths) > 3
    assert all(page.paths == first.paths for page in others)
