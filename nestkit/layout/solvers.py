"""The solvers of rectangle layouts, in the order in which they are asked.

A new one is one file with a class like these, and a line here; the tests pick it up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.packed import Packed
from nestkit.layout.rects.refill import Refill
from nestkit.layout.rects.several import Several
from nestkit.layout.rects.strips import Strips
from nestkit.layout.stop import Stop


class Solver(Protocol):
    """Proposes layouts; ``verify`` decides."""

    name: str

    def supports(self, problem: Problem) -> bool:
        """Say whether the solver can lay this problem."""

    def __call__(self, problem: Problem, *, seed: int, stop: Stop, start: Layout | None = None) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``start`` if that is better."""


@dataclass(frozen=True, slots=True)
class Turn:
    """A solver's turn in the run: most of its rounds, and whether it is a search to be given the effort."""

    solver: Solver
    rounds: int
    search: bool = False


SOLVERS: tuple[Turn, ...] = (
    Turn(Strips(), 12),
    Turn(Greedy(), 72),
    Turn(Packed(), 3),
    Turn(Refill(), 0, search=True),
    Turn(Several(), 0, search=True),
)
