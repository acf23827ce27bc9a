"""A sheet's saw cuts as a tree, in grid steps: which piece is cut where, and what each cut gives."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple


class Piece(NamedTuple):
    """A rectangle of sheet in grid steps: left, bottom, right, top."""

    left: int
    bottom: int
    right: int
    top: int

    @property
    def area(self) -> int:
        """Area in square grid steps."""
        return (self.right - self.left) * (self.top - self.bottom)

    def halves(self, axis: int, at: int, kerf: int) -> tuple[Piece | None, Piece | None]:
        """Return what a cut across ``axis`` (0: x, 1: y) leaves: the lower or left piece, and the other.

        The strip from ``at`` to ``at + kerf`` is lost; it may hang over either edge.
        """
        low, high = self[axis], self[axis + 2]
        first = self._limited(axis, low, at) if at > low else None
        second = self._limited(axis, at + kerf, high) if at + kerf < high else None
        return first, second

    def _limited(self, axis: int, low: int, high: int) -> Piece:
        if axis == 0:
            return Piece(low, self.bottom, high, self.top)
        return Piece(self.left, low, self.right, high)


@dataclass(frozen=True, slots=True)
class SawCut:
    """One cut: the cut and side its piece comes from (None: the sheet), the piece, axis and place.

    ``parent`` is an index into the plan's cuts, ``side`` 0 for the left or lower piece of that cut.
    """

    parent: int | None
    side: int
    piece: Piece
    axis: int
    at: int
    trim: bool


@dataclass(frozen=True, slots=True)
class SawPlan:
    """The cuts of a sheet, each after the cut that its piece comes from, and the pieces left without part."""

    cuts: tuple[SawCut, ...]
    rests: tuple[Piece, ...]

    def largest_rest(self, least: int) -> int:
        """Return the area of the largest rest that is at least ``least`` both ways, 0 without one."""
        return max(
            (r.area for r in self.rests if min(r.right - r.left, r.top - r.bottom) >= least), default=0
        )
