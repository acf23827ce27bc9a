"""Unrolling round tube: girth, seam, the developed curve of a mitre."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.mitre import CURVE_ERROR, End, Mitre
from nestkit.geometry.round_wrap import RoundWrap, clear_seam, usual_girth
from nestkit.geometry.section import Section

PIPE = Section("round", Fraction(30), Fraction(30), Fraction(2))


def test_angles_go_down_the_paper():
    """With the seam underneath, A is in the middle, B a quarter below it, D a quarter above."""
    wrap = RoundWrap(PIPE, 96.0, 180.0)
    assert wrap.point(7, 0) == (7, 48)
    assert wrap.point(7, 90).y == 24
    assert wrap.point(7, 270).y == 72
    assert wrap.point(7, 180).y == 96


def test_a_measured_girth_stretches_all_angles_alike():
    """Opposite walls are half the girth apart, whatever the girth."""
    for girth in (90.0, 94.2, 99.0):
        wrap = RoundWrap(PIPE, girth, 100.0)
        assert abs(wrap.point(0, 30).y - wrap.point(0, 210).y) == pytest.approx(girth / 2)
        assert wrap.height == girth


def test_the_usual_girth_has_the_papers_thickness():
    """Pi times the diameter, and what four folds take."""
    assert usual_girth(PIPE, 0.08) == pytest.approx(30 * math.pi + 0.32)


@pytest.mark.parametrize(
    ("marks", "seam"),
    [([], 180), ([0], 180), ([0, 180], 90), ([0, 90, 180], 270), ([350, 10], 180), ([90, 90, 450], 270)],
)
def test_the_seam_goes_where_no_mark_is(marks, seam):
    """In the middle of the widest stretch without a mark."""
    assert clear_seam(marks) == seam


def test_a_mitre_unrolls_to_a_cosine():
    """The usual development of a mitred pipe, from memory: r tan(angle) (1 - cos turned)."""
    wrap = RoundWrap(PIPE, math.pi * 30, 180.0)
    line = wrap.end_line(End(200, False, Mitre.on("A", Fraction(45))))
    for p in line:
        turned = (p.y - wrap.height / 2) / 15
        assert p.x == pytest.approx(15 * (1 - math.cos(turned)), abs=1e-9)
    assert (line[0].y, line[-1].y) == (0, wrap.height)
    assert max(p.x for p in line) == pytest.approx(30)
    assert {p.x for p in wrap.end_line(End(200, True))} == {200}


@given(st.integers(5, 75), st.integers(0, 359), st.floats(5, 60))
def test_straight_pieces_stay_by_the_curve(angle, long, radius):
    """Between two points of the line the true curve is never further off than said."""
    size = Fraction(round(2 * radius, 3))
    section = Section("round", size, size, Fraction(1))
    end = End(500, False, Mitre(Fraction(angle), Fraction(long)))
    wrap = RoundWrap(section, usual_girth(section, 0.0), 180.0)
    line = wrap.end_line(end)
    for a, b in pairwise(line):
        deg = 180.0 + 360.0 * (1 - (a.y + b.y) / 2 / wrap.girth)
        true = end.x(section, *section.at_angle(deg))
        assert abs(true - (a.x + b.x) / 2) <= CURVE_ERROR * 1.001
