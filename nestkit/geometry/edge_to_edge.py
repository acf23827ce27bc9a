"""Cuts from edge to edge: which boxes they set apart, and in how many directions in a row."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

Box = tuple[int, int, int, int]
"""Left, bottom, right, top."""


def split(parts: Sequence[Box], axis: int) -> list[list[Box]]:
    """Return boxes in the groups that straight cuts across ``axis`` (0: x, 1: y) set apart, in order."""
    ordered = sorted(parts, key=lambda r: r[axis])
    groups = [[ordered[0]]]
    reach = ordered[0][axis + 2]
    for r in ordered[1:]:
        if r[axis] >= reach:
            groups.append([r])
        else:
            groups[-1].append(r)
        if r[axis + 2] > reach:
            reach = r[axis + 2]
    return groups


def stages_beside(parts: Sequence[Box], clear: Sequence[Box], axis: int, first: Sequence[int]) -> float:
    """Return the cutting directions in a row that set parts apart, and free them of what is kept clear.

    Boxes are grown by the kerf on their right and upper side. The first cuts run across ``axis``; only cuts
    with parts on both sides count, and the first of these must run across one of ``first``. Infinite where
    no such cuts do it.
    """
    kept = set(clear)
    most = 0
    waiting: list[tuple[list[Box], int, int | None, int]] = [([*parts, *clear], axis, None, 0)]
    while waiting:
        group, across, last, level = waiting.pop()
        held = [b for b in group if b not in kept]
        if not held or len(group) == 1:
            continue
        groups = split(group, across)
        if len(groups) == 1:
            return inf
        parting = sum(any(b not in kept for b in g) for g in groups) > 1
        if parting:
            if last is None and across not in first:
                return inf
            level += last != across
            last = across
        most = max(most, level)
        waiting += [(g, 1 - across, last, level) for g in groups]
    return most
