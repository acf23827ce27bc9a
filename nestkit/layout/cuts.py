"""From parts on a sheet to the saw cuts that free them, in an order that a person can follow."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import inf
from typing import Literal

from nestkit.errors import ToolFault
from nestkit.geometry.edge_to_edge import split
from nestkit.layout.bench_order import in_bench_order
from nestkit.layout.lengths import is_long, long_axis, runs_of, ways_to_begin
from nestkit.layout.rects.room import Rectangle
from nestkit.layout.rects.sawable import FIRST_AXES, stages
from nestkit.layout.repeats import signs_of
from nestkit.layout.sawing import Piece, SawCut, SawPlan, moves, remainders, settings_of

_LINE, _ON_LONG, _SETTING = 2, 2, 3
"""Of a long piece a cut along a straight edge counts as so many cuts more, so does one before it is cut into
lengths, and each setting."""


@dataclass(frozen=True, slots=True)
class Habit:
    """A way of choosing among cuts that free the same parts.

    ``sheet``: which rests come off the whole sheet before parts are separated, in order (0: the right
    one, 1: the upper one). ``early``: the same inside, at every piece; or of a strip alone its width,
    so that it is measured once for all its parts. ``axis``: the first direction. ``lengths``: before all
    others the piece is cut across its length, into lengths of so many grid steps at most; 0: it is not.
    """

    axis: int
    sheet: tuple[int, ...]
    early: Literal["no", "all", "strip"]
    lengths: int = 0


EARLY: tuple[Literal["no", "all", "strip"], ...] = ("no", "all", "strip")


def saw_plan(
    sheet: Piece,
    parts: list[Piece],
    *,
    kerf: int,
    gap: int,
    first: str,
    prefer: str,
    least_rest: int,
    depth: float = 0.0,
) -> SawPlan:
    """Return the cuts that leave every part as a piece of its own size.

    Of the ways with the fewest stages the best by ``prefer`` is taken: fewest cuts and settings, or largest
    rest (at least ``least_rest`` both ways). A long piece may first be cut into lengths, where up to
    ``depth`` stages allow it. Raises :class:`~nestkit.errors.ToolFault` where the parts cannot be sawn apart.
    """
    if not parts:
        return SawPlan((), (sheet,))
    grown = [(p.left, p.bottom, p.right + gap, p.top + gap) for p in parts]
    need = {axis: stages(grown, axis) for axis in FIRST_AXES[first]}
    least = min(need.values())
    if least == inf:
        raise ToolFault("the parts of a sheet cannot be sawn apart from edge to edge")
    starts = [(axis, 0) for axis, n in need.items() if n == least]
    starts += ways_to_begin(sheet, grown, first, depth)
    habits = [
        Habit(axis, trims, early, most)
        for (axis, most), trims, early in product(starts, [(), (0,), (1,), (0, 1), (1, 0)], EARLY)
    ]
    plans = list(dict.fromkeys(Carver(kerf, gap, habit).plan(sheet, parts) for habit in habits))
    few = prefer == "few cuts"
    rests = [-plan.largest_rest(least_rest) for plan in plans]
    toil = [_toil(plan, kerf) if is_long(sheet) else 0 for plan in plans]
    # A part of which a side is only what other cuts left is worth the cut that would measure it.
    ranks = [
        (len(p.cuts), more) if few else (rest, len(p.cuts) + remainders(p.cuts, kerf) + more)
        for p, rest, more in zip(plans, rests, toil, strict=True)
    ]
    alike = [in_bench_order(p, kerf) for p, rank in zip(plans, ranks, strict=True) if rank == min(ranks)]
    return min(alike, key=lambda plan: _work(plan, kerf, -plan.largest_rest(least_rest), few=few))


def _toil(plan: SawPlan, kerf: int) -> int:
    """Return what the cuts of a long piece take beyond their number, counted in cuts."""
    on_long = sum(is_long(cut.piece) for cut in plan.cuts)
    signs = signs_of(plan.cuts, kerf)
    lines = sum(setting is None for _, setting, _, _ in signs)
    return _LINE * lines + _ON_LONG * on_long + _SETTING * len(set(signs))


def _work(plan: SawPlan, kerf: int, rest: int, *, few: bool) -> tuple[int, int, int]:
    """Return what is better the smaller of plans that are else alike.

    How many parts come out unmeasured, and how often the saw or a straight edge is set; with ``few``
    the settings come first, and last the largest ``rest``, negative.
    """
    settings = settings_of(plan.cuts, kerf)
    sets, unmeasured = moves(settings) + settings.count(None), remainders(plan.cuts, kerf)
    return (sets, unmeasured, rest) if few else (unmeasured, sets, rest)


@dataclass(frozen=True, slots=True)
class Node:
    """A piece that still has parts to be freed, and the cut and side it comes from."""

    piece: Piece
    parent: int | None
    side: int


class Carver:
    """Builds one plan by one habit."""

    def __init__(self, kerf: int, gap: int, habit: Habit) -> None:
        self.kerf, self.gap, self.habit = kerf, gap, habit
        self.cuts: list[SawCut] = []
        self.rests: list[Piece] = []

    def plan(self, sheet: Piece, parts: list[Piece]) -> SawPlan:
        """Return the cuts that free the parts of a sheet."""
        node = self._trim_low(Node(sheet, None, 0), parts)
        for axis in self.habit.sheet:
            node = self._trim_high(node, parts, axis)
        whole = node
        waiting = [(node, parts, self.habit.axis)]
        if self.habit.lengths:
            waiting = self._cut_to_lengths(node, parts)
        self.carve(waiting, whole)
        return SawPlan(tuple(self.cuts), tuple(self.rests))

    def carve(self, waiting: list[tuple[Node, list[Piece], int]], whole: Node | None) -> None:
        """Free the parts of pieces, each with the axis it is cut across first; ``whole`` is the sheet."""
        while waiting:
            node, group, axis = waiting.pop()
            node = self._trim_low(node, group)
            if len(group) == 1:
                self._free(node, group[0])
                continue
            if self.habit.early == "all":
                node = self._trim_high(self._trim_high(node, group, 1 - axis), group, axis)
            elif self.habit.early == "strip" and node is not whole:
                node = self._trim_high(node, group, 1 - axis)
            waiting += self._separate(node, group, axis)

    def _cut_to_lengths(self, node: Node, group: list[Piece]) -> list[tuple[Node, list[Piece], int]]:
        """Cut a long piece into lengths, each of which is cut up by itself."""
        across = long_axis(node.piece)
        by_grown = self._grown(group)
        runs = runs_of(split(list(by_grown), across), across, self.habit.lengths)
        found = self._cut_apart(node, [[by_grown[r] for r in run] for run in runs], across)
        return [(piece, parts, self.habit.axis) for piece, parts, _ in found]

    def _grown(self, group: list[Piece]) -> dict[Rectangle, Piece]:
        return {(p.left, p.bottom, p.right + self.gap, p.top + self.gap): p for p in group}

    def _separate(self, node: Node, group: list[Piece], axis: int) -> list[tuple[Node, list[Piece], int]]:
        """Cut a group apart wherever ``axis`` allows; return the pieces with what lies in them."""
        by_grown = self._grown(group)
        return self._cut_apart(node, [[by_grown[r] for r in s] for s in split(list(by_grown), axis)], axis)

    def _cut_apart(
        self, node: Node, strips: list[list[Piece]], axis: int
    ) -> list[tuple[Node, list[Piece], int]]:
        found = []
        for strip in strips[:-1]:
            low, node = self._part_in_two(node, axis, max(p[axis + 2] for p in strip))
            found.append((low, strip, 1 - axis))
        found.append((node, strips[-1], 1 - axis))
        found.reverse()
        return found

    def _free(self, node: Node, part: Piece) -> None:
        """Trim a piece to its one part, the larger rest first."""
        right = (node.piece.right - part.right) * (node.piece.top - node.piece.bottom)
        upper = (node.piece.top - part.top) * (node.piece.right - node.piece.left)
        for axis in (0, 1) if right >= upper else (1, 0):
            node = self._trim_high(node, [part], axis)

    def _trim_low(self, node: Node, group: list[Piece]) -> Node:
        """Take off what lies left of and below all parts of a group."""
        for axis in (0, 1):
            low = min(p[axis] for p in group)
            if low > node.piece[axis]:
                node = self._trim(node, axis, low - self.kerf, keep=1)
        return node

    def _trim_high(self, node: Node, group: list[Piece], axis: int) -> Node:
        """Take off what lies right of (0) or above (1) all parts of a group."""
        high = max(p[axis + 2] for p in group)
        if high < node.piece[axis + 2]:
            node = self._trim(node, axis, high, keep=0)
        return node

    def _trim(self, node: Node, axis: int, at: int, *, keep: int) -> Node:
        halves = node.piece.halves(axis, at, self.kerf)
        kept, rest = halves[keep], halves[1 - keep]
        if kept is None:
            raise ToolFault("a trim would leave nothing of the piece that holds parts")
        if rest is not None:
            self.rests.append(rest)
        return Node(kept, self.note(node, axis, at, trim=True, keep=keep), keep)

    def _part_in_two(self, node: Node, axis: int, at: int) -> tuple[Node, Node]:
        low, high = node.piece.halves(axis, at, self.kerf)
        if low is None or high is None:
            raise ToolFault("a cut between parts would leave nothing on one of its sides")
        index = self.note(node, axis, at, trim=False)
        return Node(low, index, 0), Node(high, index, 1)

    def note(self, node: Node, axis: int, at: int, *, trim: bool, keep: int = 0) -> int:
        """Add a cut; return its number from 0."""
        self.cuts.append(SawCut(node.parent, node.side, node.piece, axis, at, trim, keep))
        return len(self.cuts) - 1
