"""States that a search failed with, from which it begins again: the least overlapping first, disturbed."""

from __future__ import annotations

from typing import Any, Literal

from nestkit.layout.shapes.disturb import Disturber
from nestkit.layout.shapes.separate import Spread

KEPT, PICK = 20, 0.25
"""Failed states that are kept; how far down the list, by overlap, they are picked (a share, as sigma)."""
SWAPS, GROUPS, ROLLS = 0.4, 0.3, 0.1
"""How often which disturbance; the rest are scattered."""
SCATTERED = 0.15

Way = Literal["start", "squeeze", "swap", "group", "roll", "scatter"]


class Pool:
    """Failed states, by overlap."""

    def __init__(self, rng: Any) -> None:
        self._rng = rng
        self._kept: list[Spread] = []

    def __bool__(self) -> bool:
        return bool(self._kept)

    def add(self, spread: Spread) -> None:
        """Keep a state if it is among the best."""
        self._kept = sorted([*self._kept, spread], key=lambda s: s.overlap)[:KEPT]

    def clear(self) -> None:
        """Forget all states."""
        self._kept = []

    def pick(self) -> Spread:
        """Return a state, one of little overlap rather than another."""
        return self._kept[int(min(abs(self._rng.normal(0, PICK)), 0.999) * len(self._kept))]

    def disturb(self, disturber: Disturber, *, rolls: bool = True) -> Way:
        """Disturb the pieces one way or another; return which. ``rolls``: they lie on a strip."""
        luck = self._rng.random()
        if luck < SWAPS:
            disturber.swap()
            return "swap"
        if luck < SWAPS + GROUPS:
            disturber.swap_with_all_there()
            return "group"
        if rolls and luck < SWAPS + GROUPS + ROLLS:
            disturber.roll()
            return "roll"
        disturber.scatter(SCATTERED)
        return "scatter"
