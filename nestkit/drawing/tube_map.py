"""The maps of a tube's pages: rows of numbered cells from end 0 on, each row with the faces that it has."""

from __future__ import annotations

from collections.abc import Sequence

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Mark, Text, line, outlined
from nestkit.drawing.type import fitted, text_width
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.geometry.section import FACES
from nestkit.geometry.shapes import rectangle

_HIGHEST = 9.0
_NAME = 0.24
"""Share of the width that the faces take."""
_LEAST = 1.8
_GREY = 0.7

Span = tuple[float, float]
"""From where to where along a tube, in mm from end 0."""


def rows_map(
    rows: Sequence[tuple[str, Sequence[int]]], width: float, height: float, *, before: int, here: int
) -> Drawing:
    """Return rows of cells within a box; cell number ``here`` is grey, numbers count on from ``before``.

    Names and numbers are left out where they would be too small to read.
    """
    tall = min(_HIGHEST, height / len(rows))
    # A single row has all faces: its name would say nothing.
    start = width * _NAME if len(rows) > 1 else 0.0
    wide = min(2.0 * tall, (width - start) / max(len(numbers) for _, numbers in rows))
    marks: list[Mark] = []
    for i, (name, numbers) in enumerate(rows):
        bottom = (len(rows) - 1 - i) * tall
        marks += _row_name(name, start, bottom, tall)
        for column, number in enumerate(numbers):
            frame = rectangle(wide, tall, at=Point(start + column * wide, bottom))
            if number == here:
                marks.append(Fill(frame, _GREY))
            marks += _cell(frame, str(number + before), wide, tall)
    used = max(len(numbers) for _, numbers in rows) * wide
    return Drawing(start + used, tall * len(rows), tuple(marks))


def stretches_map(
    rows: Sequence[tuple[str, Sequence[Span]]],
    long: Span,
    width: float,
    height: float,
    *,
    before: int,
    here: int,
) -> Drawing:
    """Return rows of stretches of a tube in a box, numbered on from ``before`` through all rows.

    To scale, but for stretches too short for their number. ``long`` is from where to where the tube goes;
    stretch number ``here`` is grey.
    """
    tall = min(_HIGHEST, height / len(rows))
    start = width * _NAME if len(rows) > 1 else 0.0
    scale = (width - start) / (long[1] - long[0])
    marks: list[Mark] = []
    number = 0
    for i, (name, spans) in enumerate(rows):
        bottom = (len(rows) - 1 - i) * tall
        marks += _row_name(name, start, bottom, tall)
        middle = bottom + tall / 2
        marks.append(line(Point(start, middle), Point(width, middle), Layer.HEAVY))
        scaled = [((low - long[0]) * scale, (high - long[0]) * scale) for low, high in spans]
        for left, right in _readable(scaled, width - start, 0.55 * tall):
            number += 1
            frame = rectangle(right - left, tall, at=Point(start + left, bottom))
            marks.append(Fill(frame, _GREY if number == here else 1.0))
            marks += _cell(frame, str(number + before), right - left, tall)
    return Drawing(width, tall * len(rows), tuple(marks))


def _readable(spans: Sequence[Span], room: float, least: float) -> list[Span]:
    """Return spans in their order, each wide enough for its number, moved no further than that takes."""
    wide = [min(max(high - low, least), room / len(spans)) for low, high in spans]
    lefts: list[float] = []
    edge = 0.0
    for (low, _), own in zip(spans, wide, strict=True):
        lefts.append(max(low, edge))
        edge = lefts[-1] + own
    limit = room
    for i in reversed(range(len(lefts))):
        lefts[i] = min(lefts[i], limit - wide[i])
        limit = lefts[i]
    return [(left, left + own) for left, own in zip(lefts, wide, strict=True)]


def _row_name(name: str, room: float, bottom: float, tall: float) -> list[Mark]:
    """The faces of a row, where there is room for them."""
    if not room:
        return []
    faces = set(name) <= {*FACES, " "}
    text, size = fitted(
        name.replace(" ", "") if faces else name, room - 1.0, 0.6 * tall, least=_LEAST, bold=True
    )
    return [Text(Point(0.0, bottom + tall / 2 - 0.36 * size), text, size, bold=True)]


def _cell(frame: Outline, number: str, wide: float, tall: float) -> list[Mark]:
    """A frame with a number in its middle."""
    size = min(0.6 * tall, 0.8 * wide / text_width(number, 1.0, bold=True))
    middle = frame.bounds.centre
    marks: list[Mark] = [outlined(frame, Layer.FINE)]
    if size >= _LEAST:
        at = middle.moved(0.0, -0.36 * size)
        marks.append(Text(at, number, size, Layer.LABEL, "middle", bold=True))
    return marks
