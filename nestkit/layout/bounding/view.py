"""A problem as bounds see it: rooms, and what each part surely fills of them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd, isqrt

from nestkit.layout.problem import Box, Hull, Problem

Way = tuple[int, int]
"""Width and height of a part as it may lie, grown by the gap."""


@dataclass(frozen=True, slots=True)
class View:
    """A problem as bounds see it. ``ways[b][s]``: for each turn the boxes that surely are filled.

    All are grown by the ``gap``. A part of ``ways[b][s] == ()`` fits stock ``s`` in no turn. ``area`` is the
    least grown area of a copy.
    ``full`` are the areas of the rooms, ``rooms`` what of them the boxes surely filled can reach: whole
    ``step``s of part sizes, and without the rim in which no core of a ``free`` part lies where all are free.

    A part that may lie at any angle covers a disc of diameter ``discs[b]``, and its core is the upright
    square in the disc. So on each side of the core the part needs half of what the disc is wider: ``rims[b]``
    is that of both sides, beyond what ``rooms`` leave out for all parts. Other parts cover discs as well.
    ``usable`` are the rooms net, and ``apart`` is the distance that discs keep.
    """

    quantity: tuple[int, ...]
    full: tuple[int, ...]
    rooms: tuple[Way, ...]
    ways: tuple[tuple[tuple[tuple[Way, ...], ...], ...], ...]
    area: tuple[int, ...]
    costs: tuple[Fraction, ...]
    counts: tuple[int | None, ...]
    step: int = 1
    names: tuple[str, ...] = ()
    gap: int = 0
    free: tuple[bool, ...] = ()
    discs: tuple[int, ...] = ()
    rims: tuple[int, ...] = ()
    usable: tuple[Way, ...] = ()
    apart: int = 0


def distance_along(problem: Problem) -> int:
    """Return the least distance along x or y that two parts must keep whatever they look like.

    Two parts that pass each other at a corner may be nearer along both axes than the gap; a saw cut
    between them still takes its kerf.
    """
    slant = isqrt(problem.gap**2 // 2)
    return max(problem.kerf, slant) if problem.edge_to_edge else slant


def view_of(problem: Problem, gap: int, *, solid: bool) -> View:
    """Return a problem with this distance along x or y; ``solid``: every part fills its box."""
    boxes = [b for b in problem.boxes if b.quantity]
    hulls = [None if solid else b.hull for b in boxes]
    sizes = [n + gap for b in boxes for n in (b.width, b.height)]
    step = 1 if any(hulls) or not sizes else gcd(*sizes)
    full = [(max(0, w + gap), max(0, h + gap)) for w, h in (s.usable for s in problem.stocks)]
    # Parts packed against each other end at whole steps: what is beyond the last one is of no use.
    rooms = tuple((w // step * step, h // step * step) for w, h in full)
    free = tuple(hull is not None and hull.least > 0 for hull in hulls)
    discs = tuple(_disc(b, hull) for b, hull in zip(boxes, hulls, strict=True))
    rims = [d - h.cores[0][0] if h and h.least and h.cores else 0 for d, h in zip(discs, hulls, strict=True)]
    # What has no core is nowhere in particular.
    rim = min((r for r, h in zip(rims, hulls, strict=True) if h is None or h.cores), default=0)
    area = [
        (b.width + gap) * (b.height + gap) if hull is None else (isqrt(hull.area) + gap) ** 2
        for b, hull in zip(boxes, hulls, strict=True)
    ]
    ways = tuple(
        tuple(_ways(b, hull, b.turns[s], room, gap) for s, room in enumerate(rooms))
        for b, hull in zip(boxes, hulls, strict=True)
    )
    return View(
        quantity=tuple(b.quantity for b in boxes),
        full=tuple(w * h for w, h in full),
        rooms=tuple((max(0, w - rim), max(0, h - rim)) for w, h in rooms),
        ways=ways,
        area=tuple(area),
        costs=tuple(s.cost for s in problem.stocks),
        counts=tuple(s.count for s in problem.stocks),
        step=step,
        names=tuple(s.name for s in problem.stocks),
        gap=gap,
        free=free,
        discs=discs,
        rims=tuple(max(0, r - rim) for r in rims),
        usable=tuple(s.usable for s in problem.stocks),
        apart=problem.gap,
    )


def _disc(box: Box, hull: Hull | None) -> int:
    """Return the diameter of a disc that a part covers, rounded down; 0 where none is known."""
    if hull is None:
        return min(box.width, box.height)
    sides = [min(core) for core in hull.cores]
    # The disc that a square of a free part lies in is covered, too.
    return isqrt(2 * sides[0] ** 2) if hull.least and sides else max(sides, default=0)


def _ways(
    box: Box, hull: Hull | None, turns: tuple[int, ...], room: Way, gap: int
) -> tuple[tuple[Way, ...], ...]:
    """Return for each turn in which a box fits a room the grown boxes that it surely fills."""
    if not turns:
        return ()
    if hull is not None and hull.least:
        # At whatever angle it lies, it fills the same square.
        return (tuple((a + gap, b + gap) for a, b in hull.cores),) if _fits(hull, room, gap) else ()
    if hull is not None and not hull.cores:
        # Nothing is sure but its area.
        return ((),)
    found: dict[tuple[Way, ...], None] = {}
    for turn in turns:
        w, h = box.size(turn)
        if w + gap > room[0] or h + gap > room[1]:
            continue
        inner = [(w, h)] if hull is None else [(b, a) if turn % 180 else (a, b) for a, b in hull.cores]
        found[tuple((a + gap, b + gap) for a, b in inner)] = None
    return tuple(found)


def _fits(hull: Hull, room: Way, gap: int) -> bool:
    """Say whether a part that may lie at any angle is narrow and short enough for a room."""
    width, height = room[0] - gap, room[1] - gap
    return hull.least <= min(width, height) and hull.longest**2 <= width**2 + height**2
