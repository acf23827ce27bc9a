"""Sections of long goods: tube, angle, strip, rod and what comes off a roll; their faces and sizes.

Frame, as a tube lies on the bench with end 0 at your left hand: x along it from end 0, y away from
you, z up, the middle of the section's box at y = z = 0. Face A is up, B towards you, C down, D away.
On a round section angles start at A and grow towards B. All sizes are exact millimetres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Kind = Literal["tube", "round", "rod", "angle", "strip", "roll"]
Face = Literal["A", "B", "C", "D"]
FACES: tuple[Face, ...] = ("A", "B", "C", "D")

FACE_DEG: dict[Face, int] = {"A": 0, "B": 90, "C": 180, "D": 270}
"""Where each face looks, as an angle from A that grows towards B."""

SIZES: dict[Kind, tuple[str, ...]] = {
    "tube": ("width", "height", "wall"),
    "round": ("diameter", "wall"),
    "rod": ("diameter",),
    "angle": ("leg A", "leg B", "thickness"),
    "strip": ("width", "thickness"),
    "roll": ("width",),
}
"""What the sizes of each kind are, in the order in which they are written."""


@dataclass(frozen=True, slots=True)
class Section:
    """The section of a bar or a tube, sharp-cornered as the trade names it.

    ``a`` is the width of faces A and C: the diameter where it is round, the width of a strip and of what
    comes off a roll. ``b`` is the width of faces B and D: the diameter again, the thickness of a strip, 0
    off a roll. ``wall`` is the thickness of a tube's wall and of an angle's legs, 0 of the others.
    """

    kind: Kind
    a: Fraction
    b: Fraction
    wall: Fraction = Fraction(0)

    def __post_init__(self) -> None:
        if self.fault:
            raise ValueError(self.fault)

    @property
    def fault(self) -> str:
        """Say what keeps these sizes from being a section; empty when nothing does."""
        kind, a, b, wall = self.kind, self.a, self.b, self.wall
        if a <= 0 or b < 0 or wall < 0 or (b == 0) != (kind == "roll"):
            return "every size of a section is above 0"
        if (wall == 0) == (kind in {"tube", "round", "angle"}):
            return "a tube and an angle have a wall, nothing else has"
        if self.is_round and a != b:
            return "a round section has one diameter"
        if kind in {"tube", "round"} and 2 * wall >= min(a, b):
            return "two walls leave no room inside"
        if kind == "angle" and wall >= min(a, b):
            return "the thickness takes up a whole leg"
        if kind == "strip" and b > a:
            return "the thickness is more than the width"
        return ""

    @property
    def is_round(self) -> bool:
        """Say whether holes are placed by angle instead of by face."""
        return self.kind in {"round", "rod"}

    @property
    def words(self) -> str:
        """What the trade calls it."""
        if self.kind == "tube":
            return "square tube" if self.a == self.b else "rectangular tube"
        return {
            "round": "round tube",
            "rod": "rod",
            "angle": "angle",
            "strip": "flat strip",
            "roll": "goods off a roll",
        }[self.kind]

    @property
    def sizes(self) -> tuple[Fraction, ...]:
        """The sizes as they are written, see :data:`SIZES`."""
        return {
            "tube": (self.a, self.b, self.wall),
            "round": (self.a, self.wall),
            "rod": (self.a,),
            "angle": (self.a, self.b, self.wall),
            "strip": (self.a, self.b),
            "roll": (self.a,),
        }[self.kind]

    @property
    def stock_key(self) -> tuple[Kind, Fraction, Fraction, Fraction]:
        """Equal for all sections that one stock serves: a 1 x 2 tube is a 2 x 1 tube turned a quarter.

        An angle with its legs exchanged is the same angle, turned end for end.
        """
        return self.kind, max(self.a, self.b), min(self.a, self.b), self.wall

    @property
    def faces(self) -> tuple[Face, ...]:
        """The faces that holes can be placed on; none where they go by angle, and off a roll."""
        return {"tube": FACES, "angle": FACES[:2], "strip": FACES[:1]}.get(self.kind, ())

    @property
    def two_walls(self) -> bool:
        """Say whether a drill that goes through comes out on another face (rod: at another angle).

        The leg of an angle and a strip are one wall: their only hole has no second place to mark.
        """
        return self.kind in {"tube", "round", "rod"}

    def width(self, face: Face) -> Fraction:
        """Return the width of a face in mm, over the sharp corners.

        Raises ``ValueError`` for a face that this section does not have.
        """
        self._check(face)
        return self.a if face in "AC" else self.b

    def inner_width(self, face: Face) -> Fraction:
        """Return the width inside a tube, behind a face; of an angle between heel and toe; of a strip all."""
        walls = {"tube": 2, "angle": 1}.get(self.kind, 0)
        return self.width(face) - walls * self.wall

    @property
    def inner_dia(self) -> Fraction:
        """Inside diameter of a round tube; 0 of anything else."""
        return self.a - 2 * self.wall if self.kind == "round" else Fraction(0)

    @property
    def drilled(self) -> Fraction:
        """How much stands in the way of a drill at its first wall, in mm; off a roll 0."""
        return self.wall or (self.a if self.kind == "rod" else self.b)

    def next_face(self, face: Face) -> Face:
        """Return the face that ``across`` is measured from the edge of: the next letter; angle: the heel."""
        self._check(face)
        if self.kind == "angle":
            return "B" if face == "A" else "A"
        return FACES[(FACES.index(face) + 1) % 4]

    def on_face(self, face: Face, across: Fraction) -> tuple[Fraction, Fraction]:
        """Return y and z of a place on a face, ``across`` mm from the edge shared with :meth:`next_face`."""
        self._check(face)
        y, z = self.a / 2, self.b / 2
        if face == "A":
            return across - y, z
        if face == "B":
            return -y, z - across if self.kind == "angle" else across - z
        return (y - across, -z) if face == "C" else (y, z - across)

    def at_angle(self, at_deg: float) -> tuple[float, float]:
        """Return y and z of a place on a round section, by its angle from A towards B."""
        radius, angle = float(self.a) / 2, math.radians(at_deg)
        return -radius * math.sin(angle), radius * math.cos(angle)

    @property
    def corners(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """The outermost places y, z of a section with faces; empty where it is round."""
        if self.is_round:
            return ()
        y, z, w = self.a / 2, self.b / 2, self.wall
        if self.kind == "angle":
            return (-y, z), (y, z), (y, z - w), (w - y, -z), (-y, -z)
        return (-y, z), (y, z), (y, -z), (-y, -z)

    def area(self, corner: Fraction = Fraction(0)) -> float:
        """Return the cross-section in mm2; 0 off a roll, whose thickness is not known.

        A tube by ab - (a - 2w)(b - 2w), with sharp corners unless ``corner`` gives the outside radius;
        the inside radius is then less by one wall.
        """
        a, b, w = self.a, self.b, self.wall
        if self.is_round:
            return math.pi / 4 * float(a**2 - self.inner_dia**2)
        if self.kind == "angle":
            return float(w * (a + b - w))
        if self.kind != "tube":
            return float(a * b)
        rounded = (4 - math.pi) * float(corner**2 - max(Fraction(0), corner - w) ** 2)
        return float(a * b - (a - 2 * w) * (b - 2 * w)) - rounded

    def _check(self, face: Face) -> None:
        if face not in self.faces:
            raise ValueError(f"{self.words} has no face {face}")
