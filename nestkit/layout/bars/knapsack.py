"""What one stick can be worth: a bounded knapsack over whole steps, exact in whole numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

CELLS = 120_000
"""Most steps of a room that are looked at one by one; longer ones are rounded."""
FEW, SHORT = 200, 2000
"""Fillings worth keeping that are listed at most, and rooms whose steps are looked at sooner than these."""


@dataclass(frozen=True, slots=True)
class Filled:
    """What a stick gives: its worth, how many of each piece, and a worth that no stick can pass."""

    worth: int
    copies: tuple[int, ...]
    most: int


def filled(takes: Sequence[int], copies: Sequence[int], values: Sequence[int], room: int) -> Filled:
    """Return the most that pieces in a room can be worth, each at most so often.

    In a room of more than CELLS steps pieces are rounded up, so that they fit in truth; ``most`` then counts
    them rounded down, and may be more than can be had.
    """
    unit = -(-room // CELLS) or 1
    worth, found = _table([-(-t // unit) for t in takes], copies, values, room // unit)
    if unit == 1:
        return Filled(worth, found, worth)
    most, _ = _table([t // unit for t in takes], copies, values, -(-room // unit))
    return Filled(worth, found, most)


_Filling = tuple[int, int, tuple[int, int, Any] | None]
"""What is taken of the room, what that is worth, and the piece, its number and the filling before it."""


def listed_fillings(
    takes: Sequence[int], copies: Sequence[int], values: Sequence[int], room: int
) -> Filled | None:
    """Return the best from a list of all fillings that no other betters: exact in any room.

    None where they are many, or the room is so short that its steps are quicker to look at.
    """
    if room <= SHORT:
        return None
    fillings: list[_Filling] = [(0, 0, None)]
    for piece, (size, most, value) in enumerate(zip(takes, copies, values, strict=True)):
        if value <= 0:
            continue
        grown = list(fillings)
        for filling in fillings:
            taken, worth, _ = filling
            for times in range(1, min(most, (room - taken) // size) + 1):
                grown.append((taken + times * size, worth + times * value, (piece, times, filling)))
        grown.sort(key=lambda f: (f[0], -f[1]))
        fillings = []
        for filling in grown:
            if not fillings or filling[1] > fillings[-1][1]:
                fillings.append(filling)
        if len(fillings) > FEW:
            return None
    found = [0] * len(takes)
    best = last = fillings[-1]
    while last[2] is not None:
        piece, times, last = last[2]
        found[piece] = times
    return Filled(best[1], tuple(found), best[1])


def _table(
    takes: Sequence[int], copies: Sequence[int], values: Sequence[int], room: int
) -> tuple[int, tuple[int, ...]]:
    """Return the best worth and its copies, by a table over all rooms up to this one."""
    import numpy

    best = numpy.zeros(room + 1, numpy.int64)
    found = [0] * len(takes)
    free = 0
    taken: list[tuple[int, int, Any]] = []
    for piece, (takes_one, most, value) in enumerate(zip(takes, copies, values, strict=True)):
        if not takes_one:
            # Rounded down to nothing, all its copies fit anywhere.
            found[piece] = most
            free += most * value
            continue
        left = min(most, room // takes_one)
        times = 1
        # Copies in bundles of 1, 2, 4 and so on: any number up to all is a sum of some.
        while left > 0 and value > 0:
            times = min(times, left)
            size = times * takes_one
            with_it = best[:-size] + times * value
            better = with_it > best[size:]
            numpy.maximum(best[size:], with_it, out=best[size:])
            taken.append((piece, times, better))
            left -= times
            times *= 2
    at = room
    for piece, times, better in reversed(taken):
        size = times * takes[piece]
        if at >= size and better[at - size]:
            found[piece] += times
            at -= size
    return int(best[room]) + free, tuple(found)
