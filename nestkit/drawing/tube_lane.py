"""Labels of a strip too narrow for them: on a flap below it, each turned, straight under its mark."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Text, line
from nestkit.drawing.punch import reach
from nestkit.drawing.template_holes import hole_label
from nestkit.drawing.template_labels import Field, place_label
from nestkit.drawing.template_part import LABEL
from nestkit.drawing.tube_lines import inner_field
from nestkit.drawing.tube_piece import Piece, Punch
from nestkit.drawing.tube_stack import Standing, stacked
from nestkit.drawing.type import ASCENT, DESCENT, text_width
from nestkit.geometry.points import Point, Rect
from nestkit.parts.tube import WallMark
from nestkit.units import Unit

_APART = (ASCENT + DESCENT) * LABEL + 0.7
"""From label to label."""
_DROP = 2.4
"""A label hangs this far below the strip and its marks, so that a line can lead to it."""
_END = 2.0


def mark_label(mark: WallMark, unit: Unit) -> str:
    """Return the label of a place to punch: number, drill, diameter; OUT where a drill comes out."""
    return f"{hole_label(mark, unit)}{' OUT' if mark.comes_out else ''}"


def flap_of(piece: Piece, unit: Unit) -> float:
    """Return how long a strip's flap must be; 0 where all labels find room on the piece itself."""
    if not piece.strip or not piece.punches:
        return 0.0
    [standing] = stacked([(piece, 0.0)]).standing
    field = inner_field(standing, standing.box, ())
    centres = [standing.at(p.at) for p in (*piece.punches, *piece.later)]
    for punch, at in zip(piece.punches, centres, strict=False):
        if not standing.box.holds(Rect(*at, *at)):
            continue  # beyond the end: a fault of the job, for which no flap helps
        text = mark_label(punch.mark, unit)
        if not place_label(field, at, punch.mark.drill.dia, [text], LABEL, centres):
            widest = max(text_width(mark_label(p.mark, unit), LABEL, bold=True) for p in piece.punches)
            return _lowest(piece) + _DROP + widest + _END
    return 0.0


def lane_labels(
    standing: Standing, punches: Sequence[Punch], unit: Unit, edges: Iterable[float], field: Field
) -> tuple[list[Mark], list[int]]:
    """Return the labels of some marks on the flap, and the numbers of those that found no place.

    They keep off the upright ``edges`` of pages; the ``field`` of the flap then has them.
    """
    marks: list[Mark] = []
    missed: list[int] = []
    half = _APART / 2
    bars = [(x - half, x + half) for x in edges]
    top = standing.bottom - _lowest(standing.piece) - _DROP
    last = field.room.left
    for punch in sorted(punches, key=lambda p: (p.at.x, -p.at.y, p.mark.number)):
        x = max(punch.at.x, last + half)
        for low, high in sorted(bars):
            x = high if low < x < high else x
        text = Text(
            Point(x - (ASCENT - DESCENT) / 2 * LABEL, top), mark_label(punch.mark, unit), LABEL, Layer.LABEL,
            "start", -90.0, bold=True,
        )  # fmt: skip
        if not field.free(text.bounds):
            missed.append(punch.mark.number)
            continue
        last = x + half
        at = standing.at(punch.at)
        start = Point(at.x, min(standing.bottom, at.y - reach(punch.mark.drill.dia)) - 0.5)
        lead = (start, Point(x, top + 0.5))
        field.take(text.bounds.grown(0.4))
        field.take_line(*lead)
        marks += [text, line(*lead, Layer.FINE)]
    return marks, missed


def flap_field(standing: Standing, room: Rect, kept_free: Iterable[Rect]) -> Field:
    """Return the flap of a strip as far as ``room`` goes, its marks taken."""
    field = Field(standing.flap_box.common(room))
    for box in kept_free:
        field.take(box)
    for punch in standing.piece.punches:
        field.take(Rect(*standing.at(punch.at), *standing.at(punch.at)).grown(reach(punch.mark.drill.dia)))
    for box in standing.later_boxes:
        field.take(box)
    return field


def _lowest(piece: Piece) -> float:
    """How far marks reach below a piece's lower edge."""
    return max((0.0, *(reach(p.mark.drill.dia) - p.at.y for p in piece.punches)))
