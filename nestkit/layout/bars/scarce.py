"""Where sticks are few: a list that places all, or else as many parts as are found to fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from nestkit.layout.bars.problem import CutList, LengthProblem, Piece, Stick, measure_of, score_of
from nestkit.layout.bars.quick import quick

Solver = Callable[[LengthProblem], CutList]


def with_borrowed(problem: LengthProblem) -> tuple[LengthProblem, int]:
    """Return a problem with as many long sticks as wanted, each dearer than all others, and their index."""
    longest = max((s.usable for s in problem.sticks), default=0)
    dearest = max((s.cost for s in problem.sticks), default=Fraction(0))
    cost = (dearest or Fraction(1)) * (sum(p.quantity for p in problem.pieces) + 1)
    # Where nothing costs anything, what is here must still be cheaper than what is not.
    sticks = problem.sticks if dearest else tuple(replace(s, cost=Fraction(1)) for s in problem.sticks)
    return replace(problem, sticks=(*sticks, Stick(longest, 0, None, cost))), len(sticks)


def without_borrowed(problem: LengthProblem, found: CutList, borrowed: int) -> CutList:
    """Return a list without the borrowed sticks: what they gave is left over."""
    left = list(found.left_over)
    for load in found.loads:
        if load.stick == borrowed:
            for piece, times in load.pieces:
                left[piece] += times
    return CutList(tuple(load for load in found.loads if load.stick != borrowed), tuple(left))


def as_many_as_fit(problem: LengthProblem, solver: Solver) -> CutList:
    """Return a list that places as many parts as ``solver`` finds room for, all of them if it can.

    If any number of parts has room, so has that number of the shortest ones: a longer one makes room for a
    shorter one. So the longest are left out, as few as will do. ``problem.sticks`` are those there are.
    """
    every = [index for index, p in enumerate(problem.pieces) for _ in range(p.quantity)]
    every.sort(key=lambda index: problem.pieces[index].length)
    least, most = 0, len(every)
    best = CutList((), tuple(p.quantity for p in problem.pieces))
    while least < most:
        some = (least + most + 1) // 2
        found = _placed(problem, every[:some], solver)
        if found is None:
            most = some - 1
        else:
            least, best = some, min(best, found, key=lambda f: score_of(problem, f))
    return best


def _placed(problem: LengthProblem, some: list[int], solver: Solver) -> CutList | None:
    """Return a list of some pieces alone, by their indices; None if one of them found no place."""
    wanted = [0] * len(problem.pieces)
    for index in some:
        wanted[index] += 1
    left = tuple(p.quantity - n for p, n in zip(problem.pieces, wanted, strict=True))
    found = quick(problem, measure_of(problem), wanted)
    if any(found.left_over):
        fewer = replace(
            problem, pieces=tuple(Piece(p.length, n) for p, n in zip(problem.pieces, wanted, strict=True))
        )
        found = solver(fewer)
    return None if any(found.left_over) else CutList(found.loads, left)
