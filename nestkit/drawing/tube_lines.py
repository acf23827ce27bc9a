"""What of a tube's template stands where it stands: edges, ends, folds, punch marks, words at both ends.

Only the lines of B, C and D along a round tube give way to words."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Mark, Path, Text, line
from nestkit.drawing.punch import punch_boxes, punch_mark
from nestkit.drawing.template_labels import Field
from nestkit.drawing.tube_stack import Stack, Standing
from nestkit.drawing.type import fitted, text_width
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect, around

BRACKET = 1.2
"""The heavy line of end 0 stands this far outside it, as a datum's bracket does."""
_AWAY = 2.4
"""Words keep this far from an end."""
_END = 4.6
_FIRST = 16.4
"""Room for the first line of words before an end."""
_BELOW = 2.6
_LETTER = 9.0
_GAP = 0.8
"""Between a word on a line and what goes on of the line."""
_SLICE = 1.0
"""Height of the steps by which words keep off a slanting end."""

Slice = tuple[float, float, float]


def piece_lines(standing: Standing) -> tuple[Mark, ...]:
    """Return a piece's edges, ends, folds, lines, flap, punch marks, and what is drilled later, dashed."""
    piece = standing.piece
    near, far = _ends(standing)
    marks: list[Mark] = [
        line(near[0], far[0], Layer.PART_EDGE),
        line(near[-1], far[-1], Layer.PART_EDGE),
        _through(far, Layer.PART_EDGE),
    ]
    if piece.begins:
        marks.append(_through(near, Layer.HEAVY))
    else:
        marks += [
            _through(near, Layer.PART_EDGE),
            _through([p.moved(-BRACKET, 0.0) for p in near], Layer.HEAVY),
        ]
    if standing.flap:
        marks.append(_through(flap_corners(standing), Layer.FINE))
    marks += [line(*ends, Layer.NOTE_NO_CUT) for ends in fold_lines(standing)]
    marks += [line(*ends, Layer.MARK) for letter, ends in letter_lines(standing) if letter == "A"]
    for punch in piece.punches:
        marks += punch_mark(standing.at(punch.at), punch.mark.drill.dia)
    marks += [Circle(standing.at(p.at), p.mark.drill.dia / 2, Layer.LATER) for p in piece.later]
    return tuple(marks)


def flap_corners(standing: Standing) -> list[Point]:
    """Return the corners of what hangs below a strip, from end to end of its lower edge."""
    (near, *_), (far, *_) = _ends(standing)
    bottom = standing.flap_box.bottom
    return [near, Point(near.x, bottom), Point(far.x, bottom), far]


def fold_lines(standing: Standing) -> Iterator[tuple[Point, Point]]:
    """Yield the folds, from end to end."""
    return (_across(standing, y) for y in standing.piece.folds)


def letter_lines(standing: Standing) -> Iterator[tuple[str, tuple[Point, Point]]]:
    """Yield the lines along a round tube, each with its letter."""
    return ((letter, _across(standing, y)) for letter, y in standing.piece.lines)


def line_boxes(standing: Standing, *, that_break: bool = False) -> list[Rect]:
    """Return a thin box along each line of a round tube, or only along those that give way to words."""
    return [
        Rect(a.x, a.y, b.x, b.y).grown(0.2)
        for letter, (a, b) in letter_lines(standing)
        if not (that_break and letter == "A")
    ]


def broken_lines(standing: Standing, room: Rect, words: Iterable[Rect]) -> Iterator[Mark]:
    """Yield the lines of B, C and D as far as ``room`` shows them, with gaps where ``words`` stand."""
    boxes = [*words]
    for letter, (a, b) in letter_lines(standing):
        start, end = max(a.x, room.left), min(b.x, room.right)
        gaps = sorted((w.left - _GAP, w.right + _GAP) for w in boxes if w.bottom < a.y < w.top)
        for low, high in [] if letter == "A" else [*gaps, (end, end)]:
            if low > start:
                yield line(Point(start, a.y), Point(min(low, end), a.y), Layer.FINE)
            start = max(start, high)


def end_words(standing: Standing) -> tuple[Text, ...]:
    """Return what stands before end 0 and behind end 1: the face in large letters, and which end it is.

    Before a piece that begins elsewhere stands how far that is from end 0.
    """
    box, middle, begins = standing.box, standing.box.centre.y, standing.piece.begins
    left = (box.left if begins else min(0.0, box.left)) - _AWAY
    first, size = fitted(begins or "END 0", _FIRST, _END, least=2.0, bold=True)
    second = "from END 0" if begins else "at your left"
    words = [
        Text(Point(left, middle + 0.7), first, size, anchor="end", bold=True),
        Text(Point(left, middle - 3.2), second, _BELOW, anchor="end"),
        Text(Point(box.right + _AWAY, middle), "END 1", _END, Layer.LABEL, "middle", -90.0, bold=True),
    ]
    column = left - max(text_width(first, size, bold=True), text_width(second, _BELOW)) - 2.0
    for letter, y, room in _letters(standing):
        words.append(Text(Point(column, y - 0.36 * room), letter, room, anchor="end", bold=True))
    return tuple(words)


def _letters(standing: Standing) -> Iterator[tuple[str, float, float]]:
    """Yield each face's letter, how high its middle is, and in which size."""
    bands = standing.bands
    for band in bands:
        size = _LETTER if len(bands) == 1 else min(_LETTER, 0.95 * (band.top - band.bottom))
        yield band.letter, (band.top + band.bottom) / 2, size
    for letter, y in standing.piece.lines:
        yield letter, standing.bottom + y, min(5.0, 0.22 * standing.piece.height)


def inner_field(standing: Standing, room: Rect, kept_free: Iterable[Rect]) -> Field:
    """Return the inside of a piece, as far as ``room`` goes, with all taken that no word may lie on."""
    field = Field(room)
    for box in kept_free:
        field.take(box)
    for a, b in fold_lines(standing):
        field.take_line(a, b)
    for box in line_boxes(standing):
        field.take(box)
    for punch in standing.piece.punches:
        for box in punch_boxes(standing.at(punch.at), punch.mark.drill.dia):
            field.take(box)
    for box in standing.later_boxes:
        field.take(box)
    box = standing.box.grown(1.0)
    near, far = _ends(standing)
    for y0, y1, x in _slices(near, max):
        field.take(Rect(box.left, y0, x + 0.3, y1))
    for y0, y1, x in _slices(far, min):
        field.take(Rect(x - 0.3, y0, box.right, y1))
    return field


def outer_field(stack: Stack, room: Rect, kept_free: Iterable[Rect]) -> Field:
    """Return what is left around the pieces of a stack, as far as ``room`` goes."""
    field = Field(room)
    for box in (*kept_free, *taken(stack)):
        field.take(box)
    return field


def taken(stack: Stack) -> Iterator[Rect]:
    """Yield boxes around all pieces with their flaps, their punch marks and the words at their ends."""
    yield from stack.mark_boxes()
    for standing in stack.standing:
        yield around([standing.box.grown(0.5), standing.flap_box.grown(0.5)])
        yield from _taken_at_ends(standing)


def crosses_keep_off(stack: Stack, *, on_strips: bool) -> Iterator[Rect]:
    """Yield boxes that crosses keep off: lines and marks, and all strips unless ``on_strips``."""
    yield from stack.mark_boxes()
    yield from stack.later_boxes()
    for standing in stack.standing:
        if standing.piece.strip and not on_strips:
            yield around([standing.box.grown(0.5), standing.flap_box.grown(0.5)])
        else:
            box, levels = standing.box, (0.0, *standing.piece.folds, standing.piece.height)
            levels += tuple(y for _, y in standing.piece.lines)
            for y in levels:
                yield Rect(box.left, standing.bottom + y, box.right, standing.bottom + y).grown(0.3)
            for ends in _ends(standing):
                yield around(Rect(*p, *p) for p in ends).grown(0.3)
        yield from _taken_at_ends(standing)


def _taken_at_ends(standing: Standing) -> Iterator[Rect]:
    for text in end_words(standing):
        yield text.bounds
    near, _ = _ends(standing)
    yield around(Rect(*p, *p) for p in (near[0], near[-1])).grown(BRACKET + 0.5)


def _ends(standing: Standing) -> tuple[list[Point], list[Point]]:
    piece = standing.piece
    return [standing.at(p) for p in piece.near], [standing.at(p) for p in piece.far]


def _through(points: Iterable[Point], layer: Layer) -> Path:
    return Path(tuple(Vertex(*p) for p in points), closed=False, layer=layer)


def _across(standing: Standing, y: float) -> tuple[Point, Point]:
    """A line along the piece at a height of it, from one end to the other."""
    piece = standing.piece
    return standing.at(Point(x_at(piece.near, y), y)), standing.at(Point(x_at(piece.far, y), y))


def x_at(ends: tuple[Point, ...], y: float) -> float:
    """Return where an end is at a height."""
    for a, b in pairwise(ends):
        if a.y <= y <= b.y and b.y > a.y:
            return a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y)
    return ends[-1].x


def _slices(ends: list[Point], furthest: Callable[[float, float], float]) -> Iterator[Slice]:
    """Yield thin slices of a piece, upwards: from where to where, and how far an end reaches into each."""
    for a, b in pairwise(ends):
        # A square end is one slice.
        count = 1 if a.x == b.x else max(1, math.ceil((b.y - a.y) / _SLICE))
        for i in range(count):
            (x0, y0), (x1, y1) = (
                (a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
                for share in (i / count, (i + 1) / count)
            )
            yield y0, y1, furthest(x0, x1)
