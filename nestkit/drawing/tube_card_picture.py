"""The picture on a tube's card: its faces one under the other, true along the tube, with hole numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.bench_picture import (
    ABOVE,
    WORD_TYPE,
    Dot,
    Picture,
    dimension_above,
    numbers_beside,
)
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Mark, Path, Text, line, outlined
from nestkit.drawing.tube_facts import TubeFacts
from nestkit.drawing.tube_lines import x_at
from nestkit.drawing.tube_piece import Piece, sloping_faces, strip_of
from nestkit.drawing.type import ASCENT
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.units import with_unit

_LETTER = 7.0
_LINE_LETTER = 4.4
_LEFT, _RIGHT = 9.5, 1.5
"""Left of the tube stand the letters."""
_BELOW = 6.0
_BETWEEN = 2.4
_BRACKET = 1.2
"""The heavy line of end 0 stands this far outside it, as a datum's bracket does."""
_STRIP = (9.0, 15.0)
"""How high a face is drawn, least and most: else a thin tube had no room for numbers."""
_ROUND = (24.0, 44.0)
"""The same of a round tube, right round."""
_LEAST_RADIUS = 0.9
"""A cross whose arms leave its ring would read as a plus beside a number."""


@dataclass(frozen=True, slots=True)
class _Shown:
    """A piece on the page: its lower edge, and the scales along and across."""

    piece: Piece
    bottom: float
    along: float
    up: float

    @property
    def top(self) -> float:
        return self.bottom + self.piece.height * self.up

    def at(self, p: Point) -> Point:
        return Point(_LEFT + p.x * self.along, self.bottom + p.y * self.up)

    @property
    def outline(self) -> Outline:
        loop = (*self.piece.near, *reversed(self.piece.far))
        return Outline(tuple(Vertex(*self.at(p)) for p in dict.fromkeys(loop)))


def tube_picture(facts: TubeFacts, width: float, most: float) -> Picture:
    """Return the faces of a tube that have something to mark, ``width`` mm wide and ``most`` high at most.

    All is true in proportion along the tube; how high a face is drawn follows from the room. A round tube
    is unrolled as its template is. The drawing is as high as it needs to be.
    """
    view = facts.view
    scale = (width - _LEFT - _RIGHT) / float(view.length)
    shown = _stacked(_pieces(facts), scale, most - _BELOW - ABOVE)
    box = Rect(_LEFT, shown[-1].bottom, width - _RIGHT, shown[0].top)
    page = Rect(0.0, 0.0, width, box.top + ABOVE)
    extras: list[Mark] = [
        line(Point(_LEFT - _BRACKET, box.bottom - 1.2), Point(_LEFT - _BRACKET, box.top + 1.2), Layer.HEAVY),
        *dimension_above(box, with_unit(view.length, facts.unit), page),
        *_end_words(box),
        *(letter for one in shown for letter in _letters(one)),
        *(along for one in shown for along in _lines(one)),
    ]
    edges = [one.outline for one in shown]
    dots = [dot for one in shown for dot in _dots(one)]
    marks: list[Mark] = [*(outlined(edge, Layer.PART_EDGE) for edge in edges), *extras]
    marks += (mark for dot in dots for mark in dot.marks(cross=True))
    # Beyond end 0 a number would read as one of the letters.
    numbers, all_there = numbers_beside(dots, edges, extras, Rect(_LEFT - _BRACKET, 0.0, width, page.top))
    return Picture(Drawing(width, page.top, (*marks, *numbers)), all_there)


def _pieces(facts: TubeFacts) -> Sequence[Piece]:
    """The unrolled round tube, or a strip for each face with holes or a slanting end; else for all faces."""
    view = facts.view
    if view.section.is_round:
        return [piece for piece, _ in facts.pieces]
    marked = {*view.drilled_faces, *sloping_faces(view), *(mark.spot.face for mark in facts.later)}
    return [strip_of(view, face, facts.later) for face in view.section.faces if not marked or face in marked]


def _stacked(pieces: Sequence[Piece], along: float, room: float) -> list[_Shown]:
    """Return pieces from the top down; each as high as at the scale along the tube, within its limits."""
    each = (room - _BETWEEN * (len(pieces) - 1)) / len(pieces)
    shown: list[_Shown] = []
    bottom = _BELOW
    for piece in reversed(pieces):
        least, most = _STRIP if piece.strip else _ROUND
        high = max(least, min(most, each, max(piece.height * along, 0.8 * most)))
        shown.append(_Shown(piece, bottom, along, high / piece.height))
        bottom += high + _BETWEEN
    return shown[::-1]


def _end_words(box: Rect) -> Iterator[Text]:
    y = box.bottom - 1.8 - ASCENT * WORD_TYPE
    yield Text(Point(_LEFT - _BRACKET, y), "END 0", WORD_TYPE, bold=True)
    yield Text(Point(box.right, y), "END 1", WORD_TYPE, anchor="end", bold=True)


def _letters(one: _Shown) -> Iterator[Text]:
    """The letter of a face in large, of a round tube one at each line, left of end 0."""
    if one.piece.strip:
        yield _letter(one.piece.name, (one.bottom + one.top) / 2, _LETTER)
        return
    named = dict(one.piece.lines)
    for letter, y in named.items():
        yield _letter(letter, one.bottom + y * one.up, _LINE_LETTER)
    for letter in "ABCD":
        if letter not in named:
            # The seam lies on this line, so it is at both edges.
            yield _letter(letter, one.bottom, _LINE_LETTER)
            yield _letter(letter, one.top, _LINE_LETTER)


def _letter(letter: str, middle: float, size: float) -> Text:
    at = Point((_LEFT - _BRACKET - 1.0) / 2, middle - ASCENT * size / 2)
    return Text(at, letter, size, anchor="middle", bold=True)


def _lines(one: _Shown) -> Iterator[Path]:
    """The lines along a round tube."""
    for letter, y in one.piece.lines:
        start, end = (one.at(Point(x_at(ends, y), y)) for ends in (one.piece.near, one.piece.far))
        yield line(start, end, Layer.MARK if letter == "A" else Layer.FINE)


def _dots(one: _Shown) -> Iterator[Dot]:
    punches = [(p, Layer.DRILLED_HOLE) for p in one.piece.punches]
    punches += [(p, Layer.LATER) for p in one.piece.later]
    punches.sort(key=lambda pair: (pair[0].mark.group, pair[0].mark.comes_out, pair[0].mark.number))
    for punch, layer in punches:
        mark = punch.mark
        radius = max(_LEAST_RADIUS, mark.drill.dia / 2 * min(one.along, one.up))
        group = f"{one.piece.name} {mark.comes_out} {mark.group}"
        yield Dot(mark.number, group, one.at(punch.at), radius, least_arm=radius, layer=layer)
