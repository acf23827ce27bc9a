"""What a larger drill would spoil: holes that come too near to an edge only by it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from typing import TypeVar

from nestkit.checks import edges, tube_room
from nestkit.checks.edges import Room, edge_rule
from nestkit.checks.findings import NOTHING
from nestkit.parts.holes import Hole
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube, TubeHole
from nestkit.trade.rules import Rule

_H = TypeVar("_H", Hole, TubeHole)


def newly_too_near(part: Panel | Tube, numbers: Collection[int], dia: float) -> Rule | None:
    """Return the edge rule that some of these holes would break if they were ``dia`` mm wide; often None.

    Holes that break it as drawn do not count.
    """
    by = edge_rule(part.material)
    if by is None:
        return None
    if isinstance(part, Panel):
        before = edges.rooms_of(part, by)
        after = edges.rooms_of(replace(part, holes=_wider(part.holes, numbers, dia)), by)
    else:
        before = tube_room.rooms_of(part, by)
        after = tube_room.rooms_of(replace(part, holes=_wider(part.holes, numbers, dia)), by)
    return by.by if _too_near(after) - _too_near(before) else None


def _wider(holes: Iterable[_H], numbers: Collection[int], dia: float) -> tuple[_H, ...]:
    return tuple(replace(h, drill=replace(h.drill, dia=dia)) if h.number in numbers else h for h in holes)


def _too_near(rooms: Iterable[Room]) -> set[int]:
    return {room.hole.number for room in rooms if room.has < room.wants - NOTHING}
