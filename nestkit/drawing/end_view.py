"""A section as it is seen from end 0: which face has which letter, for whoever holds the tube."""

from __future__ import annotations

import math

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Mark, Path, Text, line
from nestkit.drawing.type import ASCENT
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.section import FACES, Section

SIZE = 15.0
"""The longer side of the section on paper, in mm."""
_ROUND = 6.5
"""Room around it for letters."""
_LETTER = 4.6
_CAPTION = 3.0
_CAPTION_ROOM = 4.4

WIDTH = SIZE + 2 * _ROUND
HEIGHT = WIDTH + _CAPTION_ROOM


def end_view(section: Section) -> Drawing:
    """Return the section seen from end 0 with A up: B, which is towards you, is then at the right.

    Thin sections are drawn thicker than they are.
    """
    middle = Point(WIDTH / 2, _CAPTION_ROOM + WIDTH / 2)
    caption = Text(Point(middle.x, _CAPTION * 0.3), "seen from end 0", _CAPTION, anchor="middle")
    if section.is_round:
        marks, half_x, half_y = _disc(section, middle), SIZE / 2, SIZE / 2
    else:
        marks, half_x, half_y = _faced(section, middle)
    letters = FACES if section.is_round else section.faces
    away = {"A": (0.0, half_y), "B": (half_x, 0.0), "C": (0.0, -half_y), "D": (-half_x, 0.0)}
    texts = [_letter(face, middle.moved(*away[face]), _off(away[face])) for face in letters]
    return Drawing(WIDTH, HEIGHT, (*marks, *texts, caption))


def _off(away: tuple[float, float]) -> tuple[float, float]:
    return math.copysign(1.0, away[0]) * bool(away[0]), math.copysign(1.0, away[1]) * bool(away[1])


def _letter(letter: str, at: Point, off: tuple[float, float]) -> Text:
    centre = at.moved(off[0] * _ROUND / 2, off[1] * _ROUND / 2)
    return Text(centre.moved(0, -ASCENT * _LETTER / 2), letter, _LETTER, anchor="middle", bold=True)


def _disc(section: Section, middle: Point) -> list[Mark]:
    marks: list[Mark] = [Circle(middle, SIZE / 2, Layer.HEAVY)]
    if section.kind == "round":
        marks.append(Circle(middle, SIZE / 2 - 2.0, Layer.PART_EDGE))
    marks.append(line(middle.moved(0, SIZE / 2 - 3.2), middle.moved(0, SIZE / 2), Layer.HEAVY))
    return marks


def _faced(section: Section, middle: Point) -> tuple[list[Mark], float, float]:
    """Return the outline, and half its width and height: at the left is what lies away from you."""
    long = float(max(section.a, section.b))
    half_x = max(1.5, SIZE / 2 * float(section.a) / long)
    half_y = max(1.5, SIZE / 2 * float(section.b) / long)
    wall = 2.0
    if section.kind == "angle":
        corners = [
            (-half_x, half_y), (half_x, half_y), (half_x, -half_y),
            (half_x - wall, -half_y), (half_x - wall, half_y - wall), (-half_x, half_y - wall),
        ]  # fmt: skip
        return [_loop(middle, corners, Layer.HEAVY)], half_x, half_y
    marks: list[Mark] = [_loop(middle, _box(half_x, half_y), Layer.HEAVY)]
    inner_x, inner_y = half_x - wall, half_y - wall
    if section.kind == "tube" and inner_x > 0.5 and inner_y > 0.5:
        marks.append(_loop(middle, _box(inner_x, inner_y), Layer.PART_EDGE))
    return marks, half_x, half_y


def _box(x: float, y: float) -> list[tuple[float, float]]:
    return [(-x, -y), (x, -y), (x, y), (-x, y)]


def _loop(middle: Point, corners: list[tuple[float, float]], layer: Layer) -> Path:
    return Path(tuple(Vertex(*middle.moved(*corner)) for corner in corners), closed=True, layer=layer)
