"""Numbers as layout.json has them."""

from __future__ import annotations

from fractions import Fraction

from nestkit.units import grid_mm, grid_up


def up(mm: Fraction) -> Fraction:
    """Kerf, gap and margin as the layout sees them: up to its grid."""
    return grid_mm(grid_up(mm))


def number(value: Fraction | float, places: int = 6) -> int | float:
    """Return a number with at most so many decimals; a whole one as an int.

    >>> number(Fraction(1219200, 1000)), number(Fraction(48)), number(-0.0000001)
    (1219.2, 48, 0)
    """
    rounded = round(Fraction(value), places)
    return int(rounded) if rounded.denominator == 1 else float(rounded)
