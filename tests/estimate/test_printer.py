"""A printer's scale from readings, how sure it is, and which hole patterns it endangers."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.estimate.printer import endangered, error_at, scale_of
from nestkit.job.reader import read_job
from nestkit.trade.screws import clearance

SAMPLE = Path(__file__).resolve().parent.parent.parent / "sample_parts" / "solar_boat.toml"
PANELS = read_job(SAMPLE).panels


def test_a_worked_scale():
    """A 200 mm ruler that reads 199.2 mm has scale .9960: 1.2 mm over 300 mm (derived by hand)."""
    scale = scale_of(Fraction(200), [Fraction("199.2")], Fraction(1, 4))
    assert scale.value == pytest.approx(0.9960)
    assert error_at(300, 0, 1 - scale.value, 0) == pytest.approx(1.2)
    assert 1 / scale.value == pytest.approx(1.00402, abs=5e-6)


@pytest.mark.parametrize(("length", "percent"), [(200, 0.18), (400, 0.09)])
def test_what_one_reading_leaves_open(length, percent):
    """Read to 0.25 mm at both ends, 200 mm fix the scale to .18 %, 400 mm to .09 % (derived by hand)."""
    scale = scale_of(Fraction(length), [Fraction(length)], Fraction(1, 4))
    assert round(scale.uncertainty * 100, 2) == percent


@pytest.mark.parametrize(
    ("hole_in", "share", "distance_mm"),
    [(0.201, 0.002, 140), (0.201, 0.005, 56), (0.221, 0.002, 394), (0.221, 0.005, 157)],
)
def test_where_the_spare_offset_of_a_no_10_hole_is_used_up(hole_in, share, distance_mm):
    """In a .201 hole .2 % is all used at 140 mm from the datum, .5 % at 56; in .221 at 394 and 157.

    Derived by hand from hole less screw; the major diameter .190 in is that of ASME B18.2.8's No. 10.
    """
    major = float(clearance("10-32").major)
    spare = hole_in * 25.4 - major
    assert round(spare / share) == distance_mm


def test_two_readings_are_surer_than_one_and_show_a_crooked_image():
    """The mean of both counts; rulers that differ by more than can be misread are no true rectangle."""
    one = scale_of(Fraction(200), [Fraction(200)], Fraction(1, 4))
    two = scale_of(Fraction(200), [Fraction("199.9"), Fraction("200.1")], Fraction(1, 4))
    assert two.value == pytest.approx(1)
    assert two.uncertainty == pytest.approx(one.uncertainty / 2**0.5)
    assert not two.out_of_square
    # One measured print: 10.00 in on one side, 10.06 in on the other of an 8 x 10 picture.
    crooked = scale_of(Fraction(254), [Fraction("254"), Fraction("10.06") * Fraction("25.4")], Fraction(1, 4))
    assert crooked.out_of_square
    assert not crooked.fit_to_page


@pytest.mark.parametrize("share", ["0.941", "0.960"])
def test_fit_to_page_is_told_from_a_printers_own_scale(share):
    """94 % (letter with 1/4 in margins) and 96 % (A4 with 4.2 mm) are no printer's own (computed)."""
    assert scale_of(Fraction(200), [Fraction(share) * 200], Fraction(1, 4)).fit_to_page
    assert not scale_of(Fraction(200), [Fraction("0.985") * 200], Fraction(1, 4)).fit_to_page


def test_no_reading_is_no_scale():
    """Without a reading there is nothing to say."""
    with pytest.raises(ValueError, match="a reading"):
        scale_of(Fraction(200), [], Fraction(1, 4))


@given(shares=st.tuples(st.floats(0, 0.02), st.floats(0, 0.02)))
def test_the_hole_named_is_the_one_that_loses_most(shares):
    """No other screw hole of a panel uses more of its spare offset, whichever way it is printed."""
    for pattern in endangered(PANELS, *shares):
        for hole in pattern.panel.holes:
            if hole.drill.screw is None:
                continue
            spare = hole.dia - hole.drill.fastener_dia
            for x, y in (shares, shares[::-1]):
                assert error_at(*hole.at, x, y) / spare <= pattern.error / pattern.spare + 1e-12
        assert pattern.holds == (pattern.error <= pattern.spare)
