"""From a length problem to its best cut list, and what is proved of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.layout.bars.check import check_cut_list
from nestkit.layout.bars.problem import CutList, LengthProblem, Piece, score_of
from nestkit.layout.bars.scarce import as_many_as_fit, with_borrowed, without_borrowed
from nestkit.layout.bars.search import Heard, Search


@dataclass(frozen=True, slots=True)
class LengthsSolved:
    """The best cut list, the least that any could cost, whether that is proved, whether the user ended it."""

    found: CutList
    least_cost: Fraction
    why: str
    stopped: bool

    def proved(self, problem: LengthProblem) -> bool:
        """Say whether nothing can cost less."""
        return not any(self.found.left_over) and self.found.cost(problem) <= self.least_cost


def solve_lengths(
    problem: LengthProblem,
    *,
    seed: int,
    rounds: int,
    stop: Callable[[], bool] = lambda: False,
    heard: Heard | None = None,
) -> LengthsSolved:
    """Return the best cut list found in so many rounds of dives; the same for the same seed and rounds."""
    search = Search(problem, seed, heard)
    stopped = search.run(rounds, stop)
    if not stopped and search.wanting:
        search.best = _with_few_sticks(problem, search, seed, rounds, stop)
        stopped = search.run(rounds, stop)
    check_cut_list(problem, search.best)
    return LengthsSolved(search.best, search.least(), search.why, stopped)


def _with_few_sticks(
    problem: LengthProblem, search: Search, seed: int, rounds: int, stop: Callable[[], bool]
) -> CutList:
    """Return a list that leaves fewer parts over than quick lists do, if one is found."""

    def solver(some: LengthProblem) -> CutList:
        lent, borrowed = with_borrowed(some)
        found = solve_lengths(lent, seed=seed, rounds=rounds, stop=stop).found
        return without_borrowed(some, found, borrowed)

    pieces = tuple(Piece(p.length, n) for p, n in zip(problem.pieces, search.wanted, strict=True))
    fitting = replace(problem, pieces=pieces)
    found = solver(fitting)
    if any(found.left_over):
        found = min(found, as_many_as_fit(fitting, solver), key=lambda f: score_of(fitting, f))
    return min(search.best, search.with_missing(found), key=lambda f: score_of(problem, f))
