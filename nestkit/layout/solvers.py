"""The solvers of rectangle layouts, in the order in which they are asked.

A new one is one file with a class like these, and a line here; the tests pick it up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.engine.twin import plain
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.packed import Packed
from nestkit.layout.rects.search import Search, too_slow_in_plain
from nestkit.layout.rects.strips import Strips
from nestkit.layout.stop import Rounds, Stop


class Solver(Protocol):
    """Proposes layouts; ``verify`` decides."""

    name: str

    def supports(self, problem: Problem) -> bool:
        """Say whether the solver can lay this problem."""

    def __call__(self, problem: Problem, *, seed: int, stop: Stop, start: Layout | None = None) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``start`` if that is better."""


class Moves:
    """The search in plain Python."""

    name = "moves"

    def supports(self, problem: Problem) -> bool:
        """Say whether the solver can lay this problem: always."""
        return True

    def __call__(self, problem: Problem, *, seed: int, stop: Stop, start: Layout | None = None) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``start`` if that is better."""
        best = start or Greedy()(problem, seed=seed, stop=Rounds(48))
        if too_slow_in_plain(problem, best):
            return best
        return Search(problem, plain(), seed=seed)(best, stop)


@dataclass(frozen=True, slots=True)
class Turn:
    """A solver's turn in the run, and most of its rounds; None: as many as the effort has for the search."""

    solver: Solver
    rounds: int | None


SOLVERS: tuple[Turn, ...] = (
    Turn(Strips(), 12),
    Turn(Greedy(), 72),
    Turn(Packed(), 3),
    Turn(Moves(), None),
)
