"""Rows of a cut plan: tick boxes, large lengths, small words beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Mark, Text, line, outlined
from nestkit.drawing.template_flow import LEADING, wrapped
from nestkit.drawing.type import fitted, text_width
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle

_BOX = 5.0
_COUNT_AT, _LENGTH_AT, _NAME_AT = 27.0, 30.0, 78.0
_TOTAL = 33.0
_WORDS = 4.0
_MOST_BOXES = 48
"""Of more sticks there is a line for tally marks instead of a box each."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """How large the rows are: the type of lengths, and the room above and below."""

    length: float
    pad: float


LARGE, SMALL = Sizes(7.0, 0.9), Sizes(5.6, 0.5)


def piece_row(
    count: str, length: str, said: str, total: str, width: float, sizes: Sizes, *, box: bool
) -> Drawing:
    """Return a row: a tick box, how many, the length in large, what it becomes, how much is gone by then."""
    words = wrapped(said, width - _NAME_AT - _TOTAL - 2.0, _WORDS)
    high = max(LEADING * sizes.length, LEADING * _WORDS * len(words), _BOX if box else 0.0) + 2 * sizes.pad
    middle = high / 2
    marks: list[Mark] = []
    if box:
        marks.append(_tick(Point(0.0, middle - _BOX / 2)))
    base = middle - 0.36 * sizes.length
    text, size = fitted(count, _COUNT_AT - _BOX - 1.5, sizes.length, least=2.0, bold=True)
    marks.append(Text(Point(_COUNT_AT, base), text, size, anchor="end", bold=True))
    text, size = fitted(length, _NAME_AT - _LENGTH_AT - 2.0, sizes.length, least=3.0, bold=True)
    marks.append(Text(Point(_LENGTH_AT, base), text, size, bold=True))
    marks += _stacked(words, _NAME_AT, middle)
    text, size = fitted(total, _TOTAL, _WORDS, least=2.4)
    marks.append(Text(Point(width, middle - 0.36 * size), text, size, anchor="end"))
    marks.append(line(Point(0.0, 0.0), Point(width, 0.0), Layer.FINE))
    return Drawing(width, high, tuple(marks))


def word_row(said: str, total: str, width: float, sizes: Sizes, *, box: bool, bold: bool = False) -> Drawing:
    """Return a row of words alone, with what is gone at its end."""
    room = width - 8.0 - (_TOTAL + 2.0 if total else 0.0)
    words = wrapped(said, room, _WORDS, bold=bold)
    high = max(LEADING * _WORDS * len(words), _BOX if box else 0.0) + 2 * sizes.pad
    marks: list[Mark] = [_tick(Point(0.0, high / 2 - _BOX / 2))] if box else []
    marks += _stacked(words, 8.0, high / 2, bold=bold)
    text, size = fitted(total, _TOTAL, _WORDS, least=2.4)
    if text:
        marks.append(Text(Point(width, high / 2 - 0.36 * size), text, size, anchor="end"))
    marks.append(line(Point(0.0, 0.0), Point(width, 0.0), Layer.FINE))
    return Drawing(width, high, tuple(marks))


def setting_row(number: str, stop: str, pieces: str, width: float) -> Drawing:
    """Return a setting of the stop: a tick box, its number, its length in very large, how many pieces."""
    size = 9.0
    high = LEADING * size + 2.0
    base = high / 2 - 0.36 * size
    marks: list[Mark] = [_tick(Point(0.0, high / 2 - _BOX / 2))]
    marks.append(Text(Point(8.0, base), number, 5.0, bold=True))
    at = max(30.0, 8.0 + text_width(number, 5.0, bold=True) + 4.0)
    said, tall = fitted(pieces, 50.0, 6.0, least=3.0, bold=True)
    marks.append(Text(Point(width, base), said, tall, anchor="end", bold=True))
    said, tall = fitted(stop, width - at - 54.0, size, least=4.0, bold=True)
    marks.append(Text(Point(at, base), said, tall, bold=True))
    marks.append(line(Point(0.0, high - 0.2), Point(width, high - 0.2), Layer.PART_EDGE))
    return Drawing(width, high, tuple(marks))


def tick_boxes(numbers: Sequence[int], width: float) -> Drawing:
    """Return a box to tick for each stick, with its number; of very many a line for tally marks."""
    if len(numbers) > _MOST_BOXES:
        said = f"Done, of {len(numbers)} (tally):"
        start = text_width(said, _WORDS) + 3.0
        marks: tuple[Mark, ...] = (
            Text(Point(0.0, 2.0), said, _WORDS),
            line(Point(start, 1.0), Point(width, 1.0), Layer.FINE),
        )
        return Drawing(width, 9.0, marks)
    step = _BOX + 1.2 + max(text_width(str(n), 3.4) for n in numbers) + 3.0
    in_a_row = max(1, int(width / step))
    rows = -(-len(numbers) // in_a_row)
    high = rows * (_BOX + 1.4) + 1.0
    found: list[Mark] = []
    for place, number in enumerate(numbers):
        x = (place % in_a_row) * step
        y = high - (place // in_a_row + 1) * (_BOX + 1.4)
        found.append(_tick(Point(x, y)))
        found.append(Text(Point(x + _BOX + 1.2, y + _BOX / 2 - 0.36 * 3.4), str(number), 3.4))
    return Drawing(width, high, tuple(found))


def _tick(at: Point) -> Mark:
    return outlined(rectangle(_BOX, _BOX, at=at), Layer.PART_EDGE)


def _stacked(words: Sequence[str], left: float, middle: float, *, bold: bool = False) -> list[Text]:
    """Return lines of words, their block's middle at a height."""
    first = middle + LEADING * _WORDS * (len(words) - 1) / 2 - 0.36 * _WORDS
    return [
        Text(Point(left, first - LEADING * _WORDS * n), part, _WORDS, bold=bold)
        for n, part in enumerate(words)
    ]
