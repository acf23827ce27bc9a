"""Ends that do not quite meet, brought together up to a tolerance; and lines strung into closed loops."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

from nestkit.geometry.points import Point
from nestkit.job.outlines.cleaning import SAME
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.figures import Seg, Sketch

End = tuple[int, bool]
"""A piece by its number, and whether its end is meant or its start."""

_IGNORE = "what is no edge of the part goes on a layer that outline_layers lists under ignore"
CLOSE_UP = f"Draw the ends to the same point; {_IGNORE}"


@dataclass(frozen=True, slots=True)
class Joined:
    """Closed loops, the last piece ending where the first starts; ``gaps`` are those closed, in mm."""

    loops: tuple[tuple[Seg, ...], ...]
    gaps: tuple[float, ...]


def joined(sketch: Sketch, tolerance: float) -> Joined:
    """Return the closed loops that lines and arcs make.

    Raises :class:`OutlineFault` where ends are further apart than ``tolerance`` mm, where it is not clear
    which belong together, and where more than two pieces meet.
    """
    segs = list(sketch.segs)
    partner: dict[End, End] = {}
    free: list[End] = []
    for ends in _nodes(segs):
        if len(ends) > 2:
            where = sketch.where(_point(segs, ends[0]))
            text = f"{len(ends)} lines meet at {where}: outlines touch there, or a line branches off"
            raise OutlineFault(text, "Let each outline close by itself, apart from others; " + _IGNORE)
        if len(ends) == 2:
            partner[ends[0]], partner[ends[1]] = ends[1], ends[0]
        else:
            free.append(ends[0])
    gaps = []
    for a, b in _pairs(segs, free, tolerance, sketch):
        gaps.append(_point(segs, a).to(_point(segs, b)))
        _bring_together(segs, a, b, tolerance)
        partner[a], partner[b] = b, a
    return Joined(_strung(segs, partner), tuple(gaps))


def _point(segs: list[Seg], end: End) -> Point:
    seg = segs[end[0]]
    return seg.end if end[1] else seg.start


def _nodes(segs: list[Seg]) -> list[list[End]]:
    """Return all ends by the place where they lie, places within SAME of one another being one."""
    size = 4 * SAME
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    nodes: list[tuple[Point, list[End]]] = []
    for index, seg in enumerate(segs):
        for is_end, p in ((False, seg.start), (True, seg.end)):
            # The cell itself first: nearly every place is where another line ends to the last digit.
            cx, cy = math.floor(p.x / size), math.floor(p.y / size)
            node = _near_node(cells, nodes, p, cx, cy)
            if node is None:
                node = len(nodes)
                nodes.append((p, []))
                cells[cx, cy].append(node)
            nodes[node][1].append((index, is_end))
    return [ends for _, ends in nodes]


def _near_node(
    cells: dict[tuple[int, int], list[int]], nodes: list[tuple[Point, list[End]]], p: Point, cx: int, cy: int
) -> int | None:
    for node in cells.get((cx, cy), ()):
        if nodes[node][0] == p:
            return node
    near = [
        (p.to(nodes[node][0]), node)
        for x in (cx - 1, cx, cx + 1)
        for y in (cy - 1, cy, cy + 1)
        for node in cells.get((x, y), ())
    ]
    best = min(near, default=None)
    return best[1] if best is not None and best[0] <= SAME else None


def _pairs(segs: list[Seg], free: list[End], tolerance: float, sketch: Sketch) -> list[tuple[End, End]]:
    """Return which open ends belong together: each the only one within the tolerance of the other."""
    near = _near_ends(segs, free, tolerance)
    found = []
    for end in free:
        others = near[end]
        if len(others) > 1:
            where = sketch.where(_point(segs, end))
            text = (
                f"several open ends lie within {sketch.long(tolerance)} of {where}: any two could be joined"
            )
            raise OutlineFault(text, "Draw the ends to the same point, or make join smaller")
        if not others:
            raise _open(segs, free, end, sketch, tolerance)
        if end < others[0]:
            found.append((end, others[0]))
    return found


def _near_ends(segs: list[Seg], free: list[End], tolerance: float) -> dict[End, list[End]]:
    size = max(tolerance, SAME)
    cells: dict[tuple[int, int], list[End]] = defaultdict(list)
    for end in free:
        p = _point(segs, end)
        cells[math.floor(p.x / size), math.floor(p.y / size)].append(end)
    near: dict[End, list[End]] = {end: [] for end in free}
    for end in free:
        p = _point(segs, end)
        cx, cy = math.floor(p.x / size), math.floor(p.y / size)
        for x in (cx - 1, cx, cx + 1):
            for y in (cy - 1, cy, cy + 1):
                near[end] += [
                    o
                    for o in cells.get((x, y), ())
                    if o[0] != end[0] and p.to(_point(segs, o)) <= tolerance * (1 + 1e-9)
                ]
    return near


def _open(segs: list[Seg], free: list[End], end: End, sketch: Sketch, tolerance: float) -> OutlineFault:
    """Return the fault that an outline is open, with the end that is nearest."""
    p = _point(segs, end)
    others = [(p.to(_point(segs, o)), o) for o in free if o != end]
    text = f"an outline is open: a line ends at {sketch.where(p)}"
    if others:
        away, other = min(others)
        where = sketch.where(_point(segs, other))
        text += f", the nearest other open end is at {where}, {sketch.long(away)} away"
        text += f" (join is {sketch.long(tolerance)}; {len(free)} open ends in all)"
    return OutlineFault(text, CLOSE_UP)


def _bring_together(segs: list[Seg], a: End, b: End, tolerance: float) -> None:
    """Move two ends to where their lines cross, if that is near, else half way to each other."""
    p, q = _point(segs, a), _point(segs, b)
    meet = None
    if a[0] != b[0] and not segs[a[0]].bulge and not segs[b[0]].bulge:
        meet = _crossing(segs[a[0]], segs[b[0]])
    if meet is None or max(meet.to(p), meet.to(q)) > 2 * tolerance:
        meet = Point((p.x + q.x) / 2, (p.y + q.y) / 2)
    for index, is_end in (a, b):
        segs[index] = segs[index]._replace(end=meet) if is_end else segs[index]._replace(start=meet)


def _crossing(a: Seg, b: Seg) -> Point | None:
    """Return where two lines cross that are made longer, None where they hardly do."""
    ax, ay, bx, by = a.end.x - a.start.x, a.end.y - a.start.y, b.end.x - b.start.x, b.end.y - b.start.y
    cross = ax * by - ay * bx
    if abs(cross) < 0.1 * math.hypot(ax, ay) * math.hypot(bx, by):
        return None
    share = ((b.start.x - a.start.x) * by - (b.start.y - a.start.y) * bx) / cross
    return Point(a.start.x + share * ax, a.start.y + share * ay)


def _strung(segs: list[Seg], partner: dict[End, End]) -> tuple[tuple[Seg, ...], ...]:
    loops = []
    used = [False] * len(segs)
    for first in range(len(segs)):
        if used[first]:
            continue
        loop: list[Seg] = []
        index, leaves_by = first, True
        while not used[index]:
            used[index] = True
            loop.append(segs[index] if leaves_by else segs[index].turned_round())
            index, comes_in = partner[index, leaves_by]
            leaves_by = not comes_in
        loops.append(tuple(loop))
    return tuple(loops)
