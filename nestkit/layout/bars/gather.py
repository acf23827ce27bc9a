"""Of equal lists the one with one long rest: parts of one stick moved into the rests of the others."""

from __future__ import annotations

from dataclasses import replace

from nestkit.layout.bars.knapsack import filled, listed_fillings
from nestkit.layout.bars.problem import CutList, LengthProblem, Load, Measure, measure_of

MOST_STICKS = 60
"""With more sticks than this one rest is little of the whole, and equal sticks are worth more to the saw."""


def gathered(problem: LengthProblem, found: CutList) -> CutList:
    """Return a list with the same sticks, and as much as can be of their rests in one piece.

    The stick with the longest rest gives parts away: each other stick is filled as well as it can be from
    what it has and what that one has. A stick that already leaves nothing more to win stays as it is.
    """
    if not 2 <= len(found.loads) <= MOST_STICKS:
        return found
    measure = measure_of(problem)
    rests = [measure.rooms[load.stick] - _takes(measure, load) for load in found.loads]
    giver = max(range(len(rests)), key=lambda i: (rests[i], -i))
    loads = list(found.loads)
    for i in sorted(range(len(loads)), key=lambda i: (rests[i], i)):
        if i != giver and rests[i]:
            loads[i], loads[giver] = _filled_from(measure, loads[i], loads[giver])
    return replace(found, loads=tuple(load for load in loads if load.pieces))


def _filled_from(measure: Measure, load: Load, giver: Load) -> tuple[Load, Load]:
    """Return a stick filled from itself and the giver, and what that leaves the giver; both as they are
    where nothing is won."""
    have: dict[int, int] = dict(load.pieces)
    for piece, times in giver.pieces:
        have[piece] = have.get(piece, 0) + times
    pieces = sorted(have)
    takes = [measure.takes[p] for p in pieces]
    room, copies = measure.rooms[load.stick], [have[p] for p in pieces]
    best = listed_fillings(takes, copies, takes, room) or filled(takes, copies, takes, room)
    if best.worth <= _takes(measure, load):
        return load, giver
    taken = dict(zip(pieces, best.copies, strict=True))
    more = tuple((p, n) for p, n in taken.items() if n)
    less = tuple((p, have[p] - taken[p]) for p in pieces if have[p] > taken[p])
    return Load(load.stick, more), Load(giver.stick, less)


def _takes(measure: Measure, load: Load) -> int:
    return sum(measure.takes[p] * n for p, n in load.pieces)
