"""Mitred ends of long goods: how far an end lies behind its long point, and what length is left.

Frame as in :mod:`nestkit.geometry.section`; sections count with sharp corners.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from nestkit.geometry.points import cos_sin
from nestkit.geometry.section import FACE_DEG, Face, Section

CURVE_ERROR = 0.005
"""How far straight pieces stay from the true curve of an end, in mm at most."""


@dataclass(frozen=True, slots=True)
class Mitre:
    """An end that is not cut square: the saw is turned by ``angle_deg``, the long side is at ``long_deg``.

    ``angle_deg`` is counted from the square cut, above 0 and below 90: two ends of 45 make a corner of 90.
    ``long_deg`` is 0 for A, 90 for B, 180 for C, 270 for D, and any angle on a round section. A strip or an
    angle may be long on a side that is no face of its own: then the name only says where that is.
    """

    angle_deg: Fraction
    long_deg: Fraction

    def __post_init__(self) -> None:
        if not 0 < self.angle_deg < 90:
            raise ValueError(f"a mitre lies between 0 and 90 degrees off square, not {float(self.angle_deg)}")
        if not 0 <= self.long_deg < 360:
            raise ValueError(f"the long side is at 0 to below 360 degrees, not {float(self.long_deg)}")

    @classmethod
    def on(cls, long: Face, angle_deg: Fraction) -> Mitre:
        """Return a mitre whose long side is a face."""
        return cls(angle_deg, Fraction(FACE_DEG[long]))

    @property
    def long_face(self) -> Face | None:
        """The face that the long side looks like, where it looks straight out of one."""
        return next((face for face, deg in FACE_DEG.items() if deg == self.long_deg), None)

    @property
    def slope(self) -> float:
        """How far the end falls back for each millimetre away from the long side."""
        return 1.0 if self.angle_deg == 45 else math.tan(math.radians(float(self.angle_deg)))

    @property
    def towards(self) -> tuple[float, float]:
        """The direction y, z from the middle to the long side."""
        cosine, sine = cos_sin(float(self.long_deg))
        return -sine, cosine

    def mirrored(self) -> Mitre:
        """Return the mitre of the opposite hand: B and D change places, A and C stay."""
        return Mitre(self.angle_deg, -self.long_deg % 360)

    def behind(self, section: Section, y: float, z: float) -> float:
        """Return how far the end lies behind its long point at a place y, z of the section, in mm."""
        to_y, to_z = self.towards
        return self.slope * (_furthest(section, to_y, to_z) - (to_y * y + to_z * z))


@dataclass(frozen=True, slots=True)
class End:
    """An end of a piece of some length in mm: the far one is end 1; ``mitre`` None is cut square."""

    length: float
    far: bool
    mitre: Mitre | None = None

    def x(self, section: Section, y: float, z: float) -> float:
        """Return where along the piece it ends, on the line through a place y, z of its section."""
        behind = 0.0 if self.mitre is None else self.mitre.behind(section, y, z)
        return self.length - behind if self.far else behind

    def steps(self, radius: float) -> int:
        """Return how many straight pieces draw this end's curve over a quarter turn of a radius.

        Over the turn the end moves as slope x radius x a cosine, so a piece of angle d strays by at most
        slope x radius x d^2 / 8.
        """
        if self.mitre is None:
            return 1
        return max(1, math.ceil(math.pi / 2 * math.sqrt(self.mitre.slope * radius / (8 * CURVE_ERROR))))


def _furthest(section: Section, to_y: float, to_z: float) -> float:
    """Return how far the section reaches in a direction, from the middle of its box."""
    if section.is_round:
        return float(section.a) / 2 * math.hypot(to_y, to_z)
    return max(to_y * float(y) + to_z * float(z) for y, z in section.corners)


def least_length(section: Section, length: float, ends: tuple[Mitre | None, Mitre | None]) -> float:
    """Return the shortest line along a piece that measures ``length`` over its long points, in mm.

    At or below 0 the two mitres meet, and the piece cannot be made.
    """
    fall = [(end.slope * end.towards[0], end.slope * end.towards[1]) for end in ends if end is not None]
    if not fall:
        return length
    # Both ends fall back by a plane each; their sum is one plane, least over against its steepest rise.
    lost = sum(_furthest(section, *one) for one in fall)
    to_y, to_z = sum(y for y, _ in fall), sum(z for _, z in fall)
    return length - lost - _furthest(section, -to_y, -to_z)
