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
        self, on_event: Callable[[Progress], None], group: int, bounds: Bounds, *, by_cost: bool
    ) -> None:
        """Tell of the search on a group; ``by_cost``: its stocks do not all cost the same."""
        self._on_event, self._group, self._by_cost = on_event, group, by_cost
        self._bounds = bounds
        self._round = 0

    def __call__(self, score: Score) -> bool:
        """Tell of a round; never stop."""
        self._round += 1
        self._on_event(self.event(score))
        return False

    def know(self, bounds: Bounds) -> None:
        """Tell of these bounds from now on."""
        self._bounds = bounds

    def preparing(self, score: Score) -> None:
        """Tell that the fast search is being compiled."""
        self._on_event(replace(self.event(score), preparing=True))

    def plain_alone(self, score: Score) -> None:
        """Tell that the fast search cannot be had here."""
        self._on_event(replace(self.event(score), plain_alone=True))

    def one_by_one(self, score: Score) -> None:
        """Tell that true shapes are laid without a search, which cannot be had here."""
        self._on_event(replace(self.event(score), one_by_one=True))

    def event(self, score: Score) -> Progress:
        """Return what is known of the search, with this as the best so far."""
        left, cost, sheets = score
        bounds, decides = self._bounds, self._bounds.cost if self._by_cost else self._bounds.sheets
        return Progress(
            self._group,
            sheets,
            cost,
            left,
            bounds.sheets.value if bounds.sheets else Fraction(0),
            bounds.cost.value if bounds.cost else Fraction(0),
            decides.why if decides else "not all parts can be placed",
            self._round,
            by_cost=self._by_cost,
        )


def reached(bounds: Bounds) -> list[Stop]:
    """Return the rule that ends a search once its bounds are met; none where they are not known."""
    if bounds.sheets is None or bounds.cost is None:
        return []
    return [Reached(bounds.cost.value, max(int(bounds.sheets.value), bounds.fewest))]
