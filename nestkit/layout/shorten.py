"""The search for a shorter piece off a roll: one seed for a while, then more of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from nestkit.layout.efforts import flat_rounds
from nestkit.layout.members import best_of
from nestkit.layout.problem import Problem
from nestkit.layout.rects.engine.twin import Form
from nestkit.layout.rects.lengthwise import ORDERS, Orders, length_of, orders_compiled
from nestkit.layout.rects.space import Laid, Space, space_of

FIRST_ROUNDS = 10
"""Rounds of the first seed before others have their turn: many pieces cannot be shorter by then."""


class Shortening:
    """A search from one seed on what lies on a roll; it goes on where it was when it is asked again.

    It ends where the bound is met, or where many rounds have brought nothing.
    """

    def __init__(self, space: Space, laid: Laid, least: int, form: Form, *, seed: int) -> None:
        """Begin with a layout; no layout of the solvers' can be shorter than ``least``."""
        self.laid, self.least = laid, least
        in_place = sorted(laid, key=lambda part: (part[1][1], part[1][0]))
        self._search = Orders(space, [box for box, _ in in_place], form, seed=seed)
        self._search.start_short()
        self._flat, self._enough = 0, flat_rounds(len(laid))

    @property
    def at_its_end(self) -> bool:
        """Say whether it is of no use to go on."""
        return length_of(self.laid) <= self.least or self._flat >= self._enough

    def __call__(self, ended: Callable[[], bool], rounds: int) -> Laid:
        """Return the shortest layout found in so many rounds; ``ended`` is asked once a round."""
        for _ in range(rounds):
            if ended() or self.at_its_end:
                break
            found = self._search.shorter(length_of(self.laid))
            self._flat = self._flat + 1 if found is None else 0
            self.laid = found or self.laid
        return self.laid


@dataclass(frozen=True, slots=True)
class Seeded:
    """A search from a seed of its own: where it begins, what cannot be beaten, for how many rounds."""

    problem: Problem
    start: Laid
    least: int
    seed: int
    rounds: int

    def run(self, ended: Callable[[], bool]) -> Laid:
        """Return the shortest layout found, in this process."""
        space = space_of(self.problem)
        search = Shortening(space, self.start, self.least, orders_compiled(), seed=self.seed)
        return search(ended, self.rounds)

    def rank(self, found: Laid) -> int:
        """Return how long a layout is."""
        return length_of(found)

    def met(self, found: Laid) -> bool:
        """Say whether no layout can be shorter."""
        return length_of(found) <= self.least


def shortened(
    first: Shortening,
    others: Callable[[Laid], list[Seeded]],
    rounds: int,
    heard: Callable[[], bool],
    ended: Callable[[], bool],
) -> Laid:
    """Return the shortest layout that a search, and others that go on from what it has found by then, find.

    ``heard`` is asked once a round of the first, ``ended`` at any time; both say whether the user ended it.
    """
    laid = first(heard, min(FIRST_ROUNDS, rounds))
    rest = rounds - FIRST_ROUNDS
    if rest <= 0 or ended() or first.at_its_end:
        return laid
    return best_of(lambda: first(heard, rest), others(laid), ended, kept=ORDERS.is_kept())
