"""A kind of sheet: what can be bought, or is here."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.parts.panel import Grain
from nestkit.stock.keep_clear import KeepClear


@dataclass(frozen=True, slots=True)
class Sheet:
    """A kind of sheet, or of goods off a roll, in exact millimetres; x along ``width``, origin lower left.

    ``thickness`` is as measured, ``sold_as`` what the shop calls it, ``price`` for one in the
    job's currency, ``cut`` the name of a way of cutting (empty: the usual one).

    Of a roll y runs along the length: ``height`` is the longest piece that may be cut off, or the length
    of a piece that was; ``price`` is for ``priced_by`` millimetres of it. For a sheet that is None.
    ``keep_clear`` are regions on which nothing may lie.
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
    priced_by: Fraction | None = None
    keep_clear: tuple[KeepClear, ...] = ()

    @property
    def roll(self) -> bool:
        """Say whether it comes off a roll."""
        return self.priced_by is not None

    @property
    def to_be_had(self) -> bool:
        """Say whether there is any: here, or to be bought."""
        return self.buy or self.on_hand > 0

    def clear_on(self, number: int) -> tuple[KeepClear, ...]:
        """Return the regions that are kept clear on the sheet of this number."""
        return tuple(region for region in self.keep_clear if region.on in (None, number))

    def cut_off(self, length: Fraction) -> Sheet:
        """Return a piece of this length off the roll."""
        return replace(self, height=length)

    @property
    def full_price(self) -> Fraction | None:
        """What a sheet costs, or the piece off a roll at its length; None without a price."""
        if self.price is None or self.priced_by is None:
            return self.price
        return self.price * self.height / self.priced_by

    @property
    def area_m2(self) -> Fraction:
        """Full area in square metres."""
        return self.width * self.height / 1_000_000
