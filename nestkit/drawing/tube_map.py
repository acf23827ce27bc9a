"""The map of a tube's pages: rows of numbered cells from end 0 on, each row with the faces that it has."""

from __future__ import annotations

from collections.abc import Sequence

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Mark, Text, outlined
from nestkit.drawing.type import fitted, text_width
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle

_HIGHEST = 9.0
_NAME = 0.24
"""Share of the width that the faces take."""
_LEAST = 1.8
_GREY = 0.7


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
        if start:
            text, size = fitted(name.replace(" ", ""), start - 1.0, 0.6 * tall, least=_LEAST, bold=True)
            marks.append(Text(Point(0.0, bottom + tall / 2 - 0.36 * size), text, size, bold=True))
        for column, number in enumerate(numbers):
            frame = rectangle(wide, tall, at=Point(start + column * wide, bottom))
            if number == here:
                marks.append(Fill(frame, _GREY))
            marks += _cell(frame, str(number + before), wide, tall)
    used = max(len(numbers) for _, numbers in rows) * wide
    return Drawing(start + used, tall * len(rows), tuple(marks))


def _cell(frame: Outline, number: str, wide: float, tall: float) -> list[Mark]:
    """A frame with a number in its middle."""
    size = min(0.6 * tall, 0.8 * wide / text_width(number, 1.0, bold=True))
    middle = frame.bounds.centre
    marks: list[Mark] = [outlined(frame, Layer.FINE)]
    if size >= _LEAST:
        at = middle.moved(0.0, -0.36 * size)
        marks.append(Text(at, number, size, Layer.LABEL, "middle", bold=True))
    return marks
