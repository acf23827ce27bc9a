"""The part itself on a template: outline, openings, punch marks, labels, datum bracket, words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from nestkit.drawing.datum import datum_legs, datum_word
from nestkit.drawing.later_words import NOT_YET
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Mark, Path, Text, outlined
from nestkit.drawing.punch import CENTRE_ARM, centre_mark, opening_centres, punch_boxes, punch_mark
from nestkit.drawing.template_facts import Facts
from nestkit.drawing.template_holes import hole_label
from nestkit.drawing.template_labels import Field, place_label, place_words
from nestkit.drawing.type import ASCENT
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline
from nestkit.parts.holes import Hole

LABEL = 3.8
DATUM_TYPE = (3.5, 3.0, 2.5)
EDGE_TYPE = 2.6
WORDS = (7.0, 5.0, LABEL)
"""Type of the words on the part: the largest of these that finds room."""


@dataclass(frozen=True, slots=True)
class PartMarks:
    """The marks of a part in its own frame, and the holes that found no room for any label."""

    marks: tuple[Mark, ...]
    unlabelled: tuple[int, ...]


def part_marks(facts: Facts, room: Rect) -> PartMarks:
    """Return all of a part at full size; nothing but lines that must leaves ``room``."""
    labels = part_labels(facts, facts.view.holes, room)
    return PartMarks((*part_lines(facts, facts.view.holes), *labels.marks), labels.unlabelled)


def part_lines(facts: Facts, holes: Iterable[Hole]) -> tuple[Mark, ...]:
    """Return what of a part stands where it stands: outline, openings, datum's bracket, some punch marks."""
    punched = [mark for hole in holes for mark in punch_mark(hole.at, hole.dia)]
    outline = outlined(facts.view.outline, Layer.PART_EDGE)
    return (
        *sawn_box(facts),
        outline,
        *_openings(facts),
        *_engraved(facts),
        *datum_legs(facts.part_box, back=facts.back),
        *_disc_centre(facts),
        *punched,
        *(Circle(hole.at, hole.dia / 2, Layer.LATER) for hole in facts.later),
    )


def part_field(facts: Facts, room: Rect) -> Field:
    """Return a room in which all that stands where it stands is taken: no word may lie on it."""
    view = facts.view
    field = Field(room)
    for outline in view.outlines:
        field.take_outline(outline)
    for opening in view.openings:
        for centre in opening_centres(opening.outline):
            field.take(Rect(*centre, *centre).grown(CENTRE_ARM))
    for leg in datum_legs(facts.part_box, back=facts.back):
        for a, b in pairwise(leg.vertices):
            field.take_line(a.point, b.point)
    for mark in (*_engraved(facts), *_disc_centre(facts)):
        field.take(mark.bounds.grown(0.3))
    if sawn_box(facts):
        field.take_outline(box_outline(facts.part_box))
    for hole in view.holes:
        for box in punch_boxes(hole.at, hole.dia):
            field.take(box)
    for hole in facts.later:
        field.take(Rect(*hole.at, *hole.at).grown(hole.dia / 2 + 0.3))
    return field


def part_labels(facts: Facts, holes: Sequence[Hole], room: Rect, kept_free: Iterable[Rect] = ()) -> PartMarks:
    """Return labels of some holes and the words on the part, all within ``room``.

    They keep off all lines of the part, off every punch mark, and off ``kept_free``: seams between
    pages and the crosses on them.
    """
    view, field = facts.view, part_field(facts, room)
    for box in kept_free:
        field.take(box)
    marks: list[Mark] = [*_datum_word(facts, field)]
    centres = [hole.at for hole in (*view.holes, *facts.later)]
    unlabelled = []
    for hole in holes:
        cut = hole.number in facts.cut
        texts = (hole_label(hole, facts.unit, cut=cut), f"{hole.number} CUT" if cut else str(hole.number))
        label = place_label(field, hole.at, hole.dia, texts, LABEL, centres)
        marks += label
        if not label:
            unlabelled.append(hole.number)
    marks += _not_yet(facts, field, room, centres)
    if sawn_box(facts):
        marks += edge_words(facts, field, room)
    marks += _words(facts, field, room)
    return PartMarks(tuple(marks), tuple(unlabelled))


def _not_yet(facts: Facts, field: Field, room: Rect, centres: Sequence[Point]) -> Iterator[Mark]:
    """Yield the words at holes that are drilled later, where there is room: the table has them all."""
    for hole in facts.later:
        if room.holds(Rect(*hole.at, *hole.at).grown(hole.dia / 2)):
            texts = (f"{hole.number}  {NOT_YET}", f"{hole.number} {NOT_YET}")
            yield from place_label(field, hole.at, hole.dia, texts, LABEL, centres)


def _datum_word(facts: Facts, field: Field) -> list[Mark]:
    """The word below the bracket, as large as it stands whole; where the corner is not seen whole, none."""
    words = (datum_word(facts.part_box, back=facts.back, height=height) for height in DATUM_TYPE)
    word = next((word for word in words if field.free(word.bounds)), None)
    if word is None:
        return []
    field.take(word.bounds.grown(0.3))
    return [word]


def sawn_box(facts: Facts) -> tuple[Path, ...]:
    """Return the box that is sawn first, dashed, where the part's outline is cut out of it later."""
    if not facts.sawn_first or (facts.view.shape == "rectangle" and len(facts.view.outline.vertices) == 4):
        return ()
    return (outlined(box_outline(facts.part_box), Layer.NOTE_NO_CUT),)


def edge_words(facts: Facts, field: Field, room: Rect) -> list[Mark]:
    """Write SAWN EDGE inside each side of the sawn box, as far as it shows and has room."""
    box, marks = facts.part_box, list[Mark]()
    across = (max(box.left, room.left), min(box.right, room.right))
    up = (max(box.bottom, room.bottom), min(box.top, room.top))
    for turn, at, (low, high) in (
        (0.0, box.bottom + 1.4, across),
        (0.0, box.top - 1.2 - ASCENT * EDGE_TYPE, across),
        (90.0, box.left + 1.2 + ASCENT * EDGE_TYPE, up),
        (90.0, box.right - 1.4, up),
    ):
        steps = [low + (high - low) * i / 12 for i in (6, 4, 8, 2, 10, 3, 9, 5, 7, 1, 11)]
        feet = [Point(s, at) if turn == 0.0 else Point(at, s) for s in steps]
        texts = [Text(p, "SAWN EDGE", EDGE_TYPE, Layer.LABEL, "middle", turn, bold=True) for p in feet]
        text = next((t for t in texts if field.free(t.bounds)), None)
        if text is not None:
            field.take(text.bounds)
            marks.append(text)
    return marks


def _openings(facts: Facts) -> list[Mark]:
    marks: list[Mark] = []
    for opening in facts.view.openings:
        marks.append(outlined(opening.outline, Layer.OPENING))
        for centre in opening_centres(opening.outline):
            marks += centre_mark(centre)
    return marks


def _engraved(facts: Facts) -> list[Mark]:
    """Marks stand on the face that is up: a back does not show them."""
    if facts.back:
        return []
    return [Text(mark.at, mark.text, mark.height, Layer.MARK) for mark in facts.view.marks]


def _disc_centre(facts: Facts) -> tuple[Mark, ...]:
    """A disc is set out from its middle, unless a hole is there anyway."""
    view, middle = facts.view, facts.part_box.centre
    if view.shape != "disc" or any(hole.at.to(middle) < hole.dia + 6.0 for hole in view.holes):
        return ()
    return centre_mark(middle)


def _words(facts: Facts, field: Field, room: Rect) -> list[Mark]:
    marks: list[Mark] = []
    for text in (facts.face, facts.hand):
        sizes = WORDS if text else ()
        tries = (place_words(field, text, size, facts.view.outlines, room) for size in sizes)
        marks += next(filter(None, tries), [])
    return marks
