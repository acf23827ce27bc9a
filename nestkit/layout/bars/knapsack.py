"""What one stick can be worth: a bounded knapsack over whole steps, exact in whole numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

CELLS = 120_000
"""Most steps of a room that are looked at one by one; longer ones are rounded."""
FEW, SHORT = 200, 2000
"""Fillings worth keeping that are listed at most, and rooms whose steps are looked at sooner than these."""


OTHERS = 12
"""Other good loads that one search gives at most."""


@dataclass(frozen=True, slots=True)
class Filled:
    """What a stick gives: its worth, how many of each piece, and a worth that no stick can pass.

    ``others`` are more such loads, each the best of the first pieces alone, worth more than was asked for.
    """

    worth: int
    copies: tuple[int, ...]
    most: int
    others: tuple[tuple[int, ...], ...] = ()


def filled(
    takes: Sequence[int], copies: Sequence[int], values: Sequence[int], room: int, above: int | None = None
) -> Filled:
    """Return the most that pieces in a room can be worth, each at most so often; others worth above so much.

    In a room of more than CELLS steps pieces are rounded up, so that they fit in truth; ``most`` then counts
    them rounded down, and may be more than can be had.
    """
    unit = -(-room // CELLS) or 1
    table = _Table([-(-t // unit) for t in takes], copies, values, room // unit)
    others = () if above is None else tuple(map(table.best, _spread(table.bests, above)))
    best = table.best(len(takes))
    if unit == 1:
        return Filled(table.bests[-1], best, table.bests[-1], others)
    most = _Table([t // unit for t in takes], copies, values, -(-room // unit))
    return Filled(table.bests[-1], best, most.bests[-1], others)


def _spread(bests: Sequence[int], above: int) -> list[int]:
    """Return after which numbers of first pieces the best is another and worth above so much, some of them.

    ``bests`` is the best of none, of the first piece, of the first two and so on; that of all is left out.
    """
    ends = [i for i in range(1, len(bests)) if above < bests[i] and bests[i - 1] < bests[i] < bests[-1]]
    # From the best down, evenly: neighbours are much alike.
    return ends[:: -max(1, -(-len(ends) // OTHERS))]


_Filling = tuple[int, int, tuple[int, int, Any] | None]
"""What is taken of the room, what that is worth, and the piece, its number and the filling before it."""


def listed_fillings(
    takes: Sequence[int], copies: Sequence[int], values: Sequence[int], room: int, above: int | None = None
) -> Filled | None:
    """Return the best from a list of all fillings that no other betters, and others: exact in any room.

    None where they are many, or the room is so short that its steps are quicker to look at.
    """
    if room <= SHORT:
        return None
    fillings: list[_Filling] = [(0, 0, None)]
    lasts = [fillings[0]]
    for piece, (size, most, value) in enumerate(zip(takes, copies, values, strict=True)):
        if value > 0:
            grown = list(fillings)
            for filling in fillings:
                taken, worth, _ = filling
                for times in range(1, min(most, (room - taken) // size) + 1):
                    grown.append((taken + times * size, worth + times * value, (piece, times, filling)))
            fillings = _bettered(grown)
            if len(fillings) > FEW:
                return None
        lasts.append(fillings[-1])
    best = lasts[-1]
    ends = [] if above is None else _spread([last[1] for last in lasts], above)
    others = tuple(_copies_of(lasts[end], len(takes)) for end in ends)
    return Filled(best[1], _copies_of(best, len(takes)), best[1], others)


def _bettered(fillings: list[_Filling]) -> list[_Filling]:
    """Return the fillings that no other betters, by rising room and worth."""
    kept: list[_Filling] = []
    for filling in sorted(fillings, key=lambda f: (f[0], -f[1])):
        if not kept or filling[1] > kept[-1][1]:
            kept.append(filling)
    return kept


def _copies_of(filling: _Filling, pieces: int) -> tuple[int, ...]:
    found = [0] * pieces
    while filling[2] is not None:
        piece, times, filling = filling[2]
        found[piece] = times
    return tuple(found)


class _Table:
    """The most that pieces are worth in all rooms up to one, and which are taken for it.

    ``bests[n]`` is the most that the first ``n`` pieces are worth in the whole room.
    """

    def __init__(self, takes: Sequence[int], copies: Sequence[int], values: Sequence[int], room: int) -> None:
        import numpy

        self.takes, self.room = takes, room
        worth = numpy.zeros(room + 1, numpy.int64)
        self.bests, free = [0], 0
        self._free = [most if not size else 0 for size, most in zip(takes, copies, strict=True)]
        self._taken: list[list[tuple[int, Any]]] = []
        for size, most, value in zip(takes, copies, values, strict=True):
            bundles: list[tuple[int, Any]] = []
            if not size:
                # Rounded down to nothing, all its copies fit anywhere.
                free += most * value
            left = min(most, room // size) if size and value > 0 else 0
            times = 1
            # Copies in bundles of 1, 2, 4 and so on: any number up to all is a sum of some.
            while left > 0:
                times = min(times, left)
                with_it = worth[: -times * size] + times * value
                rest = worth[times * size :]
                bundles.append((times, with_it > rest))
                numpy.maximum(rest, with_it, out=rest)
                left -= times
                times *= 2
            self._taken.append(bundles)
            self.bests.append(int(worth[room]) + free)

    def best(self, pieces: int) -> tuple[int, ...]:
        """Return how many of each piece the best load has of the first so many pieces."""
        found = [0] * len(self.takes)
        at = self.room
        for piece in range(pieces - 1, -1, -1):
            found[piece] = self._free[piece]
            for times, better in reversed(self._taken[piece]):
                size = times * self.takes[piece]
                if at >= size and better[at - size]:
                    found[piece] += times
                    at -= size
        return tuple(found)
