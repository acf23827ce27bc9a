"""What a larger drill would spoil: holes that come too near to an edge only by it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import replace
from typing import TypeVar

from nestkit.checks import edges, tube_room
from nestkit.checks.edges import EdgeRule, Room, edge_rule
from nestkit.checks.findings import NOTHING
from nestkit.parts.holes import Drill, Hole
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
    wider = redrilled(part, numbers, lambda drill: replace(drill, dia=dia))
    return by.by if _too_near(_rooms(wider, by)) - _too_near(_rooms(part, by)) else None


def redrilled(part: Panel | Tube, numbers: Collection[int], change: Callable[[Drill], Drill]) -> Panel | Tube:
    """Return a part with another drill for some of its holes."""
    if isinstance(part, Panel):
        return replace(part, holes=_changed(part.holes, numbers, change))
    return replace(part, holes=_changed(part.holes, numbers, change))


def _changed(
    holes: Iterable[_H], numbers: Collection[int], change: Callable[[Drill], Drill]
) -> tuple[_H, ...]:
    return tuple(replace(h, drill=change(h.drill)) if h.number in numbers else h for h in holes)


def _rooms(part: Panel | Tube, by: EdgeRule) -> Iterable[Room]:
    return edges.rooms_of(part, by) if isinstance(part, Panel) else tube_room.rooms_of(part, by)


def _too_near(rooms: Iterable[Room]) -> set[int]:
    return {room.hole.number for room in rooms if room.has < room.wants - NOTHING}
