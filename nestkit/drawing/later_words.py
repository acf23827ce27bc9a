"""Holes that are drilled later, through another part, in the words of the prints."""

from __future__ import annotations

from collections.abc import Iterable

from nestkit.job.pairs import Later, Pair, copies_drilled
from nestkit.parts.joint import Mate
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.text import number_list

PRINT = "drill_together.pdf"
"""The print that says how holes are drilled through others."""
NOT_YET = "NOT YET"
"""What stands at such a hole on a template, and in its table."""


def hand_said(mate: Mate) -> str:
    """Return a part of a joint by its name, with its hand where that is the opposite one."""
    return f"{mate.part}, OPPOSITE HAND" if mate.opposite else mate.part


def leaders_said(pairs: Iterable[Pair]) -> str:
    """Return what a hole is drilled through: ``side deck``, for some copies ``fore deck or aft deck``."""
    return " or ".join(dict.fromkeys(hand_said(pair.leader) for pair in pairs))


def by_leader(later: Later) -> dict[str, list[int]]:
    """Return the holes that are drilled later by what they are drilled through."""
    found: dict[str, list[int]] = {}
    for number, pairs in sorted(later.items()):
        found.setdefault(leaders_said(pairs), []).append(number)
    return found


def through_said(later: Later) -> str:
    """Return which holes are drilled through what: ``holes 1 to 6: drilled through side deck``."""
    return "; ".join(
        f"{holes_word(numbers)} {number_list(numbers)}: drilled through {leader}"
        for leader, numbers in by_leader(later).items()
    )


def holes_word(numbers: Iterable[int]) -> str:
    """Return ``hole`` or ``holes``.

    >>> holes_word([3]), holes_word([3, 4])
    ('hole', 'holes')
    """
    return "hole" if len(set(numbers)) == 1 else "holes"


def not_yet_said(later: Later) -> str:
    """Return a sentence for a template's order of work; empty where nothing is drilled later."""
    if not later:
        return ""
    return f"DO NOT DRILL {through_said(later)}, see {PRINT}."


def do_not_drill_said(later: Later, part: Panel | Tube, opposite: bool) -> str:
    """Return what a card says of such holes, and what becomes of copies that no joint drills."""
    holes = f"{holes_word(later)} {number_list(later)}"
    through = [
        leader if len(numbers) == len(later) else f"{number_list(numbers)} through {leader}"
        for leader, numbers in by_leader(later).items()
    ]
    how = f"drilled through {through[0]}" if len(through) == 1 else f"drilled later, {'; '.join(through)}"
    said = f"DO NOT DRILL {holes}: {how}, see {PRINT}."
    asked = part.opposite_hand if opposite else part.as_drawn
    drilled = min(copies_drilled(pairs, part.name, opposite) for pairs in later.values())
    if drilled < asked:
        said += f" That drills {drilled} of {asked}; the rest stay undrilled there."
    spares = 0 if opposite else part.spare + part.spare_if_room
    if spares:
        stays = "A spare stays" if spares == 1 else "Spares stay"
        said += f" {stays} undrilled there."
    return said
