"""Holes of a tube in the round: how far they stay inside its faces and ends, and which of them meet.

A hole of one wall ends with that wall; one through both walls goes on through the hollow, and so does its
screw. Sections count with sharp corners. Millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from nestkit.geometry.mitre import End
from nestkit.geometry.points import cos_sin
from nestkit.geometry.section import FACE_DEG, Section
from nestkit.parts.tube import Spot, Tube, TubeHole, WallMark

TOUCH = 1e-6
"""Millimetres below which two holes touch."""
STEPS = 360
"""Places around a hole's edge that are tried where a slanting end meets a round tube: out by 0.01 % of it."""


@dataclass(frozen=True, slots=True)
class Beside:
    """How much of a face lies beside a hole, in mm from its centre: towards the edge of each neighbour."""

    near: float
    far: float

    @property
    def least(self) -> float:
        """The smaller of the two."""
        return min(self.near, self.far)


def beside(section: Section, spot: Spot) -> Beside:
    """Return how far a place on a face is from both edges of the face; on a round section half its width."""
    if spot.face is None:
        return Beside(float(section.a) / 2, float(section.a) / 2)
    return Beside(float(spot.across), float(section.width(spot.face) - spot.across))


def to_ends(tube: Tube, spot: Spot) -> tuple[float, float]:
    """Return how far a place is from end 0 and end 1, square to the end's line on the outside."""
    at = float(spot.at)
    if tube.mitres == (None, None):
        return at, float(tube.length) - at
    near, far = (_line(tube.section, spot, end) for end in tube.ends)
    return (at - near.x) / near.steep, (far.x - at) / far.steep


def over_ends(tube: Tube, mark: WallMark) -> tuple[float, float]:
    """Return how much material is left between a hole's edge and end 0, and end 1, in mm.

    At or below 0 the hole leaves the tube there, on the outside or the inside of its wall.
    """
    at, radius = float(mark.spot.at), mark.drill.dia / 2
    if tube.mitres == (None, None):
        return at - radius, float(tube.length) - at - radius
    near, far = (_line(tube.section, mark.spot, end) for end in tube.ends)
    if tube.section.is_round:
        rim = tuple(_rim(tube.section, radius))
        return (
            min(at + x - near.at(u, t) for x, u, t in rim),
            min(far.at(u, t) - at - x for x, u, t in rim),
        )
    deep = (0.0, float(tube.section.drilled))
    return (
        min((at - near.at(0.0, t)) / near.steep for t in deep) - radius,
        min((far.at(0.0, t) - at) / far.steep for t in deep) - radius,
    )


@dataclass(frozen=True, slots=True)
class _Line:
    """Where a tube ends around a place: at ``x`` there, and how that moves ``across`` and inwards."""

    x: float
    across: float
    inwards: float

    def at(self, u: float, t: float) -> float:
        return self.x + self.across * u + self.inwards * t

    @property
    def steep(self) -> float:
        """What a length along the tube is longer than the same square to the end."""
        return math.hypot(1.0, self.across)


def _line(section: Section, spot: Spot, end: End) -> _Line:
    """Return an end as seen from a place: it is a plane, so it moves evenly any way."""
    y, z = _outside(section, spot)
    degrees = float(spot.at_deg) if spot.face is None else FACE_DEG[spot.face]
    cosine, sine = cos_sin(degrees)
    x = end.x(section, y, z)
    if end.mitre is None:
        return _Line(x, 0.0, 0.0)
    # The way outwards is (-sine, cosine), the way across, as on_face counts it on A, a quarter from it.
    return _Line(x, end.x(section, y + cosine, z + sine) - x, end.x(section, y + sine, z - cosine) - x)


def _outside(section: Section, spot: Spot) -> tuple[float, float]:
    if spot.face is None:
        return section.at_angle(float(spot.at_deg))
    y, z = section.on_face(spot.face, spot.across)
    return float(y), float(z)


def _rim(section: Section, radius: float) -> Iterator[tuple[float, float, float]]:
    """Yield places of a hole's edge in a round wall: along the tube, across it, and how far below its top."""
    outer, inner = float(section.a) / 2, float(section.inner_dia) / 2
    for step in range(STEPS):
        cosine, sine = cos_sin(360.0 * step / STEPS)
        x, u = radius * cosine, radius * sine
        for wall in (outer, inner):
            yield x, u, outer - math.sqrt(max(0.0, wall**2 - u**2))


def overlapping(section: Section, marks: tuple[WallMark, ...]) -> Iterator[tuple[WallMark, WallMark]]:
    """Yield pairs of holes of one face that meet, the lower number first.

    On a round tube two drills are nearest to each other at the inside of the wall.
    """
    order = sorted(marks, key=lambda m: m.spot.at)
    widest = max((m.drill.dia for m in marks), default=0.0) / 2
    for i, a in enumerate(order):
        for b in order[i + 1 :]:
            along = float(b.spot.at - a.spot.at)
            if along > a.drill.dia / 2 + widest + TOUCH:
                break
            away = apart(section, a.spot, b.spot)
            if a.number != b.number and away <= (a.drill.dia + b.drill.dia) / 2 + TOUCH:
                yield (a, b) if a.number < b.number else (b, a)


def apart(section: Section, a: Spot, b: Spot) -> float:
    """Return how far two holes' axes are apart in one wall; infinite in two different ones."""
    along = float(b.at - a.at)
    if a.face is not None or b.face is not None:
        return math.hypot(along, float(b.across - a.across)) if a.face == b.face else math.inf
    radius = float(section.inner_dia or section.a) / 2
    turn = math.radians(float(b.at_deg - a.at_deg))
    return math.hypot(along, 2 * radius * math.sin(turn / 2))


@dataclass(frozen=True, slots=True)
class Crossing:
    """Two holes whose axes cross: how far they stay apart, and how far they should at least.

    ``inside``: both go through the hollow and so do their screws, whose sizes count where a job names them.
    Otherwise the two holes meet in a wall.
    """

    a: TubeHole
    b: TubeHole
    has: float
    wants: float
    inside: bool


def crossings(tube: Tube) -> Iterator[Crossing]:
    """Yield the holes of different faces that meet, the lower number first."""
    section = tube.section
    bores = sorted((_bore(section, hole) for hole in tube.holes), key=lambda bore: bore.at)
    widest = max((bore.radius for bore in bores), default=0.0)
    for i, one in enumerate(bores):
        for other in bores[i + 1 :]:
            if other.at - one.at > one.radius + widest + TOUCH:
                break
            a, b = (one, other) if one.hole.number < other.hole.number else (other, one)
            found = _round_crossing(a.hole, b.hole) if section.is_round else _crossing(section, a, b)
            if found is not None and found.has <= found.wants + TOUCH:
                yield found


def _both_through(a: TubeHole, b: TubeHole) -> bool:
    return a.through and b.through


def _screws(a: TubeHole, b: TubeHole) -> float:
    """Half the sizes of what goes through two holes: of screws where they are named, else of the holes."""
    return sum(h.drill.fastener_dia or h.drill.dia for h in (a, b)) / 2


def _round_crossing(a: TubeHole, b: TubeHole) -> Crossing | None:
    """Drills through a round tube all go through its middle; in one wall they cannot cross."""
    same_way = (a.spot.at_deg - b.spot.at_deg) % 180 == 0
    if same_way or not _both_through(a, b):
        return None
    return Crossing(a, b, abs(float(a.spot.at - b.spot.at)), _screws(a, b), True)


def _crossing(section: Section, one: _Bore, other: _Bore) -> Crossing | None:
    if one.upright == other.upright:
        return None
    a, b, has = one.hole, other.hole, abs(one.at - other.at)
    if section.two_walls and _both_through(a, b):
        return Crossing(a, b, has, _screws(a, b), True)
    # Each is widest where the other one's wall is nearest to its axis.
    first, second = one.half_width(other), other.half_width(one)
    if first is None or second is None:
        return None
    return Crossing(a, b, has, first + second, False)


@dataclass(frozen=True, slots=True)
class _Bore:
    """A hole square to its face: ``low`` to ``high`` along its axis, ``side`` on the way square to that."""

    hole: TubeHole
    at: float
    side: float
    radius: float
    upright: bool
    low: float
    high: float

    def half_width(self, other: _Bore) -> float | None:
        """Return half the widest chord along the tube where the other one is; None where there is none."""
        nearest = min(max(self.side, other.low), other.high)
        left = self.radius**2 - (nearest - self.side) ** 2
        return math.sqrt(left) if left > 0 else None


def _bore(section: Section, hole: TubeHole) -> _Bore:
    spot = hole.spot
    y, z = _outside(section, spot)
    upright = spot.face in ("A", "C")
    side, along = (y, z) if upright else (z, y)
    depth = float(section.b if upright else section.a)
    if not (hole.through and section.two_walls):
        depth = float(section.drilled)
    far = along - math.copysign(depth, along)
    low, high = min(along, far), max(along, far)
    return _Bore(hole, float(spot.at), side, hole.drill.dia / 2, upright, low, high)
