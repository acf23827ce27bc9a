"""A kind of bar: a stock length of any section that can be bought, or is here."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nestkit.geometry.section import Section
from nestkit.units import grid_down, grid_up


@dataclass(frozen=True, slots=True)
class Bar:
    """A stock length in exact millimetres; a whole roll is one too.

    ``trim`` is lost at each end. A rest is worth keeping from the length ``keep`` on; None leaves that to
    the rules table. ``price`` is for one in the job's currency, ``cut`` the name of a way of cutting (empty:
    the usual one).
    """

    name: str
    place: str
    material: str
    section: Section
    length: Fraction
    price: Fraction | None = None
    on_hand: int = 0
    buy: bool = True
    trim: Fraction = Fraction(0)
    keep: Fraction | None = None
    cut: str = ""
    line: int | None = None

    @property
    def roll(self) -> bool:
        """Say whether it is goods off a roll, cut with scissors."""
        return self.section.kind == "roll"

    @property
    def to_be_had(self) -> bool:
        """Say whether there is any: here, or to be bought."""
        return self.buy or self.on_hand > 0

    def holds(self, length: Fraction) -> bool:
        """Say whether it is long enough for a length between its trims, rounded as the layout rounds."""
        return grid_up(length) <= grid_down(self.length) - 2 * grid_up(self.trim)

    @property
    def usable(self) -> Fraction:
        """The length between the trims, never below 0."""
        return max(Fraction(0), self.length - 2 * self.trim)
