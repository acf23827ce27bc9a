"""Lengths in and out: as the shop writes them, exactly."""

from __future__ import annotations

from contextlib import suppress
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from nestkit.errors import LengthError
from nestkit.units import (
    GRID_PER_MM,
    decimal_text,
    fraction_text,
    grid_down,
    grid_mm,
    grid_up,
    length_text,
    parse_length,
    run_text,
    with_unit,
)

IN = Fraction("25.4")

READ = {
    # The contract's own examples first.
    "18 3/4": Fraction("18.75") * IN,
    "18-3/4 in": Fraction("18.75") * IN,
    '18¾"': Fraction("18.75") * IN,
    "1' 6-1/2\"": Fraction("18.5") * IN,
    "152.4 mm": Fraction("152.4"),
    ".25in": IN / 4,
    "1/8": IN / 8,
    "0": Fraction(0),
    "3": 3 * IN,
    "3.": 3 * IN,
    " 3 ": 3 * IN,
    "+3": 3 * IN,
    "-3 1/2": Fraction("-3.5") * IN,
    "−3": -3 * IN,
    "3 IN": 3 * IN,
    "3 inches": 3 * IN,
    "3''": 3 * IN,
    "3”": 3 * IN,
    "3″": 3 * IN,
    "1½": Fraction(3, 2) * IN,
    "½ in": IN / 2,
    "1 1⁄2": Fraction(3, 2) * IN,
    "3 / 8": 3 * IN / 8,
    "18 - 3/4": Fraction("18.75") * IN,
    "5/4": 5 * IN / 4,
    "2 ft": 24 * IN,
    "2 feet": 24 * IN,
    "2'": 24 * IN,
    "2' 6": 30 * IN,
    "2'6\"": 30 * IN,
    "2' - 6 1/2": Fraction("30.5") * IN,
    "2′ 6″": 30 * IN,
    "-2' 6": -30 * IN,
    "1 m": Fraction(1000),
    "2.5 cm": Fraction(25),
    "12mm": Fraction(12),
    "3 1/7 in": Fraction(22, 7) * IN,
}

REFUSED = {
    "": "empty",
    "   ": "empty",
    "2,5 mm": "comma",
    "1,234.5": "comma",
    "6 in 3": "'in 3' cannot follow",
    "3/0": "zero",
    "1 3/0": "zero",
    "nan": "not a length",
    "inf": "not a length",
    "1e5": "'e5' cannot follow",
    "0x10": "cannot follow",
    "three": "not a length",
    "3 yd": "'yd' cannot follow",
    "1 2": "cannot follow",
    "18 3 4": "cannot follow",
    "1/2/3": "cannot follow",
    "1.5/2": "cannot follow",
    "1 5/4": "below 1",
    "1 1/1": "below 1",
    "1.5 3/4": "cannot follow",
    "2' 6 mm": "mixes feet",
    "2' --6": "sign in the middle",
    "2' 3' 4": "cannot follow",
    "--3": "not a length",
    "3-": "cannot follow",
    "1_000": "cannot follow",
    "٣": "not a length",
    "３": "not a length",
    "²": "not a length",
    "⅐": "not a length",
    "3 mm in": "cannot follow",
    "in": "not a length",
    '"': "not a length",
    "'": "not a length",
    "1\n2": "cannot follow",
    "9" * 61: "too long",
    "=1+1": "not a length",
    "\u202e3": "not a length",
}


@pytest.mark.parametrize(("text", "mm"), READ.items(), ids=READ)
def test_lengths_as_the_shop_writes_them(text, mm):
    """A text with fractions, units, feet and typographic marks is the exact length it says."""
    assert parse_length(text, "in") == mm


@pytest.mark.parametrize(("text", "why"), REFUSED.items(), ids=ascii)
def test_what_is_no_length_is_refused_with_reason_and_remedy(text, why):
    """A text that could be misread is refused, never guessed at; the message repeats it printable."""
    with pytest.raises(LengthError) as caught:
        parse_length(text, "in")
    assert why in caught.value.reason
    assert caught.value.remedy
    assert str(caught.value).isprintable()
    assert len(str(caught.value)) < 300


@pytest.mark.parametrize(
    "value",
    [True, False, Decimal("NaN"), Decimal("Infinity"), Decimal("1e31"), Decimal("1e-99999"), None, 1.5],
)
def test_values_that_are_no_lengths_are_refused(value):
    """Neither truth values nor what is not finite, nor floats, pass for a length."""
    with pytest.raises(LengthError):
        parse_length(value, "mm")


def test_bare_numbers_are_in_the_unit_of_the_job():
    """A number or a text without a unit is in the job's unit; a text's own unit wins."""
    assert parse_length(3, "in") == parse_length("3", "in") == 3 * IN
    assert parse_length(3, "mm") == parse_length("3", "mm") == 3
    assert parse_length("3 in", "mm") == 3 * IN
    assert parse_length(Decimal("0.1"), "mm") == Fraction(1, 10)
    assert parse_length("1/8", "mm") == Fraction(1, 8)


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-1000, max_value=1000, places=6))
def test_decimals_are_exact(value):
    """A decimal goes in as itself, as a number and as a text."""
    assert parse_length(value, "mm") == Fraction(value)
    assert parse_length(f"{value:f} mm", "in") == Fraction(value)


@given(st.integers(0, 1000), st.integers(0, 127), st.sampled_from([2, 4, 8, 16, 32, 64, 128]))
def test_fractions_round_trip(whole, top, bottom):
    """What we print as a fraction reads back as the same length, in any of its spellings."""
    value = whole + Fraction(top % bottom, bottom)
    text = fraction_text(value)
    for spelling in (text, f"{text} in", f'{text}"', text.replace(" ", "-", 1)):
        assert parse_length(spelling, "in") == value * IN
    if bottom <= 64:
        assert length_text(value * IN, "in") == text


@given(st.text(max_size=70))
@example("1' " + "9" * 57)
@example("1/" + "9" * 55)
def test_any_text_is_a_length_or_refused(text):
    """No text raises anything but LengthError."""
    with suppress(LengthError):
        assert isinstance(parse_length(text, "in"), Fraction)


@given(st.fractions(min_value=0, max_value=100_000))
def test_the_grid_rounds_parts_up_and_sheets_down(mm):
    """Up is never below, down never above, and they differ by one step at most."""
    up, down = grid_up(mm), grid_down(mm)
    assert grid_mm(down) <= mm <= grid_mm(up)
    assert up - down == (0 if (mm * GRID_PER_MM).denominator == 1 else 1)


def test_the_grid_holds_the_fractions_of_an_inch_exactly():
    """1/64 in is 15875 steps, .001 in 1016, .001 mm 40: the contract's own figures."""
    assert grid_up(IN / 64) == grid_down(IN / 64) == 15875
    assert grid_up(IN / 1000) == grid_down(IN / 1000) == 1016
    assert grid_up(Fraction(1, 1000)) == grid_down(Fraction(1, 1000)) == 40


def test_lengths_are_printed_as_the_shop_reads_them():
    """Inches as fractions where they are some, else as decimals without a leading nought; mm as decimals."""
    assert length_text(IN / 64, "in") == "1/64"
    assert length_text(Fraction("2.9972"), "in") == ".118"
    assert length_text(-IN / 2, "in") == "-1/2"
    assert length_text(Fraction("-2.9972"), "in") == "-.118"
    assert length_text(0, "in") == "0"
    assert length_text(Fraction("152.4"), "mm") == "152.4"
    assert length_text(1.23456, "mm") == "1.235"
    assert with_unit(IN, "in") == "1 in"
    assert with_unit(12, "mm") == "12 mm"


@given(st.fractions(min_value=-100_000, max_value=100_000), st.integers(0, 9))
def test_decimal_text_is_the_nearest_decimal(value, places):
    """Decimal text is within half a unit of its last place and has no trailing nought."""
    text = decimal_text(value, places)
    assert abs(Fraction(text) - value) <= Fraction(1, 2 * 10**places)
    assert text != "-0"
    assert "." not in text or not text.endswith(("0", "."))


@given(
    st.fractions(min_value=Fraction(1, 10), max_value=100_000, max_denominator=40_000),
    st.sampled_from(["in", "mm"]),
)
@example(Fraction("1612.9"), "in")
@example(Fraction("304.8") - Fraction(1, 1000), "in")
@example(Fraction("999.5"), "mm")
def test_a_length_off_a_roll_is_never_too_short(mm, unit):
    """Asked for, it is rounded up, and as a bound down, by less than 1/16 in or 1 mm; it reads back."""
    step = IN / 16 if unit == "in" else 1
    assert 0 <= parse_length(run_text(mm, unit), unit) - mm < step
    assert 0 <= mm - parse_length(run_text(mm, unit, up=False), unit) < step


def test_a_control_sign_after_a_comma_is_not_offered_back():
    """What a terminal would obey is in no remedy."""
    with pytest.raises(LengthError) as caught:
        parse_length("2,\x1b[31m5", "mm")
    assert "\x1b" not in caught.value.remedy
