"""Can the parts of a sheet be cut apart from edge to edge, and in how many directions in a row?

Parts are grown by the gap, so that two parts are apart where one ends no later than the other
starts. Splitting wherever a direction allows it never costs a stage, so the answer needs no search.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf
from operator import itemgetter

from nestkit.layout.rects.room import Rectangle

Test = Callable[[list[Rectangle]], bool]


def split(parts: Sequence[Rectangle], axis: int) -> list[list[Rectangle]]:
    """Return the parts in the groups that straight cuts across ``axis`` (0: x, 1: y) set apart, in order."""
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


def stages(parts: Sequence[Rectangle], axis: int) -> float:
    """Return the cutting directions in a row that the parts need, the first across ``axis``; inf: no way."""
    if len(parts) == 1:
        return 0
    groups = split(parts, axis)
    if len(groups) == 1:
        return inf
    return 1 + max(stages(g, 1 - axis) if len(g) > 1 else 0 for g in groups)


def _within(parts: list[Rectangle], axis: int, depth: float) -> bool:
    """Say whether ``depth`` stages do, the first across ``axis``; the groups are split as they are found."""
    if axis:
        parts.sort(key=_BOTTOM)
    else:
        parts.sort()
    far = axis + 2
    start = 0
    reach = parts[0][far]
    count = len(parts)
    for i in range(1, count):
        r = parts[i]
        if r[axis] >= reach:
            if i - start > 1 and (depth <= 1 or not _within(parts[start:i], 1 - axis, depth - 1)):
                return False
            start = i
        if r[far] > reach:
            reach = r[far]
    if start == 0:
        return False
    return count - start == 1 or (depth > 1 and _within(parts[start:], 1 - axis, depth - 1))


_BOTTOM = itemgetter(1)


def saw_test(depth: float, first: str) -> Test:
    """Return the test that a sheet's parts can be sawn apart.

    ``depth``: most stages (inf: no limit). ``first``: the first separating cut runs along "x", "y",
    or "any".
    """
    axes = {"x": (1,), "y": (0,), "any": (1, 0)}[first]
    if len(axes) == 1:
        only = axes[0]
        return lambda parts: len(parts) < 2 or _within(parts, only, depth)
    return lambda parts: len(parts) < 2 or _within(parts, 1, depth) or _within(parts, 0, depth)
