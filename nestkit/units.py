"""Lengths: reading them as the shop writes them, and printing them again.

Inside nestkit a length is millimetres. As read it is an exact :class:`~fractions.Fraction`; the
layout runs on integers of 1/40 micrometre (1/64 in = 15875), so that no sum is ever rounded.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from nestkit.errors import LengthError

Unit = Literal["in", "mm"]

MM_PER_INCH = Fraction(254, 10)
GRID_PER_MM = 40_000
"""Grid steps in a millimetre: one step is 1/40 micrometre."""

SMALLEST = Fraction(1, 10)
LARGEST = Fraction(100_000)
"""Sizes run from 0.1 mm to 100 m; beyond is a mistake."""

_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip
_MARKS = str.maketrans(
    {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'", "⁄": "/", "−": "-", "–": "-"}
)
# Digits are spelled out: \d also takes the digits of other scripts, which a shop cannot check by eye.
_NUMBER = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_FRACTION = r"[0-9]+\s*/\s*[0-9]+"
_AMOUNT = re.compile(
    rf"(?P<sign>[-+]?)\s*(?:(?P<whole>[0-9]+)(?:\s*-\s*|\s+)(?P<part>{_FRACTION})"
    rf"|(?P<fraction>{_FRACTION})|(?P<number>{_NUMBER}))"
)
_FEET = re.compile(
    r"(?P<sign>[-+]?)\s*(?P<feet>[0-9]+)\s*(?:'|ft\b|feet\b|foot\b)\s*-?\s*(?P<rest>.*)", re.DOTALL
)
_UNITS = {
    '"': MM_PER_INCH, "in": MM_PER_INCH, "in.": MM_PER_INCH, "inch": MM_PER_INCH, "inches": MM_PER_INCH,
    "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000),
}  # fmt: skip


def parse_length(value: str | int | Decimal, unit: Unit) -> Fraction:
    """Return the length in millimetres that a job file means by ``value``.

    A bare number is in ``unit``; a text may carry fractions and its own unit.

    >>> parse_length("18-3/4 in", "mm")
    Fraction(1905, 4)
    >>> parse_length("1' 6-1/2\\"", "in") == Fraction("469.9")
    True

    Raises :class:`~nestkit.errors.LengthError` with the reason and a remedy.
    """
    if isinstance(value, bool):
        raise LengthError("a length is wanted, not true or false")
    if isinstance(value, int):
        return value * _factor(unit)
    if isinstance(value, Decimal):
        if not value.is_finite():
            raise LengthError(f"{value} is not a length")
        if abs(value.adjusted()) > 30 and value:
            raise LengthError(f"{value:.3E} is not a size of workshop work", "sizes run from 0.1 mm to 100 m")
        return Fraction(value) * _factor(unit)
    if not isinstance(value, str):
        raise LengthError("a length is a number or a text")
    return _parse_text(value, unit)


def _factor(unit: Unit) -> Fraction:
    return MM_PER_INCH if unit == "in" else Fraction(1)


@lru_cache(maxsize=4096)
def _parse_text(text: str, unit: Unit) -> Fraction:
    if len(text) > 60:
        raise LengthError("the text is too long for a length")
    clean = text
    if not text.isascii():
        clean = clean.translate(_MARKS)
        for mark, plain in _VULGAR.items():
            clean = clean.replace(mark, f" {plain} ")
    clean = clean.replace("''", '"').strip()
    if not clean:
        raise LengthError("an empty text is not a length")
    if "," in clean:
        alone = clean.count(",") == 1 and "." not in clean and clean.isprintable()
        point = (
            f' as a point, "{clean.replace(",", ".")}"' if alone else " as a point and leave other commas out"
        )
        raise LengthError(f"{text!r} has a comma", f"write the decimal point{point}")
    feet = _FEET.fullmatch(clean)
    if feet:
        rest = feet["rest"].strip()
        inches = _amount_and_unit(rest, text, "in", {MM_PER_INCH}) if rest else Fraction(0)
        if inches < 0:
            raise LengthError(f"{text!r} has a sign in the middle")
        total = int(feet["feet"]) * 12 * MM_PER_INCH + inches
        return -total if feet["sign"] == "-" else total
    return _amount_and_unit(clean, text, unit, None)


def _amount_and_unit(clean: str, text: str, unit: Unit, only: set[Fraction] | None) -> Fraction:
    found = _AMOUNT.match(clean)
    if not found:
        raise LengthError(f"{text!r} is not a length")
    tail = clean[found.end() :].strip().lower()
    if tail and tail not in _UNITS:
        raise LengthError(
            f"{text!r} is not a length: {tail!r} cannot follow the number",
            'a unit is in, mm, cm, m, " or ft',
        )
    factor = _UNITS[tail] if tail else _factor(unit)
    if only is not None and factor not in only:
        raise LengthError(f"{text!r} mixes feet with another unit than inches")
    amount = _amount(found, text)
    return amount * factor


def _amount(found: re.Match[str], text: str) -> Fraction:
    if found["number"]:
        amount = Fraction(found["number"])
    else:
        top, bottom = (found["part"] or found["fraction"]).split("/")
        if int(bottom) == 0:
            raise LengthError(f"{text!r} divides by zero")
        part = Fraction(int(top), int(bottom))
        if found["whole"] and part >= 1:
            raise LengthError(f"{text!r}: after a whole number the fraction must be below 1")
        amount = part + int(found["whole"] or 0)
    return -amount if found["sign"] == "-" else amount


def grid_up(mm: Fraction) -> int:
    """Return the length in grid steps, rounded up: for parts, kerf, gap and margin."""
    return -((-mm.numerator * GRID_PER_MM) // mm.denominator)


def grid_down(mm: Fraction) -> int:
    """Return the length in grid steps, rounded down: for sheets."""
    return (mm.numerator * GRID_PER_MM) // mm.denominator


def grid_mm(steps: int) -> Fraction:
    """Return grid steps as exact millimetres; six decimals always suffice."""
    return Fraction(steps, GRID_PER_MM)


def decimal_text(value: Fraction | float, places: int = 6) -> str:
    """Return ``value`` as plain decimal text with at most ``places`` decimals and no trailing zeros.

    >>> decimal_text(Fraction(5, 2)), decimal_text(12.0), decimal_text(-0.0000001)
    ('2.5', '12', '0')
    """
    text = f"{Decimal(round(Fraction(value) * 10**places)).scaleb(-places):f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def inches_text(mm: float) -> str:
    """Return a diameter in inches to three places, as drill tables print it.

    >>> inches_text(5.6134), inches_text(30.0)
    ('.221', '1.181')
    """
    text = f"{mm / float(MM_PER_INCH):.3f}"
    return text.removeprefix("0") if text.startswith("0.") else text


def rest_text(mm: Fraction, unit: Unit) -> str:
    """Return a side of an offcut as it is worth writing down, rounded down to 1/16 in or 1 mm.

    >>> rest_text(Fraction("374.9"), "in"), rest_text(Fraction("1722.225"), "mm")
    ('14 3/4', '1722')
    """
    step = MM_PER_INCH / 16 if unit == "in" else Fraction(1)
    return length_text(mm // step * step, unit)


def run_text(mm: Fraction, unit: Unit, *, up: bool = True) -> str:
    """Return a length off a roll as it is asked for, rounded up, or else down, to 1/16 in or 1 mm.

    >>> run_text(Fraction("1612.9"), "in"), run_text(Fraction("304.8"), "in"), run_text(Fraction(127), "in")
    ('5 ft 3 1/2 in', '1 ft', '5 in')
    >>> run_text(Fraction("1612.9"), "mm"), run_text(Fraction(640), "mm")
    ('1.613 m', '640 mm')
    """
    steps = mm if unit == "mm" else mm * 16 / MM_PER_INCH
    whole = -(-steps // 1) if up else steps // 1
    if unit == "mm":
        return f"{decimal_text(Fraction(whole, 1000), 3)} m" if whole >= 1000 else f"{whole} mm"
    feet, inches = divmod(Fraction(whole, 16), 12)
    said = [f"{feet} ft"] if feet else []
    if inches or not feet:
        said.append(f"{fraction_text(inches)} in")
    return " ".join(said)


def length_text(mm: Fraction | float, unit: Unit, *, denominator: int = 64, places: int = 3) -> str:
    """Return a length as the shop reads it, without its unit: ``14 3/4``, ``.118``, ``152.4``.

    In inches a length within 0.0002 in of a fraction with ``denominator`` or a power of two below
    it is printed as that fraction, anything else as a decimal without a leading zero.

    >>> length_text(Fraction("374.65"), "in"), length_text(2.9972, "in"), length_text(2.9972, "mm")
    ('14 3/4', '.118', '2.997')
    """
    if unit == "mm":
        return decimal_text(mm, places)
    inches = Fraction(mm) / MM_PER_INCH
    near = Fraction(round(inches * denominator), denominator)
    if abs(near - inches) <= Fraction(2, 10_000):
        return fraction_text(near)
    text = decimal_text(inches, places)
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text


def fraction_text(value: Fraction) -> str:
    """Return a number as whole and fraction: ``14 3/4``, ``15/16``, ``-1/2``, ``3``."""
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    if rest == 0:
        return f"{sign}{whole}"
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def sides_text(width: Fraction | float, height: Fraction | float, unit: Unit) -> str:
    """Return both sides of a box with their unit: ``14 1/2 x 9 3/4 in``.

    >>> sides_text(Fraction(1200), Fraction("0.8"), "mm")
    '1200 x 0.8 mm'
    """
    return f"{length_text(width, unit)} x {with_unit(height, unit)}"


def with_unit(mm: Fraction | float, unit: Unit) -> str:
    """Return a length with its unit: ``14 3/4 in``, ``152.4 mm``."""
    return f"{length_text(mm, unit)} {unit}"
