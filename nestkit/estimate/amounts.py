"""How amounts are said: money, weights, lengths of cut, times, yields."""

from __future__ import annotations

from fractions import Fraction

from nestkit.text import money_text
from nestkit.units import Unit, decimal_text

LB_PER_KG = 2.2046226
FEET_PER_M = 3.2808399


def cost_text(value: Fraction, cost_in: str) -> str:
    """Return a cost in the job's currency, or in square metres or metres where there are no prices."""
    return money_text(value) if cost_in == "price" else f"{decimal_text(value, 2)} {cost_in}"


def least_cost_text(value: Fraction, cost_in: str) -> str:
    """Return a cost that nothing can beat, down to a hundredth, so that what is said stays true.

    >>> least_cost_text(Fraction("9.3632"), "price"), least_cost_text(Fraction("0.9832"), "m2")
    ('9.36', '0.98 m2')
    """
    return cost_text(Fraction(value * 100 // 1, 100), cost_in)


def weight_text(kg: float, unit: Unit) -> str:
    """Return a weight to a tenth, in inch jobs in pounds too."""
    return f"{kg:.1f} kg" if unit == "mm" else f"{kg * LB_PER_KG:.1f} lb ({kg:.1f} kg)"


def way_text(mm: Fraction | float, unit: Unit) -> str:
    """Return a long way of cutting: metres, in inch jobs feet."""
    metres = float(mm) / 1000
    return f"{metres:.1f} m" if unit == "mm" else f"{metres * FEET_PER_M:.1f} ft"


def time_text(minutes: Fraction) -> str:
    """Return a time: minutes up to an hour and a half, then hours to a tenth.

    >>> time_text(Fraction(75)), time_text(Fraction(190))
    ('75 min', '3.2 h')
    """
    return f"{decimal_text(minutes, 0)} min" if minutes <= 90 else f"{decimal_text(minutes / 60, 1)} h"


def yield_text(share: float) -> str:
    """Return a yield in whole percent: ``61 %``; over 100, why that is no mistake.

    >>> yield_text(0.613), yield_text(1.04)
    ('61 %', '104 % (parts lie in openings of others)')
    """
    why = " (parts lie in openings of others)" if share > 1 else ""
    return f"{share * 100:.0f} %{why}"
