"""A tube: a cut length of any section, with its holes and its ends."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from nestkit.geometry.mitre import End, Mitre, least_length
from nestkit.geometry.section import Face, Section
from nestkit.parts.copies import Copies
from nestkit.parts.holes import Drill
from nestkit.parts.methods import Method

_OVER: dict[Face, Face] = {"A": "C", "B": "D", "C": "A", "D": "B"}
_MIRROR: dict[Face, Face] = {"A": "A", "B": "D", "C": "C", "D": "B"}


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the outside of a tube, exact: ``at`` along it from end 0, and where around it.

    On a section with faces: ``face``, and ``across`` from the edge that it shares with the next letter
    (angle: from the heel). On a round one ``face`` is None, and ``at_deg`` the angle from A towards B.
    """

    at: Fraction
    face: Face | None = None
    across: Fraction = Fraction(0)
    at_deg: Fraction = Fraction(0)

    def opposite(self, section: Section) -> Spot:
        """Return where a drill that is square to the surface here comes out on the other side."""
        if self.face is None:
            return replace(self, at_deg=(self.at_deg + 180) % 360)
        return replace(self, face=_OVER[self.face], across=section.width(self.face) - self.across)

    def mirrored(self, section: Section, length: Fraction) -> Spot:
        """Return the place on the opposite hand: B for D and back, across from the other edge.

        On an angle, at becomes length - at instead, and the faces stay.
        """
        if section.kind == "angle":
            return replace(self, at=length - self.at)
        if self.face is None:
            return replace(self, at_deg=-self.at_deg % 360)
        return replace(self, face=_MIRROR[self.face], across=section.width(self.face) - self.across)


@dataclass(frozen=True, slots=True)
class HoleGroup:
    """Like holes as a job gives them: one face or angle, one drill, a row along the tube.

    ``at`` are distances from ``from_end``, in the order of their numbers; ``across`` None is the middle
    of the face. ``through`` takes the opposite wall along, where there is one.
    """

    name: str
    drill: Drill
    at: tuple[Fraction, ...]
    face: Face | None = None
    at_deg: Fraction = Fraction(0)
    across: Fraction | None = None
    through: bool = False
    from_end: Literal[0, 1] = 0

    def spots(self, section: Section, length: Fraction) -> tuple[Spot, ...]:
        """Return the holes' places from end 0 in the order of their numbers.

        Raises ``ValueError`` for a face that the section does not have, or a face on a round one.
        """
        places = [length - at if self.from_end else at for at in self.at]
        if section.is_round:
            if self.face is not None:
                raise ValueError(f"holes of a {section.words} go by angle, not by face")
            return tuple(Spot(at, at_deg=self.at_deg % 360) for at in places)
        if self.face is None:
            raise ValueError(f"holes of {section.words} need a face")
        middle = section.width(self.face) / 2
        across = middle if self.across is None else self.across
        return tuple(Spot(at, self.face, across) for at in places)


@dataclass(frozen=True, slots=True)
class TubeHole:
    """A hole: its number on every print, where the drill goes in, and whether it goes through both walls."""

    number: int
    spot: Spot
    drill: Drill
    group: str
    through: bool = False


@dataclass(frozen=True, slots=True)
class WallMark:
    """One place to punch: a hole in one wall. A through hole has two, of one number.

    ``comes_out`` marks the second: there the drill comes out, if it went in at the first.
    """

    number: int
    spot: Spot
    drill: Drill
    group: str
    comes_out: bool = False


def numbered(groups: Iterable[HoleGroup], section: Section, length: Fraction) -> tuple[TubeHole, ...]:
    """Return all holes of a tube in file order, numbered from 1 through all groups."""
    holes: list[TubeHole] = []
    for group in groups:
        for spot in group.spots(section, length):
            holes.append(TubeHole(len(holes) + 1, spot, group.drill, group.name, group.through))
    return tuple(holes)


def row(
    start: Fraction, count: int, *, pitch: Fraction | None = None, end: Fraction | None = None
) -> tuple[Fraction, ...]:
    """Return a row of places along a tube: from ``start`` by steps of ``pitch``, or evenly to ``end``.

    Raises ``ValueError`` without exactly one of the two, below one hole, or where all lie on one place.
    """
    if (pitch is None) == (end is None) or count < 1:
        raise ValueError("a row of one hole or more has either a pitch or an end")
    step = pitch if pitch is not None else ((end or Fraction(0)) - start) / max(1, count - 1)
    if count > 1 and step == 0:
        raise ValueError("all holes of the row lie on one another")
    return tuple(start + i * step for i in range(count))


Paper = Literal["strips", "corner", "wrap"]
"""How the template of a tube with faces is printed: a strip a face, over one corner, or right round."""


@dataclass(frozen=True, slots=True)
class Twin:
    """A group of holes that must lie along its tube as one of another tube does, by their names."""

    group: str
    tube: str
    of_group: str


@dataclass(frozen=True, slots=True)
class Tube(Copies):
    """A cut length as drawn, in exact millimetres; frame as in :mod:`nestkit.geometry.section`.

    ``length`` is over the long points; ``mitres`` are of end 0 and end 1, None where cut square. ``place``
    is where the job file has it. The counts mean what they mean of a panel. ``corner`` is the outside corner
    radius and ``girth`` the way around, both as measured; None leaves them to tables and to reckoning.
    ``method`` is how its holes are marked, None: as the job usually does.
    """

    name: str
    place: str
    material: str
    section: Section
    length: Fraction
    holes: tuple[TubeHole, ...] = ()
    mitres: tuple[Mitre | None, Mitre | None] = (None, None)
    used_for: str = ""
    quantity: int = 1
    opposite_hand: int = 0
    spare: int = 0
    spare_if_room: int = 0
    revision: str = ""
    line: int | None = None
    paper: Paper = "strips"
    corner: Fraction | None = None
    girth: Fraction | None = None
    twins: tuple[Twin, ...] = ()
    method: Method | None = None

    @property
    def marks(self) -> tuple[WallMark, ...]:
        """Every place to punch, by number: what a drill through both walls meets is there twice."""
        found = []
        for hole in self.holes:
            found.append(WallMark(hole.number, hole.spot, hole.drill, hole.group))
            if hole.through and self.section.two_walls:
                out = hole.spot.opposite(self.section)
                found.append(WallMark(hole.number, out, hole.drill, hole.group, comes_out=True))
        return tuple(found)

    def marks_on(self, face: Face) -> tuple[WallMark, ...]:
        """Return the places to punch on one face, by number."""
        return tuple(mark for mark in self.marks if mark.spot.face == face)

    @property
    def drilled_faces(self) -> tuple[Face, ...]:
        """The faces with something to punch, in the order of their letters."""
        have = {mark.spot.face for mark in self.marks}
        return tuple(face for face in self.section.faces if face in have)

    @property
    def least_length(self) -> float:
        """The shortest line along the tube, in mm: at or below 0 its two mitres meet."""
        return least_length(self.section, float(self.length), self.mitres)

    @property
    def ends(self) -> tuple[End, End]:
        """End 0 and end 1 as templates draw them."""
        near, far = self.mitres
        return End(float(self.length), False, near), End(float(self.length), True, far)

    def reach(self, spot: Spot) -> tuple[float, float]:
        """Return where the material begins and ends along the line through a spot, from end 0 in mm."""
        if spot.face is None:
            y, z = self.section.at_angle(float(spot.at_deg))
        else:
            y, z = (float(v) for v in self.section.on_face(spot.face, spot.across))
        near, far = self.ends
        return near.x(self.section, y, z), far.x(self.section, y, z)

    def mirrored(self) -> Tube:
        """Return the tube as its opposite hand; hole numbers stay.

        B and D change places, the ends stay. An angle is turned end for end instead: its ends change places.
        """
        holes = tuple(replace(h, spot=h.spot.mirrored(self.section, self.length)) for h in self.holes)
        if self.section.kind == "angle":
            return replace(self, holes=holes, mitres=(self.mitres[1], self.mitres[0]))
        near, far = (mitre and mitre.mirrored() for mitre in self.mitres)
        return replace(self, holes=holes, mitres=(near, far))

    @property
    def hands(self) -> tuple[bool, ...]:
        """The hands that are made, each with prints of its own; one where both are the same part."""
        return (False,) if self.either_hand else self.hands_apart

    @property
    def as_drawn(self) -> int:
        """Copies as drawn, without spares; where one hand serves as the other, those of both."""
        return self.quantity + (self.opposite_hand if self.either_hand else 0)

    @property
    def either_hand(self) -> bool:
        """Say whether the opposite hand is wanted and is the very same part, mark for mark."""
        if not self.opposite_hand:
            return False
        other = self.mirrored()
        return other.mitres == self.mitres and _places(other) == _places(self)


def _places(tube: Tube) -> set[tuple[int, Spot]]:
    return {(mark.number, mark.spot) for mark in tube.marks}
