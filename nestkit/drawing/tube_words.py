"""The words of a tube's template on a page: labels of marks, letters of faces, which end, which edge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, pairwise

from nestkit.drawing.later_words import NOT_YET
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Path, Text
from nestkit.drawing.template_labels import Field, place_label
from nestkit.drawing.template_part import LABEL, PartMarks
from nestkit.drawing.tube_lane import flap_field, lane_labels, mark_label
from nestkit.drawing.tube_lines import (
    broken_lines,
    end_words,
    flap_corners,
    inner_field,
    letter_lines,
    line_boxes,
    outer_field,
    piece_lines,
)
from nestkit.drawing.tube_piece import Punch
from nestkit.drawing.tube_stack import Stack, Standing
from nestkit.drawing.type import ASCENT, DESCENT, text_box, text_width
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.units import Unit

_LETTERS = (8.0, 6.0, LABEL, 3.0, 2.5)
"""Type of a face's letter on its piece: the largest of these that finds room."""
_ENDS = (LABEL, 3.0, 2.5)
_EDGE = 2.6
_ARROW, _BARB = 6.0, 0.9
_STEPS = (6, 4, 8, 2, 10, 3, 9, 5, 7, 1, 11)


def stack_marks(stack: Stack, unit: Unit, room: Rect) -> PartMarks:
    """Return all of a stack at full size, on one page; nothing but lines that must leaves ``room``."""
    lines = [mark for standing in stack.standing for mark in piece_lines(standing)]
    words = window_words(stack, unit, room)
    return PartMarks((*lines, *words.marks), words.unlabelled)


def window_words(
    stack: Stack, unit: Unit, window: Rect, kept_free: Iterable[Rect] = (), edges: Iterable[float] = ()
) -> PartMarks:
    """Return the words of a stack on one page, all within its ``window``.

    They keep off all lines and punch marks, and off ``kept_free``: seams between pages, whose upright
    ``edges`` labels on a flap stand beside, and the crosses on them.
    """
    free, upright = [*kept_free], [*edges]
    outer = outer_field(stack, window, free)
    marks: list[Mark] = []
    unlabelled: set[int] = set()
    for standing in stack.standing:
        # A word that a cross or the edge of a page would lie on is left out: the piece says it, too.
        words_at_ends = [text for text in end_words(standing) if window.holds(text.bounds)]
        marks += [t for t in words_at_ends if not any(box.meets(t.bounds) for box in free)]
        room = standing.box.common(window)
        if room.width <= 0.0 or room.height <= 0.0:
            continue
        shown = [p for p in standing.piece.punches if window.holds(_ring(standing, p))]
        inner = inner_field(standing, room, free)
        if standing.flap:
            flap = flap_field(standing, window, free)
            for a, b in pairwise(flap_corners(standing)):
                flap.take_line(a, b)
            words, missed = _on_flap(standing, shown, unit, upright, flap)
        else:
            words, missed = _labels(standing, shown, unit, inner)
        unlabelled.update(missed)
        words += _not_yet(standing, window, inner)
        words += _face_letters(standing, room, inner, outer)
        words += _which_end(standing, room, inner, outer)
        words += _edge_words(standing, room, inner, outer)
        marks += [*words, *broken_lines(standing, room, [w.bounds for w in words])]
    return PartMarks(tuple(marks), tuple(sorted(unlabelled)))


def _on_flap(
    standing: Standing, shown: Sequence[Punch], unit: Unit, edges: Iterable[float], flap: Field
) -> tuple[list[Mark], list[int]]:
    """The labels of marks on a strip's flap, and where to fold it."""
    labels, missed = lane_labels(standing, shown, unit, edges, flap)
    words = [f"FOLD DOWN on the {standing.piece.below}", "FOLD DOWN", "FOLD"]
    ups = [standing.bottom - 0.9 - ASCENT * _EDGE - down for down in (0.0, 4.0, 8.0, 12.0)]
    tries = (text for word in words for up in ups for text in _along_edge([word], flap.room, up))
    return [*labels, *_one(flap, tries)], missed


def _ring(standing: Standing, punch: Punch) -> Rect:
    return Rect(*standing.at(punch.at), *standing.at(punch.at)).grown(punch.mark.drill.dia / 2)


def _labels(
    standing: Standing, shown: Iterable[Punch], unit: Unit, inner: Field
) -> tuple[list[Mark], list[int]]:
    """The labels of marks on the piece itself, and the numbers of those that found no place."""
    marks: list[Mark] = []
    missed: list[int] = []
    centres = [standing.at(p.at) for p in (*standing.piece.punches, *standing.piece.later)]
    lines = line_boxes(standing, that_break=True)
    for punch in shown:
        mark = punch.mark
        texts = (mark_label(mark, unit), f"{mark.number}{' OUT' if mark.comes_out else ''}", str(mark.number))
        at, dia = standing.at(punch.at), mark.drill.dia
        label = place_label(inner, at, dia, texts[:1], LABEL, centres)
        if not label:
            # Rather than none, a label stands on a line, which then has a gap.
            for box in lines:
                inner.give_back(box)
            label = place_label(inner, at, dia, texts, LABEL, centres)
            for box in lines:
                inner.take(box)
        marks += label
        if not label:
            missed.append(mark.number)
    return marks, missed


def _not_yet(standing: Standing, window: Rect, inner: Field) -> Iterator[Mark]:
    """Yield the words at holes that are drilled later, where the piece has room: the table has them all."""
    centres = [standing.at(p.at) for p in (*standing.piece.punches, *standing.piece.later)]
    for punch in standing.piece.later:
        if window.holds(_ring(standing, punch)):
            text = f"{punch.mark.number} {NOT_YET}"
            yield from place_label(inner, standing.at(punch.at), punch.mark.drill.dia, [text], LABEL, centres)


def _face_letters(standing: Standing, room: Rect, inner: Field, outer: Field) -> Iterator[Text]:
    """Each face's letter, large, near the left of what a page shows of it; of a round one, at its line."""
    across, over = _across(room), standing.box.top + 1.8
    for band in standing.bands:
        low, high = max(band.bottom, room.bottom), min(band.top, room.top)
        within = (
            Text(Point(x, (low + high) / 2 - 0.36 * size), band.letter, size, bold=True)
            for size in _LETTERS
            if size <= high - low
            for x in across
        )
        above = (Text(Point(x, over), band.letter, LABEL, bold=True) for x in across)
        found = _one(inner, within)
        yield from found or (_one(outer, above) if standing.piece.strip else [])
    for letter, (a, _) in letter_lines(standing):
        yield from _one(
            inner,
            (
                Text(Point(x, a.y + 0.6 + DESCENT * size), letter, size, bold=True)
                for size in _LETTERS[2:]
                for x in across
            ),
        )


def _which_end(standing: Standing, room: Rect, inner: Field, outer: Field) -> list[Mark]:
    """END 0 with an arrow that points there: on the piece, or else above it."""
    starts = room.left <= standing.box.left and not standing.piece.begins
    said = "END 0" if starts else "to END 0"
    piece, across = standing.box, _across(room)
    up = [piece.centre.y + d * piece.height / 12 for d in (0, 3, -3, 4, -4, 2, -2, 5, -5)]
    within = ((inner, Point(x, y), size) for size in _ENDS for x in across for y in up)
    above = ((outer, Point(x, piece.top + 2.8), _EDGE) for x in across)
    for field, at, size in chain(within, above):
        box = _arrow_box(at, said, size).grown(0.5)
        if field.free(box):
            field.take(box)
            return _arrow(at, said, size)
    return []


def _arrow_box(tip: Point, said: str, size: float) -> Rect:
    """The box around what :func:`_arrow` draws: most of the places tried are not free."""
    text = text_box(tip.moved(_ARROW + 1.0, -0.36 * size), said, size, "start", 0.0, True)
    return Rect(tip.x, min(tip.y - _BARB, text.bottom), text.right, max(tip.y + _BARB, text.top))


def _arrow(tip: Point, said: str, size: float) -> list[Mark]:
    """An arrow to the left with what is said behind it, its middle at the height of ``tip``."""
    points = [(1.6, _BARB), (0.0, 0.0), (_ARROW, 0.0), (0.0, 0.0), (1.6, -_BARB)]
    path = Path(tuple(Vertex(tip.x + x, tip.y + y) for x, y in points), closed=False, layer=Layer.MARK)
    return [path, Text(tip.moved(_ARROW + 1.0, -0.36 * size), said, size, bold=True)]


def _edge_words(standing: Standing, room: Rect, inner: Field, outer: Field) -> Iterator[Text]:
    """Along each edge what lies beyond it, inside the piece or else outside; along each fold its name."""
    piece, box = standing.piece, standing.box
    if box.bottom >= room.bottom - 1e-6 and not standing.flap:
        yield from _one(inner, _along_edge([piece.below], room, box.bottom + 1.2)) or _one(
            outer, _along_edge([piece.below], room, box.bottom - 1.2 - ASCENT * _EDGE)
        )
    if box.top <= room.top + 1e-6:
        yield from _one(inner, _along_edge([piece.above], room, box.top - 1.0 - ASCENT * _EDGE)) or _one(
            outer, _along_edge([piece.above], room, box.top + 1.8)
        )
    for fold in piece.folds:
        yield from _one(inner, _along_edge(["FOLD"], room, standing.bottom + fold + 0.9))


def _along_edge(words: Iterable[str], room: Rect, y: float) -> Iterator[Text]:
    """Yield words along an edge, the fullest first, at places spread over a room."""
    for text in words:
        half = text_width(text, _EDGE, bold=True) / 2 + 0.5
        for step in _STEPS:
            x = room.left + room.width * step / 12
            yield Text(
                Point(min(max(x, room.left + half), room.right - half), y),
                text,
                _EDGE,
                Layer.LABEL,
                "middle",
                bold=True,
            )


def _across(room: Rect) -> list[float]:
    """Places from the left of a room on, near ones close to each other."""
    return [room.left + 2.0 + room.width * (i / 40) ** 1.3 for i in range(39)]


def _one(field: Field, texts: Iterable[Text]) -> list[Text]:
    """Return the first of some texts that is free, its room taken; none where none is."""
    for text in texts:
        if field.free(text.bounds.grown(0.3)):
            field.take(text.bounds.grown(0.5))
            return [text]
    return []
