"""What a solved problem is, and how a search tells where it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from nestkit.layout.bounds import Bounds
from nestkit.layout.events import Progress
from nestkit.layout.problem import Layout
from nestkit.layout.stop import Reached, Score, Stop


@dataclass(frozen=True, slots=True)
class Solved:
    """The best layout of a problem, its bounds, whether the user ended the search, what it ran on."""

    layout: Layout
    bounds: Bounds
    stopped: bool
    engine: Literal["plain", "compiled"] = "plain"


class Telling:
    """A stop rule that never stops, but tells of each round."""

    def __init__(
        self, on_event: Callable[[Progress], None], group: int, bounds: Bounds, *, roll: bool = False
    ) -> None:
        self._on_event, self._group = on_event, group
        self._least_sheets = bounds.sheets.value if bounds.sheets else Fraction(0)
        self._least_cost = bounds.cost.value if bounds.cost else Fraction(0)
        self._why = bounds.sheets.why if bounds.sheets else "not all parts can be placed"
        self._round = 0
        self._roll = roll

    def __call__(self, score: Score) -> bool:
        """Tell of a round; never stop."""
        self._round += 1
        self._on_event(self._event(score))
        return False

    def preparing(self, score: Score) -> None:
        """Tell that the fast search is being compiled."""
        self._on_event(replace(self._event(score), preparing=True))

    def plain_alone(self, score: Score) -> None:
        """Tell that the fast search cannot be had here."""
        self._on_event(replace(self._event(score), plain_alone=True))

    def _event(self, score: Score) -> Progress:
        left, cost, sheets = score
        return Progress(
            self._group,
            sheets,
            cost,
            left,
            self._least_sheets,
            self._least_cost,
            self._why,
            self._round,
            roll=self._roll,
        )


def reached(bounds: Bounds) -> list[Stop]:
    """Return the rule that ends a search once its bounds are met; none where they are not known."""
    if bounds.sheets is None or bounds.cost is None:
        return []
    return [Reached(bounds.cost.value, max(int(bounds.sheets.value), bounds.fewest))]
