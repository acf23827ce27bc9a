"""The holes of one part of a joint in its own plane, seen from the heads."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from nestkit.errors import ToolFault
from nestkit.fit.assembly import Fault, Plane
from nestkit.fit.tube_planes import Place, View, tube_views, walls_of
from nestkit.geometry.points import Point
from nestkit.job.model import Job, Part
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Hole
from nestkit.parts.joint import Joint, Mate
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube, TubeHole

_H = TypeVar("_H", Hole, TubeHole)
_RIGHT, _LEFT, _UP = Point(1.0, 0.0), Point(-1.0, 0.0), Point(0.0, 1.0)


def planes_of(job: Job, joint: Joint, index: int) -> tuple[Plane, ...] | Fault:
    """Return every way in which a mate may look to the heads, the likelier one first.

    Panels whose faces are alike, strips, legs of an angle and tubes that are drilled through may be met from
    either side, unless the joint says that the back looks to the heads; everything else has one way.
    """
    mate = joint.mates[index]
    part = of_its_hand(named(job, mate.part), mate)
    holed = [i for i, other in enumerate(joint.mates) if other.holes]
    last = index == holed[-1]
    if isinstance(part, Tube):
        chosen = _chosen(part.holes, mate)
        views = tube_views(part, chosen, Place(index == holed[0], last), mate.turned_over)
        if isinstance(views, Fault):
            return views
        walls, depth = walls_of(part, chosen[0])
        return tuple(_plane(joint, mate, part, chosen, view, walls, depth, last) for view in views)
    flat = _chosen(part.holes, mate)
    thickness = float(part.thickness or 0)
    return tuple(
        _plane(joint, mate, part, flat, view, (thickness,), thickness, last)
        for view in _flat_views(part, flat, mate)
    )


def as_measured(job: Job, mate: Mate) -> Plane:
    """Return the holes of a mate just as they are measured, whatever their faces.

    For ties and tapes, which bend round corners.
    """
    part = of_its_hand(named(job, mate.part), mate)
    if isinstance(part, Tube):
        holes = _chosen(part.holes, mate)
        local = tuple(Point(float(h.spot.at), float(h.spot.across)) for h in holes)
        walls, depth = walls_of(part, holes[0]) if holes else ((), 0.0)
        return Plane(mate, part, mate.holes, local, local, _dias(holes), walls, depth)
    flat = _chosen(part.holes, mate)
    local = tuple(h.at for h in flat)
    thickness = float(part.thickness or 0)
    return Plane(mate, part, mate.holes, local, local, _dias(flat), (thickness,), thickness)


def named(job: Job, name: str) -> Part:
    """Return the part of a job with this name: names are unique over parts of all kinds.

    Raises :class:`~nestkit.errors.ToolFault` for a name that the job does not have.
    """
    for part in job.every_part:
        if part.name == name:
            return part
    raise ToolFault(f"a joint names {name!r}, which the job does not have")


def of_its_hand(part: Part, mate: Mate) -> Part:
    """Return the part as the joint takes it: as drawn, or its opposite hand; what is bought has one hand."""
    return part if isinstance(part, Bought) or not mate.opposite else part.mirrored()


def _flat_views(part: Panel | Bought, holes: Sequence[Hole], mate: Mate) -> tuple[View, ...]:
    local = tuple(hole.at for hole in holes)
    drawn = View(local, local, (_RIGHT, _UP), False)
    over = View(tuple(Point(0.0 - p.x, p.y) for p in local), local, (_LEFT, _UP), True)
    if mate.turned_over:
        return (over,)
    return (drawn, over) if isinstance(part, Panel) and part.faces == "alike" else (drawn,)


def _chosen(holes: Sequence[_H], mate: Mate) -> tuple[_H, ...]:
    by_number = {hole.number: hole for hole in holes}
    return tuple(by_number[number] for number in mate.holes)


def _dias(holes: Sequence[Hole] | Sequence[TubeHole]) -> tuple[float, ...]:
    return tuple(hole.drill.dia for hole in holes)


def _plane(
    joint: Joint,
    mate: Mate,
    part: Part,
    holes: Sequence[Hole] | Sequence[TubeHole],
    view: View,
    walls: tuple[float, ...],
    depth: float,
    last: bool,
) -> Plane:
    tapped = any(hole.drill.tap is not None for hole in holes)
    return Plane(
        mate,
        part,
        mate.holes,
        view.points,
        view.local,
        _dias(holes),
        walls,
        depth,
        holds_thread=tapped or (last and joint.fastener.held_by in ("tapped hole", "rivet nut", "wood")),
        mirrored=view.mirrored,
        axes=view.axes,
    )
