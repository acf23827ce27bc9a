"""A piece longer than a bench: where it can be cut across into lengths that one person can handle."""

from __future__ import annotations

from fractions import Fraction

from nestkit.geometry.edge_to_edge import split
from nestkit.layout.rects.room import Rectangle
from nestkit.layout.rects.sawable import FIRST_AXES, stages
from nestkit.layout.sawing import FENCE_OPENS, Piece
from nestkit.units import grid_down

LONG = Fraction(2000)
"""What is longer, in mm, than a bench: it may be cut into lengths first (common practice, no source)."""
BENCH = Fraction(1250)
"""How long, in mm, such lengths are at most (common practice, no source)."""


def is_long(piece: Piece) -> bool:
    """Say whether a piece is longer than a bench."""
    return max(piece.right - piece.left, piece.top - piece.bottom) > grid_down(LONG)


def ways_to_begin(sheet: Piece, grown: list[Rectangle], first: str, depth: float) -> list[tuple[int, int]]:
    """Return ways to begin with lengths of a long piece: the first direction in these, and their most.

    Empty for a piece that is not long, and where no cut can cross it or the stages do not allow it.
    """
    across = long_axis(sheet)
    if not is_long(sheet) or across not in FIRST_AXES[first] or len(split(grown, across)) < 2:
        return []
    found = []
    for most in (grid_down(min(FENCE_OPENS.values())), grid_down(BENCH)):
        runs = runs_of(split(grown, across), across, most)
        for axis in (0, 1):
            need = max(stages(run, axis) for run in runs)
            if len(runs) > 1 and need + (axis != across) <= depth:
                found.append((axis, most))
    return found


def long_axis(piece: Piece) -> int:
    """Return the axis along which a piece is longer."""
    return 1 if piece.top - piece.bottom >= piece.right - piece.left else 0


def runs_of(strips: list[list[Rectangle]], axis: int, most: int) -> list[list[Rectangle]]:
    """Join neighbouring strips to as few runs of ``most`` as do, these as even as they can be."""
    ends = [(min(r[axis] for r in strip), max(r[axis + 2] for r in strip)) for strip in strips]

    def joined(limit: int) -> list[list[int]]:
        runs: list[list[int]] = []
        for i, (_, end) in enumerate(ends):
            if runs and end - ends[runs[-1][0]][0] <= limit:
                runs[-1].append(i)
            else:
                runs.append([i])
        return runs

    count = len(joined(most))
    low, high = 0, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if len(joined(middle)) == count else (middle, high)
    return [[r for i in run for r in strips[i]] for run in joined(high)]
