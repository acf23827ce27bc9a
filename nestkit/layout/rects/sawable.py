"""Can the parts of a sheet be cut apart from edge to edge, and in how many directions in a row?

Parts are grown by the gap, so that two parts are apart where one ends no later than the other
starts. Splitting wherever a direction allows it never costs a stage, so the answer needs no search.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf
from operator import itemgetter

from nestkit.geometry.edge_to_edge import split
from nestkit.layout.rects.room import Rectangle

FIRST_AXES = {"x": (1,), "y": (0,), "any": (1, 0)}
"""Across which axes (0: x, 1: y) the first separating cut may go, by the direction it runs along."""

Test = Callable[[list[Rectangle]], bool]


def stages(parts: Sequence[Rectangle], axis: int) -> float:
    """Return the cutting directions in a row that the parts need, the first across ``axis``; inf: no way."""
    most = 0
    waiting = [(parts, axis, 1)]
    while waiting:
        group, across, level = waiting.pop()
        if len(group) == 1:
            continue
        groups = split(group, across)
        if len(groups) == 1:
            return inf
        most = max(most, level)
        waiting += [(g, 1 - across, level + 1) for g in groups]
    return most


def within(parts: list[Rectangle], axis: int, depth: float) -> bool:
    """Say whether ``depth`` stages do for two parts or more, the first across ``axis``.

    Sorts ``parts``. Kept free of calls, since solvers ask it more often than anything else.
    """
    waiting = [(parts, axis, depth)]
    while waiting:
        group, across, left = waiting.pop()
        if across:
            group.sort(key=_BOTTOM)
        else:
            group.sort()
        far = across + 2
        start = 0
        reach = group[0][far]
        count = len(group)
        for i in range(1, count):
            r = group[i]
            if r[across] >= reach:
                if i - start > 1:
                    if left <= 1:
                        return False
                    waiting.append((group[start:i], 1 - across, left - 1))
                start = i
            if r[far] > reach:
                reach = r[far]
        if start == 0:
            return False
        if count - start > 1:
            if left <= 1:
                return False
            waiting.append((group[start:], 1 - across, left - 1))
    return True


_BOTTOM = itemgetter(1)


def saw_test(depth: float, first: str) -> Test:
    """Return the test that a sheet's parts can be sawn apart.

    ``depth``: most stages (inf: no limit). ``first``: the first separating cut runs along "x", "y",
    or "any".
    """
    axes = FIRST_AXES[first]
    one, other = axes[0], axes[-1]
    if one == other:
        return lambda parts: len(parts) < 2 or within(parts, one, depth)
    return lambda parts: len(parts) < 2 or within(parts, one, depth) or within(parts, other, depth)
