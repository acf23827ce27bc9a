"""Tubes drilled through one wall: what is inside is out of reach, and the other wall is in the way."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.fit.assembly import Assembly
from nestkit.parts.tube import Spot, Tube, TubeHole

REACH = 50.0
"""Millimetres into an open end in which a nut can be held with a wrench (common practice, no source)."""
_ALIGNED = 1.0
"""Millimetres that an access hole may be off the hole that it serves."""


@dataclass(frozen=True, slots=True)
class Hollow:
    """A closed tube at an end of a joint, whose hollow the heads or the far ends of the screws are in.

    ``room`` is how deep the hollow is along the screws, in mm.
    """

    tube: Tube
    holes: tuple[TubeHole, ...]
    head: bool
    room: float

    def beside(self, dia: float) -> tuple[TubeHole, ...]:
        """Return the holes without an access hole of ``dia`` mm or more in the wall opposite."""
        return tuple(hole for hole in self.holes if not self._access(hole.spot, dia))

    def near_an_end(self, hole: TubeHole) -> bool:
        """Say whether a hole can be reached from an end of the tube."""
        near, far = self.tube.reach(hole.spot)
        return min(float(hole.spot.at) - near, far - float(hole.spot.at)) <= REACH

    def _access(self, spot: Spot, dia: float) -> bool:
        other = spot.opposite(self.tube.section)
        return any(
            mark.spot.face == other.face
            and mark.spot.at_deg == other.at_deg
            and abs(mark.spot.at - other.at) <= _ALIGNED
            and abs(mark.spot.across - other.across) <= _ALIGNED
            and mark.drill.dia >= dia
            for mark in self.tube.marks
        )


def hollow_at(assembly: Assembly, *, head: bool) -> Hollow | None:
    """Return the tube whose hollow the heads (or else the far ends) are in; None where they are outside.

    A plane that is mirrored is met from inside: then the heads are in the hollow.
    """
    if not assembly.layers:
        return None
    plane = (assembly.layers[0] if head else assembly.layers[-1]).plane
    part = plane.part
    if not isinstance(part, Tube) or len(plane.walls) != 1 or plane.mirrored != head:
        return None
    section = part.section
    if section.kind not in ("tube", "round"):
        return None
    numbers = set(plane.mate.holes)
    holes = tuple(hole for hole in part.holes if hole.number in numbers)
    if section.is_round:
        room = section.inner_dia
    else:
        side = section.b if all(hole.spot.face in ("A", "C") for hole in holes) else section.a
        room = side - 2 * section.wall
    return Hollow(part, holes, head, float(room))
