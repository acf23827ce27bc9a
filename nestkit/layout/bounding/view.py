"""A problem as bounds see it: rooms, and what each part surely fills of them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd, isqrt

from nestkit.layout.problem import Box, Problem

Way = tuple[int, int]
"""Width and height of a part as it may lie, grown by the gap."""


@dataclass(frozen=True, slots=True)
class View:
    """A problem as bounds see it. ``ways[b][s]``: for each turn the boxes that surely are filled.

    All are grown by the ``gap``. A part of ``ways[b][s] == ()`` fits stock ``s`` in no turn. ``area`` is the
    least grown area of a copy.
    ``full`` are the areas of the rooms, ``rooms`` what of them whole ``step``s of part sizes can reach.
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
    area = [
        (b.width + gap) * (b.height + gap) if hull is None else (isqrt(hull.area) + gap) ** 2
        for b, hull in zip(boxes, hulls, strict=True)
    ]
    ways = tuple(
        tuple(
            _ways(b, None if hull is None else hull.cores, b.turns[s], room, gap)
            for s, room in enumerate(rooms)
        )
        for b, hull in zip(boxes, hulls, strict=True)
    )
    return View(
        quantity=tuple(b.quantity for b in boxes),
        full=tuple(w * h for w, h in full),
        rooms=rooms,
        ways=ways,
        area=tuple(area),
        costs=tuple(s.cost for s in problem.stocks),
        counts=tuple(s.count for s in problem.stocks),
        step=step,
        names=tuple(s.name for s in problem.stocks),
        gap=gap,
    )


def _ways(
    box: Box, cores: tuple[Way, ...] | None, turns: tuple[int, ...], room: Way, gap: int
) -> tuple[tuple[Way, ...], ...]:
    """Return for each turn in which a box fits a room the grown boxes that it surely fills."""
    if cores == ():
        # It may lie at any angle, so nothing is sure but its area, and that it may fit anywhere.
        return ((),)
    found: dict[tuple[Way, ...], None] = {}
    for turn in turns:
        w, h = box.size(turn)
        if w + gap > room[0] or h + gap > room[1]:
            continue
        inner = [(w, h)] if cores is None else [(b, a) if turn % 180 else (a, b) for a, b in cores]
        found[tuple((a + gap, b + gap) for a, b in inner)] = None
    return tuple(found)
