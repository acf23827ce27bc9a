"""A tube as it is marked out by hand: lines along it, and on each the holes by their distance from end 0."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from nestkit.geometry.section import Face
from nestkit.parts.tube import Tube, WallMark


@dataclass(frozen=True, slots=True)
class MarkedLine:
    """Holes on one line along a tube, the nearest to end 0 first.

    ``side`` is how far the line lies from its face's edge with the next letter (angle: the heel), or around a
    round section from line A towards B. ``width`` is that of the face, or the whole way around. Millimetres.
    """

    face: Face | None
    side: Fraction
    width: Fraction
    at_deg: Fraction
    marks: tuple[WallMark, ...]

    @property
    def in_middle(self) -> bool:
        """Say whether the line lies in the middle of its face."""
        return self.face is not None and 2 * self.side == self.width


def girth(tube: Tube) -> Fraction:
    """Return the way around a round section: as measured, else by its diameter."""
    return tube.girth if tube.girth is not None else Fraction(math.pi) * tube.section.a


def lines_of(tube: Tube) -> tuple[MarkedLine, ...]:
    """Return the lines that a tube's holes lie on, by face and from its edge, or by angle from A."""
    around = girth(tube) if tube.section.is_round else Fraction(0)
    found: dict[tuple[Face | None, Fraction, Fraction], list[WallMark]] = {}
    for mark in sorted(tube.marks, key=lambda m: (m.spot.at, m.number)):
        spot = mark.spot
        found.setdefault((spot.face, spot.across, spot.at_deg), []).append(mark)
    lines = []
    for (face, across, at_deg), marks in found.items():
        width = around if face is None else tube.section.width(face)
        side = around * at_deg / 360 if face is None else across
        lines.append(MarkedLine(face, side, width, at_deg, tuple(marks)))
    return tuple(sorted(lines, key=lambda one: (one.face or "", one.side)))


def through_numbers(tube: Tube) -> tuple[int, ...]:
    """Return the numbers of holes that are marked and drilled in two walls."""
    return tuple(hole.number for hole in tube.holes if hole.through and tube.section.two_walls)
