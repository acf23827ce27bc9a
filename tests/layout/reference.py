"""The least cost of an edge-to-edge layout by trying every cut of every sheet, from the sheet down.

Unlike ``oracle.least_cost_sawn``, which joins parts to boxes, this cuts the sheet: at every sum of part sizes
that may lie before a cut (the normal patterns of Christofides and Whitlock, "An algorithm for two-dimensional
cutting problems", Operations Research 25, 1977, from memory), with every share of parts for either side.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from nestkit.layout.problem import Problem

ALONG = {"x": (1,), "y": (0,), "any": (0, 1)}
"""Across which axes the first separating cut may go, by the direction it runs along."""


def shares(parts: int) -> Iterator[int]:
    """Yield every set of some, but not all, of the parts; sets are bits."""
    one = (parts - 1) & parts
    while one:
        yield one
        one = (one - 1) & parts


class Reference:
    """One problem, and what was found out about it."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.stages = problem.stages or len(problem.boxes)
        self.room = cache(self._room)
        self.fits = cache(self._fits)

    def sizes(self, part: int) -> set[tuple[int, int]]:
        """Return the sizes, with the kerf, in which a part may lie."""
        box, gap = self.problem.boxes[part], self.problem.gap
        return {(w + gap, h + gap) for w, h in (box.size(t) for t in box.turns[0])}

    def _room(self, parts: int, axis: int, most: int) -> tuple[int, ...]:
        """Return the lengths across ``axis``, up to ``most``, that some of the parts in a row take."""
        found = {0}
        for part in range(len(self.problem.boxes)):
            if parts >> part & 1:
                found |= {n + size[axis] for n in found for size in self.sizes(part) if n + size[axis] < most}
        return tuple(sorted(found - {0}))

    def _fits(self, parts: int, width: int, height: int, axis: int, stages: int) -> bool:
        """Say whether parts can be sawn out of a piece, the first cut that parts them across ``axis``."""
        if parts & (parts - 1) == 0:
            return any(w <= width and h <= height for w, h in self.sizes(parts.bit_length() - 1))
        if stages == 0:
            return False
        size = width, height
        for at in self.room(parts, axis, size[axis]):
            for one in shares(parts):
                low = (at, height) if axis == 0 else (width, at)
                high = (width - at, height) if axis == 0 else (width, height - at)
                if self.either(one, *low, axis, stages) and self.either(parts ^ one, *high, axis, stages):
                    return True
        return False

    def either(self, parts: int, width: int, height: int, axis: int, stages: int) -> bool:
        """Say whether a piece can be sawn on across the same axis, or across the other as a new stage."""
        return self.fits(parts, width, height, axis, stages) or self.fits(
            parts, width, height, 1 - axis, stages - 1
        )

    def least_cost(self) -> int:
        """Return the least cost of all parts."""
        problem = self.problem
        axes = ALONG[problem.first]

        @cache
        def sheet(parts: int) -> int | None:
            holding = [
                int(s.cost)
                for s in problem.stocks
                if any(
                    self.fits(parts, s.width + problem.gap, s.height + problem.gap, axis, self.stages)
                    for axis in axes
                )
            ]
            return min(holding, default=None)

        @cache
        def best(parts: int) -> int:
            if not parts:
                return 0
            lowest = parts & -parts
            found = []
            for others in [parts ^ lowest, *shares(parts ^ lowest), 0]:
                cost = sheet(others | lowest)
                if cost is not None:
                    found.append(cost + best(parts ^ lowest ^ others))
            return min(found)

        return best((1 << len(problem.boxes)) - 1)
