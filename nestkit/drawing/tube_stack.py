"""The pieces of a tube's template under each other: end 0 of all on one line, room for words around each.

Frame: x along the tube from end 0, y up from the bottom of the stack. Millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.punch import reach
from nestkit.drawing.tube_piece import Band, Piece
from nestkit.geometry.points import Point, Rect, around

LEFT = 30.0
"""Room for the words before end 0."""
RIGHT = 8.0
"""Room for those behind end 1."""
BESIDE = 6.5
"""Room above a piece, and below one without a flap."""
_GAP = 4.0
"""Room below a flap."""
_LEAST = 18.0
"""A piece takes this much height at least, for the words before its end 0."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A piece where it stands: y of its lower edge, and how far a flap with labels hangs below (0: none)."""

    piece: Piece
    bottom: float
    flap: float = 0.0

    @property
    def box(self) -> Rect:
        """The piece from end to end, without its flap."""
        xs = [p.x for p in (*self.piece.near, *self.piece.far)]
        return Rect(min(xs), self.bottom, max(xs), self.bottom + self.piece.height)

    @property
    def flap_box(self) -> Rect:
        """What hangs below; of no height where there is no flap."""
        box = self.box
        return Rect(box.left, self.bottom - self.flap, box.right, self.bottom)

    @property
    def bands(self) -> tuple[Band, ...]:
        """The faces, in the frame of the stack."""
        up = self.bottom
        return tuple(Band(b.letter, b.bottom + up, b.top + up) for b in self.piece.bands)

    @property
    def later_boxes(self) -> tuple[Rect, ...]:
        """Boxes around the holes that are drilled later."""
        rings = ((self.at(p.at), p.mark.drill.dia / 2) for p in self.piece.later)
        return tuple(Rect(*at, *at).grown(radius + 0.3) for at, radius in rings)

    def at(self, p: Point) -> Point:
        """Return a place of the piece in the frame of the stack."""
        return p.moved(0.0, self.bottom)


@dataclass(frozen=True, slots=True)
class Stack:
    """Pieces under each other; ``area`` is all that must be on paper."""

    standing: tuple[Standing, ...]
    area: Rect

    @property
    def name(self) -> str:
        """The faces of its pieces: ``A B C``."""
        return " ".join(s.piece.name for s in self.standing)

    def punches(self) -> Iterator[tuple[Point, float]]:
        """Yield the place and diameter of all that is punched."""
        for s in self.standing:
            for punch in s.piece.punches:
                yield s.at(punch.at), punch.mark.drill.dia

    def mark_boxes(self) -> list[Rect]:
        """Return a box around each punch mark."""
        return [Rect(*at, *at).grown(reach(dia)) for at, dia in self.punches()]

    def later_boxes(self) -> list[Rect]:
        """Return a box around each hole that is drilled later."""
        return [box for standing in self.standing for box in standing.later_boxes]


def stacked(pieces: Sequence[tuple[Piece, float]]) -> Stack:
    """Return pieces under each other, the first on top; each comes with the length of its flap."""
    standing: list[Standing] = []
    bottom = 0.0
    for piece, flap in reversed(pieces):
        below = flap + _GAP if flap else BESIDE
        more = max(0.0, _LEAST - below - piece.height - BESIDE)
        standing.append(Standing(piece, bottom + below + more / 2, flap))
        bottom += below + piece.height + BESIDE + more
    # Marks near an end, and ends that a job put beyond the other, still lie on the paper.
    boxes = [s.box for s in standing]
    boxes += [Rect(*at, *at).grown(reach(d)) for s in standing for at, d in _punches(s)]
    seen = around(boxes)
    area = Rect(min(0.0, seen.left) - LEFT, min(0.0, seen.bottom), seen.right + RIGHT, max(bottom, seen.top))
    return Stack(tuple(reversed(standing)), area)


def grouped(pieces: Sequence[tuple[Piece, float]], high: float) -> tuple[Stack, ...]:
    """Return pieces in as few stacks of at most ``high`` mm as their order allows.

    A piece that is higher by itself is a stack of its own.
    """
    groups: list[list[tuple[Piece, float]]] = []
    for pair in pieces:
        if groups and stacked([*groups[-1], pair]).area.height <= high:
            groups[-1].append(pair)
        else:
            groups.append([pair])
    return tuple(stacked(group) for group in groups)


def _punches(standing: Standing) -> Iterator[tuple[Point, float]]:
    return ((standing.at(p.at), p.mark.drill.dia) for p in standing.piece.punches)
