"""What a search tells while it runs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.text import counted, money_text
from nestkit.units import Unit, decimal_text, run_text


@dataclass(frozen=True, slots=True)
class Progress:
    """The state of one group's search: its index in the job, best so far, bounds, rounds done.

    ``cost`` is in the group's own unit, ``cost_in``; ``left_over`` counts parts without a place. ``why`` is
    the reason of the bound that decides, in a sentence: that on the cost where ``by_cost``, since not all
    sheets cost the same, else that on the sheets. Lengths are of a piece off a roll, in mm.
    """

    group: int
    sheets: int
    cost: Fraction
    left_over: int
    least_sheets: Fraction
    least_cost: Fraction
    why: str
    round: int
    preparing: bool = False
    """The fast search is being compiled, which is done once on a computer."""
    plain_alone: bool = False
    """The fast search cannot be compiled here, and the slow one works for it."""
    one_by_one: bool = False
    """The search among true shapes cannot be compiled here, and none works for it."""
    by_cost: bool = False
    """Sheets or rolls differ in what they cost, so that the cost decides which layout is better."""
    roll: bool = False
    """The stock is a roll: one piece of it is cut off, and is to be short."""
    length: Fraction = Fraction(0)
    least_length: Fraction = Fraction(0)
    cost_in: Literal["price", "m2", "m"] = "price"
    unit: Unit = "mm"
    sticks: bool = False
    """What is counted are sticks; the group is one of the job's bar groups, after its groups of sheets."""

    @property
    def notice(self) -> bool:
        """Say whether it tells of the search itself, and is of interest also where progress is not."""
        return self.preparing or self.plain_alone or self.one_by_one

    def sentence(self) -> str:
        """Return the state in a sentence: ``3 sheets so far; no layout needs fewer than 2``."""
        if self.plain_alone:
            return "the fast search cannot be had on this Python; the slow one goes on longer instead"
        if self.one_by_one:
            return "true shapes are laid one by one: the search among them cannot be had on this Python"
        if self.preparing:
            return "preparing the fast search, once on this computer: about half a minute"
        amount = (
            self._off_the_roll() if self.roll else counted(self.sheets, "stick" if self.sticks else "sheet")
        )
        if self.left_over:
            waiting = "1 part has" if self.left_over == 1 else f"{self.left_over} parts have"
            return f"{amount} so far, {waiting} no place yet"
        if self.by_cost:
            least = self._cost_text(Fraction(self.least_cost * 100 // 1, 100))
            verb = "costs" if self.cost_in == "price" else "takes"
            return f"{self._paid()} so far, {amount}; no layout {verb} less than {least}"
        if self.roll:
            price = f", {self._paid()}" if self.cost_in == "price" and self.cost else ""
            least = run_text(self.least_length, self.unit, up=False)
            return f"{amount} so far{price}; no layout needs less than {least}"
        return f"{amount} so far; no layout needs fewer than {decimal_text(self.least_sheets)}"

    def _off_the_roll(self) -> str:
        return f"{run_text(self.length, self.unit)} off the roll"

    def _paid(self) -> str:
        """Return what the best layout costs, up to the next hundredth."""
        return self._cost_text(Fraction(-(-self.cost * 100 // 1), 100))

    def _cost_text(self, value: Fraction) -> str:
        return money_text(value) if self.cost_in == "price" else f"{decimal_text(value, 2)} {self.cost_in}"
