"""What is left of a sheet and worth keeping."""

from __future__ import annotations

from nestkit.layout.rects.room import without
from nestkit.layout.sawing import Piece
from nestkit.trade.rules import rule
from nestkit.units import grid_up


def least_side() -> int:
    """Return the side, in grid steps, that a rest must have both ways to be worth keeping."""
    small = rule("R120")
    return grid_up(small.mm(small.typical))


def worth_keeping(rests: tuple[Piece, ...]) -> list[Piece]:
    """Return the rests of saw cuts that are worth keeping, the largest first."""
    keep = least_side()
    kept = [r for r in rests if min(r.right - r.left, r.top - r.bottom) >= keep]
    return sorted(kept, key=lambda r: (-r.area, r))


def free_rests(sheet: Piece, parts: list[Piece], gap: int) -> list[Piece]:
    """Return disjoint rectangles at least the gap away from every part, the largest first.

    The largest empty rectangle is taken, then the largest of what is left, and so on.
    """
    keep = least_side()
    room: list[tuple[int, int, int, int]] = [sheet]
    for p in parts:
        room = without(room, (p.left - gap, p.bottom - gap, p.right + gap, p.top + gap), keep, keep)
    found = []
    while room:
        room = [r for r in room if min(r[2] - r[0], r[3] - r[1]) >= keep]
        best = max((Piece(*r) for r in room), key=lambda r: (r.area, r), default=None)
        if best is None:
            break
        found.append(best)
        room = without(room, best, keep, keep)
    return found
