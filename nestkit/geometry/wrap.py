"""Unrolling: places on the outside of a tube as places on a flat template.

A template is seen from outside with end 0 at the left: x along the tube from end 0 (over the long point), y
upwards from the template's lower edge. Faces follow each other downwards, A over B over C over D, so the
edge that a face shares with the next letter is its lower one. Millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from nestkit.geometry.mitre import End
from nestkit.geometry.points import Point
from nestkit.geometry.section import FACE_DEG, FACES, Face, Section

QUARTER = math.pi / 2

Outside = tuple[float, float]
"""y and z of a place on the outside of a section."""


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip of paper as wide as one face, laid between the face's two edges."""

    section: Section
    face: Face

    @property
    def height(self) -> float:
        """The width of the face."""
        return float(self.section.width(self.face))

    def point(self, at: float, across: float) -> Point:
        """Return a place ``at`` along the face, ``across`` as the job measures it."""
        return Point(at, _up(self.section, self.face, across))

    def end_line(self, end: End) -> tuple[Point, ...]:
        """Return where the face ends, from the lower edge to the upper: a straight line."""
        return tuple(
            Point(end.x(self.section, *_on_face(self.section, self.face, up)), up)
            for up in (0.0, self.height)
        )


@dataclass(frozen=True, slots=True)
class Wrap:
    """Paper folded over corners: two faces are an L, all four of a tube go right round.

    ``faces`` follow each other by letter, the upper one first. ``corner`` is the outside corner radius;
    ``fold`` is what the paper's own thickness adds at a corner. A tube's paper ends at the middle of a
    corner: right round, its edges meet there. An angle's ends at the toes.
    """

    section: Section
    faces: tuple[Face, ...]
    corner: float
    fold: float

    def __post_init__(self) -> None:
        letters = self.section.faces * 2
        count = len(self.faces)
        runs = [letters[i : i + count] for i in range(len(self.section.faces))]
        if not 2 <= count <= len(self.section.faces) or self.faces not in runs[: 1 if self._toes else None]:
            raise ValueError(f"a wrap goes over faces that follow each other, not {''.join(self.faces)}")
        least = min(self.section.width(face) for face in self.faces)
        if self.corner < 0 or self.fold < 0 or self.corner > float(least) / (1 if self._toes else 2):
            raise ValueError("corner radius and fold are 0 or more, and a radius at most half a face")

    @property
    def _toes(self) -> bool:
        return self.section.kind == "angle"

    @property
    def arc(self) -> float:
        """Length of paper over one corner."""
        return QUARTER * self.corner + self.fold

    @property
    def height(self) -> float:
        """Length of paper around all its faces, half a corner at either end of a tube's."""
        corners = len(self.faces) - (1 if self._toes else 0)
        return sum(self._flat(face) for face in self.faces) + corners * self.arc

    @property
    def bottoms(self) -> tuple[float, ...]:
        """The y of the lower end of each face's flat, in the order of the faces."""
        y = self.height - (0.0 if self._toes else self.arc / 2)
        found = []
        for face in self.faces:
            y -= self._flat(face)
            found.append(y)
            y -= self.arc
        return tuple(found)

    @property
    def folds(self) -> tuple[float, ...]:
        """The y of each fold: the middle of the corner below every face but the last."""
        return tuple(bottom - self.arc / 2 for bottom in self.bottoms[:-1])

    def point(self, face: Face, at: float, across: float) -> Point:
        """Return a place on a face; within a rounded corner, where a drill square to the face meets it.

        Raises ``ValueError`` for a place that is not on the face, or a face not under this paper.
        """
        width, up = float(self.section.width(face)), _up(self.section, face, across)
        if not -1e-9 <= up <= width + 1e-9:
            raise ValueError(f"{across:g} mm across is not on face {face}, {width:g} mm wide")
        bottom = self.bottoms[self.faces.index(face)]
        below, above = self._radii(face)
        if up < below:
            y = bottom - self._over(below - up, below)
        elif up > width - above:
            y = bottom + self._flat(face) + self._over(up - (width - above), above)
        else:
            y = bottom + up - below
        whole = len(self.faces) == 4 and not 0 <= y <= self.height
        return Point(at, y % self.height if whole else y)

    def end_line(self, end: End) -> tuple[Point, ...]:
        """Return where the tube ends, from the lower edge of the paper to the upper one."""
        around = [Point(end.x(self.section, *place), y) for y, place in self._around(end.steps(self.corner))]
        around.reverse()
        return tuple(p for i, p in enumerate(around) if i == 0 or p != around[i - 1])

    def _around(self, steps: int) -> Iterator[tuple[float, Outside]]:
        """Yield places on the paper from its upper edge downwards, each with its place on the tube."""
        for i, (face, bottom) in enumerate(zip(self.faces, self.bottoms, strict=True)):
            top, last = bottom + self._flat(face), i == len(self.faces) - 1
            below, above = self._radii(face)
            high = _on_face(self.section, face, float(self.section.width(face)) - above)
            low = _on_face(self.section, face, below)
            if i == 0 and not self._toes:
                yield from self._corner(face, high, top, (-45, 0), steps)
            yield from ((top, high), (bottom, low))
            if not (last and self._toes):
                yield from self._corner(face, low, bottom, (0, 45 if last else 90), steps)

    def _corner(
        self, face: Face, flat: Outside, y: float, turn: tuple[int, int], steps: int
    ) -> Iterator[tuple[float, Outside]]:
        """Yield places over a corner from one angle to another, counted from the end of the flat at y."""
        centre = _inwards(flat, FACE_DEG[face], self.corner)
        for i in range(steps + 1):
            deg = turn[0] + (turn[1] - turn[0]) * i / steps
            yield y - self.arc * deg / 90.0, _inwards(centre, FACE_DEG[face] + deg, -self.corner)

    def _flat(self, face: Face) -> float:
        return float(self.section.width(face)) - sum(self._radii(face))

    def _radii(self, face: Face) -> tuple[float, float]:
        """Return the corner radii at the lower and the upper edge of a face; a toe has none."""
        if not self._toes:
            return self.corner, self.corner
        return (self.corner, 0.0) if face == "A" else (0.0, self.corner)

    def _over(self, beyond: float, radius: float) -> float:
        """Return the paper from the end of a flat to a place ``beyond`` it, measured square to the face."""
        return self.arc * math.asin(min(1.0, beyond / radius)) / QUARTER


def right_round(section: Section, corner: float, fold: float, first: Face = "A") -> Wrap:
    """Return the paper right round a square or rectangular tube, the face ``first`` at its top."""
    start = FACES.index(first)
    return Wrap(section, (FACES * 2)[start : start + 4], corner, fold)


def _up(section: Section, face: Face, across: float) -> float:
    """Return how far above the lower edge of its face a place lies; on leg B the heel is the upper one."""
    return float(section.width(face)) - across if (section.kind, face) == ("angle", "B") else across


def _on_face(section: Section, face: Face, up: float) -> Outside:
    """Return y and z of a place on a face by its height above the face's lower edge."""
    y, z = float(section.a) / 2, float(section.b) / 2
    return {"A": (up - y, z), "B": (-y, up - z), "C": (y - up, -z), "D": (y, z - up)}[face]


def _inwards(place: Outside, deg: float, by: float) -> Outside:
    """Return a place moved against the direction that looks out at an angle from A towards B."""
    angle = math.radians(deg)
    return place[0] + by * math.sin(angle), place[1] - by * math.cos(angle)
