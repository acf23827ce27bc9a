"""What a search tells while it runs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Progress:
    """The state of one group's search: its index in the job, best so far, bounds, rounds done.

    ``cost`` is in the group's own unit; ``left_over`` counts parts without a place. ``why`` is the
    reason of the bound on the sheets, in a sentence.
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
    roll: bool = False
    """The stock is a roll: one piece of it is cut off, and is to be short."""

    @property
    def notice(self) -> bool:
        """Say whether it tells of the search itself, and is of interest also where progress is not."""
        return self.preparing or self.plain_alone

    def sentence(self) -> str:
        """Return the state in a sentence: ``3 sheets so far; no layout needs fewer than 2``."""
        if self.plain_alone:
            return "the fast search cannot be had on this Python; the slow one goes on longer instead"
        if self.preparing:
            return "preparing the fast search, once on this computer: about half a minute"
        if self.roll:
            return self._of_a_roll()
        noun = "sheet" if self.sheets == 1 else "sheets"
        start = f"{self.sheets} {noun} so far"
        if self.left_over:
            return f"{start}, {self._waiting()}"
        return f"{start}; no layout needs fewer than {self.least_sheets}"

    def _waiting(self) -> str:
        parts = "1 part has" if self.left_over == 1 else f"{self.left_over} parts have"
        return f"{parts} no place yet"

    def _of_a_roll(self) -> str:
        start = "one piece off the roll"
        if self.left_over:
            return f"{start}, {self._waiting()}"
        if not self.least_cost:
            return start
        over = 100 * float(self.cost / self.least_cost - 1)
        return f"{start}, at most {over:.1f} % more than any layout needs"
