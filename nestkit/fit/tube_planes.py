"""The holes of a tube as the screws of a joint meet them: one face, seen from outside or from inside.

A face seen from outside, end 0 at the left, has x along the tube and y across it, counted from the edge that
``across`` is measured from. Only on face B of an angle, whose heel is at the top there, y runs down. On a
round section it is the plane that touches it at the holes, and y is 0.
"""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.fit.assembly import Fault
from nestkit.geometry.points import Point
from nestkit.geometry.section import Face, Section
from nestkit.job.shown import shown
from nestkit.parts.tube import Spot, Tube, TubeHole
from nestkit.text import number_list
from nestkit.units import decimal_text

_ALIKE = 1e-6


@dataclass(frozen=True, slots=True)
class Place:
    """Where a tube stands among the parts with holes of its joint, the heads' side first."""

    first: bool
    last: bool

    @property
    def inside(self) -> bool:
        """Say whether a wall that is drilled alone is met from the hollow: the next part bears on it."""
        return self.first and not self.last


@dataclass(frozen=True, slots=True)
class View:
    """Holes of one face: where they are measured, where they lie in the plane, how x and y run there."""

    points: tuple[Point, ...]
    local: tuple[Point, ...]
    axes: tuple[Point, Point]
    mirrored: bool


Views = tuple[View, ...] | Fault


def tube_views(tube: Tube, holes: tuple[TubeHole, ...], place: Place, turned: bool) -> Views:
    """Return the ways in which a tube's holes may look to the heads, the likelier one first.

    ``turned``: its back looks to the heads. A fault where the holes cannot all be met by screws side by side.
    """
    section = tube.section
    fault = _unlike(tube, holes) or (_walls(tube, holes, place, turned) if section.two_walls else None)
    if fault is not None:
        return fault
    face = holes[0].spot.face
    if section.is_round:
        return (_view(section, holes, None, inside=place.inside and not holes[0].through),)
    back = holes[0].spot.opposite(section).face if section.two_walls else None
    if section.two_walls and holes[0].through:
        views = _view(section, holes, face), _view(section, holes, back)
    elif section.two_walls:
        return (_view(section, holes, face, inside=place.inside),)
    else:
        views = _view(section, holes, face), _view(section, holes, face, inside=True)
    return views[1:] if turned else views


def looks_up(tube: Tube, number: int, local: Point, *, inside: bool) -> str:
    """Return what of a tube looks to the heads: ``face B``, ``the inside of face B``; empty of a round one.

    ``local`` is where hole ``number`` is measured in the wall that is met.
    """
    spot = next(hole.spot for hole in tube.holes if hole.number == number)
    if spot.face is None:
        return "the inside" if inside else ""
    here = abs(float(spot.across) - local.y) < _ALIKE or not tube.section.two_walls
    face = spot.face if here else spot.opposite(tube.section).face
    return f"the inside of face {face}" if inside else f"face {face}"


def walls_of(tube: Tube, hole: TubeHole) -> tuple[tuple[float, ...], float]:
    """Return the thicknesses that are drilled, and what a screw passes in all, in mm."""
    section = tube.section
    drilled = float(section.drilled)
    if section.kind == "rod" or not (section.two_walls and hole.through):
        return (drilled,), drilled
    return (drilled, drilled), float(section.a if hole.spot.face in ("B", "D") else section.b)


def _view(section: Section, holes: tuple[TubeHole, ...], face: Face | None, *, inside: bool = False) -> View:
    spots = [_on(section, hole.spot, face) for hole in holes]
    local = tuple(Point(float(s.at), float(s.across)) for s in spots)
    along = Point(-1.0 if inside else 1.0, 0.0)
    across = Point(0.0, -1.0 if section.kind == "angle" and face == "B" else 1.0)
    points = tuple(Point(p.x * along.x + 0.0, p.y * across.y + 0.0) for p in local)
    return View(points, local, (along, across), inside)


def _on(section: Section, spot: Spot, face: Face | None) -> Spot:
    """Return a hole's place in the wall that is looked at: a drill through both walls has one in each."""
    return spot if face in (None, spot.face) else spot.opposite(section)


def _unlike(tube: Tube, holes: tuple[TubeHole, ...]) -> Fault | None:
    """Say which holes run another way than the first: screws of one joint are parallel."""
    through = tube.section.two_walls and all(hole.through for hole in holes)
    sides: dict[str, list[int]] = {}
    first = holes[0].spot
    ways = {first, first.opposite(tube.section)} if through else {first}
    alike = {(way.face, way.at_deg) for way in ways}
    for hole in holes:
        spot = hole.spot
        said = f"at {decimal_text(spot.at_deg)} deg" if spot.face is None else f"on face {spot.face}"
        sides.setdefault(said, []).append(hole.number)
    if all((hole.spot.face, hole.spot.at_deg) in alike for hole in holes):
        return None
    listed = ", ".join(f"{number_list(numbers)} {said}" for said, numbers in sides.items())
    return Fault(
        f"the holes of {shown(tube.name)} do not look one way: {listed}",
        "make one joint for the holes of each side",
    )


def _walls(tube: Tube, holes: tuple[TubeHole, ...], place: Place, turned: bool) -> Fault | None:
    """Say what keeps screws from passing the walls of a tube or a rod."""
    short = [hole.number for hole in holes if not hole.through]
    if not short:
        return None
    one = len(short) == 1
    which = f"{'hole' if one else 'holes'} {number_list(short)} of {shown(tube.name)}"
    if tube.section.kind == "rod":
        return Fault(f"{which} {'does' if one else 'do'} not go through the rod", _THROUGH)
    if len(short) < len(holes):
        return Fault(
            f"{which} {'is' if one else 'are'} in one wall, its other holes in both: "
            "they take screws of two lengths",
            f"make two joints of them, or {_THROUGH}",
        )
    alone = f"{which} {'is' if one else 'are'} in one wall only"
    if not (place.first or place.last):
        return Fault(f"{alone}, with parts on both sides: the screw cannot pass", _THROUGH)
    if turned:
        return Fault(
            f"{alone}: turned over, the wall behind is in the way of the screw",
            f"leave it out of turned_over, or {_THROUGH}",
        )
    return None


_THROUGH = "write through = true for the holes"
