"""Dual-feasible functions: measures of a length that no set fitting side by side can exceed.

A function f of length is dual-feasible for a room W if lengths that fit together into W have
f-values that sum to at most f(W). The product of one for the width and one for the height is then a
measure of area that no sheet can exceed (Fekete and Schepers, "New classes of fast lower bounds for
bin packing problems", Mathematical Programming 91, 2001, from memory; also Carlier, Clautiaux and
Moukrim 2007). Whole numbers: each function returns its value and takes W for granted as the unit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

Measure = Callable[[int, int], tuple[int, int]]
"""Length and room to a share: numerator and denominator."""


def plain(length: int, room: int) -> tuple[int, int]:
    """Return the length as a share of the room."""
    return length, room


def whole_parts(k: int) -> Measure:
    """Return the measure that counts how many of k + 1 equal steps of the room a length passes."""

    def measure(length: int, room: int) -> tuple[int, int]:
        steps, rest = divmod((k + 1) * length, room)
        return (k * length, k * room) if rest == 0 else (steps * room, k * room)

    return measure


def beside(least: int) -> Measure:
    """Return the measure that takes no part under ``least`` and gives a whole room to what blocks it.

    A length that leaves less than ``least`` beside it counts as the whole room.
    """

    def measure(length: int, room: int) -> tuple[int, int]:
        if 2 * least > room:
            return length, room
        if length > room - least:
            return room, room
        return (length, room) if length >= least else (0, room)

    return measure


def counted(unit: int) -> Measure:
    """Return the measure that counts how many lengths of ``unit`` a length keeps out."""

    def measure(length: int, room: int) -> tuple[int, int]:
        if 2 * unit > room:
            return length, room
        most = room // unit
        if 2 * length > room:
            return 2 * (most - (room - length) // unit), 2 * most
        if 2 * length == room:
            return most, 2 * most
        return 2 * (length // unit), 2 * most

    return measure


def measures(lengths: Iterable[int], room: int, most: int = 24) -> list[Measure]:
    """Return measures worth trying for parts with these lengths in a room; the plain one leads."""
    marks = sorted(
        {n for n in lengths if 0 < 2 * n <= room} | {room - n + 1 for n in lengths if room < 2 * n}
    )
    marks = [m for m in marks if 0 < 2 * m <= room]
    if len(marks) > most:
        marks = [marks[i * (len(marks) - 1) // (most - 1)] for i in range(most)]
    found: list[Measure] = [plain]
    found += [whole_parts(k) for k in range(1, 7)]
    for mark in marks:
        found += [beside(mark), counted(mark)]
    return found
