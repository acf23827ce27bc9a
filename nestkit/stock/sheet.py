"""A kind of sheet: what can be bought, or is here."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nestkit.parts.panel import Grain


@dataclass(frozen=True, slots=True)
class Sheet:
    """A kind of sheet, in exact millimetres; x along ``width``, origin lower left.

    ``thickness`` is as measured, ``sold_as`` what the shop calls it, ``price`` for one in the
    job's currency, ``cut`` the name of a way of cutting (empty: the usual one).
    """

    name: str
    place: str
    material: str
    thickness: Fraction
    width: Fraction
    height: Fraction
    sold_as: Fraction | None = None
    price: Fraction | None = None
    on_hand: int = 0
    buy: bool = True
    grain: Grain = "none"
    cut: str = ""
    line: int | None = None

    @property
    def area_m2(self) -> Fraction:
        """Full area in square metres."""
        return self.width * self.height / 1_000_000
