"""Holes that lie near one another, found without comparing all with all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nestkit.parts.holes import Hole


def close_pairs(holes: Sequence[Hole], web: float) -> Iterator[tuple[Hole, Hole]]:
    """Yield the pairs of holes with at most ``web`` mm between their edges along x; lower number first."""
    if len(holes) < 2:
        return
    widest = max(hole.dia for hole in holes)
    order = sorted(holes, key=lambda hole: hole.at.x)
    for i, a in enumerate(order):
        limit = a.at.x + (a.dia + widest) / 2 + web
        for j in range(i + 1, len(order)):
            b = order[j]
            if b.at.x > limit:
                break
            if abs(b.at.y - a.at.y) <= (a.dia + b.dia) / 2 + web:
                yield (a, b) if a.number < b.number else (b, a)
