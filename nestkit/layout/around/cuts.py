"""Saw cuts that free the parts of a sheet and leave what is kept clear in pieces of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import inf
from typing import Literal

from nestkit.errors import ToolFault
from nestkit.geometry.edge_to_edge import Box, split, stages_beside
from nestkit.layout.bench_order import in_bench_order
from nestkit.layout.cuts import EARLY, Carver, Habit, Node
from nestkit.layout.sawing import Piece, SawPlan, remainders
from nestkit.stock.kept_whole import AXES


@dataclass(frozen=True, slots=True)
class _Way:
    """A way of choosing cuts: the axis they begin across, and what is trimmed early inside pieces of parts.

    ``spare``: the room between parts and what is kept clear goes to the parts' piece, else to the other.
    """

    axis: int
    early: Literal["no", "all", "strip"]
    spare: bool


def plan_around(
    sheet: Piece,
    parts: Sequence[Piece],
    *,
    clear: Sequence[Box],
    kerf: int,
    first: str,
    prefer: str,
    least_rest: int,
    depth: float,
) -> SawPlan:
    """Return the cuts of a sheet; the pieces with what is kept clear are none of the plan's rests.

    Of the ways tried the best by ``prefer`` is taken, as in :func:`~nestkit.layout.cuts.saw_plan`. Raises
    :class:`~nestkit.errors.ToolFault` where no cuts do it within ``depth`` stages.
    """
    grown, kept = ([(a, b, c + kerf, d + kerf) for a, b, c, d in rows] for rows in (parts, clear))
    need = {axis: stages_beside(grown, kept, axis, AXES[first]) for axis in (0, 1)}
    axes = [axis for axis, stages in need.items() if stages <= depth and stages < inf]
    if not axes:
        raise ToolFault("the parts of a sheet cannot be sawn free of what is kept clear")
    plans = [
        _Around(kerf, _Way(axis, early, spare)).around(sheet, parts, clear)
        for axis, early, spare in product(axes, EARLY, (True, False))
    ]

    def rank(plan: SawPlan) -> tuple[int, int]:
        work, rest = len(plan.cuts), -plan.largest_rest(least_rest)
        return (work, rest) if prefer == "few cuts" else (rest, work + remainders(plan.cuts, kerf))

    return in_bench_order(min(plans, key=rank), kerf)


class _Around(Carver):
    """Builds one plan in one way."""

    def __init__(self, kerf: int, way: _Way) -> None:
        super().__init__(kerf, kerf, Habit(way.axis, (), way.early))
        self.way = way

    def around(self, sheet: Piece, parts: Sequence[Piece], clear: Sequence[Box]) -> SawPlan:
        """Return the cuts of a sheet."""
        whole = [Piece(*box) for box in clear]
        waiting: list[tuple[Node, list[Piece], list[Piece], int]] = [
            (Node(sheet, None, 0), list(parts), whole, self.way.axis)
        ]
        while waiting:
            node, own, kept, axis = waiting.pop()
            if not own:
                continue
            if not kept:
                self.carve([(node, own, axis)], None)
                continue
            waiting += reversed(self._parted(node, own, kept, axis))
        return SawPlan(tuple(self.cuts), tuple(self.rests))

    def _parted(
        self, node: Node, parts: list[Piece], clear: list[Piece], axis: int
    ) -> list[tuple[Node, list[Piece], list[Piece], int]]:
        """Cut a piece wherever straight cuts across an axis run between what lies in it."""
        kerf = self.kerf
        net = {(p[0], p[1], p[2] + kerf, p[3] + kerf): p for p in (*parts, *clear)}
        groups = [[net[box] for box in group] for group in split(list(net), axis)]
        if len(groups) == 1:
            raise ToolFault("no cut across a piece sets apart what lies in it")
        is_part = set(parts)
        found = []
        for index, group in enumerate(groups[:-1]):
            beyond = [p for later in groups[index + 1 :] for p in later]
            low, high = any(p in is_part for p in group), any(p in is_part for p in beyond)
            ends, starts = max(p[axis + 2] for p in group), min(p[axis] for p in beyond)
            # Tight to the parts of one side, or the room between goes to them.
            tight_low = True if low == high else low is not self.way.spare
            at = ends if tight_low else starts - kerf
            first, second = node.piece.halves(axis, at, kerf)
            if first is None or second is None:
                raise ToolFault("a cut beside what is kept clear would leave nothing on one of its sides")
            number = self.note(node, axis, at, trim=not (low and high), keep=int(high and not low))
            found.append((Node(first, number, 0), *_sorted(group, is_part), 1 - axis))
            node = Node(second, number, 1)
        return [*found, (node, *_sorted(groups[-1], is_part), 1 - axis)]


def _sorted(group: list[Piece], parts: set[Piece]) -> tuple[list[Piece], list[Piece]]:
    """Return the parts of a group, and what is kept clear in it."""
    return [p for p in group if p in parts], [p for p in group if p not in parts]
