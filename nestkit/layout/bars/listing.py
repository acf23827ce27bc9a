"""All loads of a stick that are worth so much at least: exact, in whole numbers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

Pieces = tuple[tuple[int, int], ...]
"""How many of which pieces, by rising index."""

MOST_CELLS = 4 * 10**6
"""Of the table of what is still to be had: so many rooms times pieces; longer rooms are rounded."""


def all_loads(
    takes: Sequence[int], copies: Sequence[int], values: Sequence[int], room: int, least: int, most: int
) -> list[Pieces] | None:
    """Return every load worth ``least`` or more with at most so many copies of each piece.

    None where more than ``most`` loads, or beginnings of loads, would have to be looked at.
    """
    import numpy

    # Rooms and pieces are rounded down alike, so the table never says less than what can be had.
    unit = -(-room * (len(takes) + 1) // MOST_CELLS) or 1
    tables = _still_to_be_had([t // unit for t in takes], copies, values, room // unit)
    left, worth = numpy.array([room], numpy.int64), numpy.zeros(1, numpy.int64)
    grown: list[tuple[Any, Any]] = []
    for piece, (size, number, value) in enumerate(zip(takes, copies, values, strict=True)):
        # Each beginning goes on with none, one and so on, as long as what follows can still make it worth it.
        chosen: list[tuple[Any, int]] = []
        for times in range(min(number, room // size) + 1):
            after = left - times * size
            fits = numpy.flatnonzero(after >= 0)
            can = worth[fits] + times * value + tables[piece + 1][after[fits] // unit]
            chosen.append((fits[can >= least], times))
            if sum(len(some) for some, _ in chosen) > most:
                return None
            if not len(fits):
                break
        before = numpy.concatenate([some for some, _ in chosen])
        added = numpy.concatenate([numpy.full(len(some), times) for some, times in chosen])
        left, worth = left[before] - added * size, worth[before] + added * value
        grown.append((before, added))
    return [pieces for at in range(len(left)) if (pieces := _followed(grown, at))]


def _still_to_be_had(
    takes: Sequence[int], copies: Sequence[int], values: Sequence[int], room: int
) -> list[Any]:
    """Return, for each number of first pieces left out, the most that the others are worth by room."""
    import numpy

    table = numpy.zeros(room + 1, numpy.int64)
    tables = [table]
    for size, number, value in zip(reversed(takes), reversed(copies), reversed(values), strict=True):
        if not size:
            table = table + number * value
        else:
            table = table.copy()
            left, times = min(number, room // size), 1
            while left > 0:
                times = min(times, left)
                rest = table[times * size :]
                numpy.maximum(rest, table[: -times * size] + times * value, out=rest)
                left -= times
                times *= 2
        tables.append(table)
    return tables[::-1]


def _followed(grown: list[tuple[Any, Any]], at: int) -> Pieces:
    """Return what was taken on the way to a load, from its last choice back to the first."""
    found: list[tuple[int, int]] = []
    for piece in range(len(grown) - 1, -1, -1):
        before, added = grown[piece]
        if added[at]:
            found.append((piece, int(added[at])))
        at = int(before[at])
    return tuple(reversed(found))
