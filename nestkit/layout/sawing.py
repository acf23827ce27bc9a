"""A sheet's saw cuts as a tree, in grid steps: which piece is cut where, how it is held, what it gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple, TypeVar

from nestkit.trade.rules import rule
from nestkit.units import MM_PER_INCH, Unit, grid_down, grid_up

Held = Literal["fence", "stop", "line"]
"""How a cut gets its place: a fence, the stop of a sled, or a line to saw along with a straight edge."""

FENCE_OPENS: dict[Unit, Fraction] = {"in": 24 * MM_PER_INCH, "mm": Fraction(600)}
"""How far, in mm, the fence of a shop's table saw opens, by the unit of its scale (common practice, no
source). What is wider is measured, and sawn along a straight edge."""

L = TypeVar("L", int, Fraction)
"""A length, in grid steps or in mm."""


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
    ``keep`` is the side with the parts where the cut is a trim, else 0.
    """

    parent: int | None
    side: int
    piece: Piece
    axis: int
    at: int
    trim: bool
    keep: int


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


def shortest_at_fence() -> Fraction:
    """Return the length in mm below which nothing runs along a fence (R092)."""
    shortest = rule("R092")
    return shortest.mm(shortest.typical)


def measured_side(sizes: tuple[L, L], keep: int, opens: L, *, trim: bool, sized: bool) -> int:
    """Return which of the two pieces of a cut is measured, 0 for the left or lower one.

    It is the one to keep. Where a fence does not reach and parts lie on both sides it may be the other,
    but only of a piece whose own width was ``sized`` by a cut: a sheet is not sold to the nearest 1/64.
    """
    other = 1 - keep
    return other if sized and not trim and sizes[other] <= opens < sizes[keep] else keep


def held_by(setting: L, along: L, across: L, opens: L, shortest: L) -> Held:
    """Return how a cut gets its place: ``along`` is the piece's length along the cut, ``across`` its width.

    Only a piece at least as long along the fence as it is wide runs at one, and none that is short
    (R092, R094): others go on a sled with a stop. What is too wide for fence or sled is sawn along a
    straight edge.
    """
    turns = along < across or along < shortest
    if setting > opens or (turns and across > opens):
        return "line"
    return "stop" if turns else "fence"


Setting = tuple[str, int] | None
"""What a saw is set to: fence or stop, and how far it stands from the blade; None: neither of them."""


def settings_of(cuts: Sequence[SawCut], kerf: int) -> list[Setting]:
    """Return what the saw is set to for each cut, None for those along a straight edge."""
    return [setting for setting, _ in as_made(cuts, kerf)]


def as_made(cuts: Sequence[SawCut], kerf: int) -> list[tuple[Setting, int]]:
    """Return for each cut what the saw is set to, and the side of the piece that is measured."""
    opens, shortest = grid_down(max(FENCE_OPENS.values())), grid_up(shortest_at_fence())
    sized: dict[tuple[int | None, int], frozenset[int]] = {(None, 0): frozenset()}
    found: list[tuple[Setting, int]] = []
    for index, cut in enumerate(cuts):
        low, high = cut.piece[cut.axis], cut.piece[cut.axis + 2]
        sizes = max(0, cut.at - low), max(0, high - cut.at - kerf)
        before = sized[cut.parent, cut.side]
        side = measured_side(sizes, cut.keep, opens, trim=cut.trim, sized=cut.axis in before)
        along = cut.piece[3 - cut.axis] - cut.piece[1 - cut.axis]
        held = held_by(sizes[side], along, high - low, opens, shortest)
        found.append((None, cut.keep) if held == "line" else ((held, sizes[side]), side))
        sized[index, 0] = sized[index, 1] = before
        # Of a wide piece that loses its left or lower edge, what comes off may be measured.
        if held != "line" or side == 0:
            sized[index, side] = before | {cut.axis}
    return found


def moves(settings: Sequence[Setting]) -> int:
    """Return how often a saw is set for cuts in their order; a straight edge leaves its fence alone."""
    on_saw = [s for s in settings if s is not None]
    return sum(1 for i, s in enumerate(on_saw) if i == 0 or s != on_saw[i - 1])


def remainders(cuts: Sequence[SawCut], kerf: int) -> int:
    """Return how many finished pieces have a side that no cut measured: it is what others left over.

    A side that is the sheet's own counts as measured.
    """
    parents = {(c.parent, c.side) for c in cuts}
    left_over: dict[tuple[int | None, int], frozenset[int]] = {(None, 0): frozenset()}
    count = 0
    for index, (cut, (_, side)) in enumerate(zip(cuts, as_made(cuts, kerf), strict=True)):
        before = left_over[cut.parent, cut.side]
        for half in (0, 1):
            here = before - {cut.axis} if half == side else before | {cut.axis}
            left_over[index, half] = here
            holds_part = not cut.trim or half == cut.keep
            count += holds_part and (index, half) not in parents and bool(here)
    return count
