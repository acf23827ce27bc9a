"""How the parts of a sheet are cut apart, kept as a tree while more of them are laid.

The tree answers "could they still be cut apart with one part more?" by looking at the few parts near
the new one, where :mod:`~nestkit.layout.rects.sawable` would look at all. Both always agree.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field

from nestkit.geometry.edge_to_edge import split
from nestkit.layout.rects.room import Rectangle
from nestkit.layout.rects.sawable import FIRST_AXES, within


@dataclass(slots=True)
class _Node:
    """Parts that cuts across ``axis`` set apart into groups, in order.

    ``starts`` and ``ends`` are the groups' reaches along the axis; a group is a part or a node.
    ``depth`` are the stages that are left here, this one counted.
    """

    axis: int
    depth: float
    starts: list[int] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)
    groups: list[Rectangle | _Node] = field(default_factory=list)


class CutTree:
    """The parts of one sheet with the cuts between them, for each first direction that still serves."""

    __slots__ = ("_roots",)

    def __init__(self, parts: list[Rectangle], depth: float, first: str) -> None:
        """Build the tree of parts that are grown by the gap; ``depth`` and ``first`` as for a saw test."""
        roots = [_built(parts, axis, depth, bare=True) for axis in FIRST_AXES[first]]
        self._roots = [r for r in roots if r is not None]

    def takes(self, part: Rectangle) -> bool:
        """Say whether the parts and this one, which overlaps none of them, can be cut apart."""
        return any(_takes(root, part) for root in self._roots)

    def add(self, part: Rectangle) -> None:
        """Lay one part more."""
        self._roots = [root for root in self._roots if _added(root, part)]


def _touched(node: _Node, part: Rectangle) -> tuple[int, int]:
    """Return the range of groups that no cut across the node's axis sets apart from a part."""
    axis = node.axis
    return bisect_right(node.ends, part[axis]), bisect_left(node.starts, part[axis + 2])


def _parts_of(groups: list[Rectangle | _Node]) -> list[Rectangle]:
    found: list[Rectangle] = []
    waiting = list(groups)
    while waiting:
        group = waiting.pop()
        if isinstance(group, _Node):
            waiting += group.groups
        else:
            found.append(group)
    return found


def _takes(node: _Node, part: Rectangle) -> bool:
    while True:
        i, j = _touched(node, part)
        if i >= j:
            return True
        if node.depth <= 1 or j - i == len(node.groups):
            # Where the part joins all groups into one, no cut across this axis is left.
            return False
        only = node.groups[i]
        if j - i > 1 or not isinstance(only, _Node):
            return within([*_parts_of(node.groups[i:j]), part], 1 - node.axis, node.depth - 1)
        node = only


def _added(root: _Node, part: Rectangle) -> bool:
    """Put a part into the tree, and say whether this first direction may still serve."""
    node = root
    low, high = part[:2], part[2:]
    while True:
        axis = node.axis
        i, j = _touched(node, part)
        if i >= j:
            node.starts.insert(i, low[axis])
            node.ends.insert(i, high[axis])
            node.groups.insert(i, part)
            return True
        # At the root alone a level may be without a cut for now: a part beside the others makes one.
        if node.depth <= 1 or (j - i == len(node.groups) and node is not root):
            return False
        start, end = min(node.starts[i], low[axis]), max(node.ends[j - 1], high[axis])
        only = node.groups[i]
        into = only if j - i == 1 and isinstance(only, _Node) else None
        group = into or _built([*_parts_of(node.groups[i:j]), part], 1 - axis, node.depth - 1)
        if group is None:
            return False
        node.starts[i:j], node.ends[i:j], node.groups[i:j] = [start], [end], [group]
        if into is None:
            return True
        node = into


def _built(parts: list[Rectangle], axis: int, depth: float, *, bare: bool = False) -> _Node | None:
    """Return the tree of parts, the first cuts across ``axis``; None where this way cannot serve.

    ``bare``: the first level may be without a cut.
    """
    root = _Node(axis, depth)
    waiting = [(root, parts)]
    while waiting:
        node, group = waiting.pop()
        strips = split(group, node.axis) if group else []
        if len(group) > 1 and len(strips) == 1 and not (bare and node is root):
            return None
        for strip in strips:
            node.starts.append(strip[0][node.axis])
            node.ends.append(max(r[node.axis + 2] for r in strip))
            if len(strip) == 1:
                node.groups.append(strip[0])
                continue
            if node.depth <= 1:
                return None
            below = _Node(1 - node.axis, node.depth - 1)
            node.groups.append(below)
            waiting.append((below, strip))
    return root
