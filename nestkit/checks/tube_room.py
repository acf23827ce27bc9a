"""Room around the holes of tubes: to an end, to the toe of an angle, to where the flat of a face ends."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from nestkit.checks.edges import EdgeRule, Room, edge_rule, too_near
from nestkit.checks.findings import AS_DRAWN, NOTHING, Finding, by_rule, holes_said, listed
from nestkit.geometry.section import Face
from nestkit.job.model import Job
from nestkit.parts.bores import beside, to_ends
from nestkit.parts.tube import Tube, WallMark
from nestkit.stock.section import corner
from nestkit.trade.materials import family
from nestkit.trade.rules import Rule, rule
from nestkit.units import Unit, with_unit


def end_distance(job: Job) -> Iterator[Finding]:
    """A hole keeps its distance from ends, from a leg's toe and a strip's edges, by its material's rule."""
    for tube in job.tubes:
        by = edge_rule(tube.material)
        if by is not None:
            yield from too_near(tube.place, rooms_of(tube, by), by, job.unit)


def rooms_of(tube: Tube, by: EdgeRule) -> Iterator[Room]:
    """Yield each place to drill in a tube with the room that it has to an edge, and should have."""
    for mark in tube.marks:
        near, far = to_ends(tube, mark.spot)
        room = beside(tube.section, mark.spot)
        # A tube's wall goes on around the corner of a face: only these have edges along them.
        edges = {"angle": ((room.far, "the toe of its leg"),)}.get(tube.section.kind, ())
        if tube.section.kind == "strip":
            edges = ((room.least, "the edge of the strip"),)
        has, to = min(((near, "end 0"), (far, "end 1"), *edges))
        yield Room(mark, has, by.wants(mark.drill), to)


@dataclass(frozen=True, slots=True)
class _Edge:
    """How much of a face beside its edge is no good for holes, why, and by which rule."""

    taken: float
    why: str
    rule: Rule | None


def holes_in_corner(job: Job) -> Iterator[Finding]:
    """A hole stays on the flat of its face, clear of the corner radius and of the wall around the corner."""
    for tube in job.tubes:
        edge = _edge(tube, job.unit)
        if edge is None:
            continue
        into = []
        for mark in tube.marks:
            left = _to_corner(tube, mark) - mark.drill.dia / 2
            if NOTHING < left < edge.taken - NOTHING:
                into.append((left, mark))
        if into:
            least = min(left for left, _ in into)
            numbers = {mark.number for _, mark in into}
            verb = "comes" if len(numbers) == 1 else "come"
            heel = tube.section.kind == "angle"
            text = (
                f"{holes_said(m for _, m in into)} {verb} within {with_unit(least, job.unit)} of "
                f"{'the heel' if heel else _corners_said(tube, (m for _, m in into))}; {edge.why}"
            )
            remedy = f"move the hole away from the {'heel' if heel else 'corner'}, or make it smaller"
            if edge.rule is not None:
                yield by_rule("advice", edge.rule, tube.place, text, remedy)
            else:
                yield Finding("advice", "", tube.place, text, remedy, AS_DRAWN)


def _to_corner(tube: Tube, mark: WallMark) -> float:
    room = beside(tube.section, mark.spot)
    return room.near if tube.section.kind == "angle" else room.least


def _edge(tube: Tube, unit: Unit) -> _Edge | None:
    """Return what ends the flat of a face first: the corner radius, or the wall behind the next face."""
    section, wall = tube.section, float(tube.section.wall)
    if section.kind == "angle":
        return _at_heel(tube, wall, unit)
    if section.kind != "tube":
        return None
    usual = corner(section, tube.material)
    radius = tube.corner if tube.corner is not None else usual.radius if usual is not None else None
    if radius is not None and float(radius) > wall:
        ends = f"the flat ends {with_unit(radius, unit)} from it, where the corner begins"
        return _Edge(float(radius), ends, usual.rule if usual is not None and tube.corner is None else None)
    return _Edge(wall, f"the wall around the corner is {with_unit(wall, unit)} thick there", None)


def _at_heel(tube: Tube, wall: float, unit: Unit) -> _Edge:
    fillet = rule("R127")
    if family(tube.material) != fillet.material:
        return _Edge(wall, f"the other leg is {with_unit(wall, unit)} thick there", None)
    taken = wall * (1 + float(fillet.typical or 0))
    return _Edge(taken, f"the other leg and its fillet take about {with_unit(taken, unit)} there", fillet)


def _corners_said(tube: Tube, marks: Iterable[WallMark]) -> str:
    """Return which corners holes come near to: ``the corner of A and B``."""
    section = tube.section
    named: set[tuple[Face, Face]] = set()
    for mark in marks:
        face = mark.spot.face
        if face is not None:
            room = beside(section, mark.spot)
            before = next(f for f in section.faces if section.next_face(f) == face)
            other = section.next_face(face) if room.near <= room.far else before
            named.add((min(face, other), max(face, other)))
    return listed(f"the corner of {one} and {other}" for one, other in sorted(named))
