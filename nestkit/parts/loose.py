"""Which parts are so small that they may come loose while they are cut out."""

from __future__ import annotations

from nestkit.geometry.outline import Outline
from nestkit.trade.rules import rule

SQUARE_INCH = 6.4516
"""Square centimetres in a square inch."""


def is_small(outline: Outline) -> bool:
    """Say whether a part's outline encloses less than rule R131 has."""
    return abs(outline.area) / 100 < float(rule("R131").typical or 0) - 1e-9


def small_said(outline: Outline) -> str:
    """Return the area of an outline in both units: ``18.7 cm2 (2.9 square inches)``."""
    area = abs(outline.area) / 100
    return f"{area:.1f} cm2 ({area / SQUARE_INCH:.1f} square inches)"
