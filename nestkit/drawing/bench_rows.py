"""Rows to fill in on a bench card: a step with its tick box and a line, a size with its blank."""

from __future__ import annotations

from nestkit.drawing.bench_drills import Step
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Mark, Text, line, outlined
from nestkit.drawing.template_flow import LEADING, wrapped
from nestkit.drawing.type import ASCENT, text_width
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import rectangle

SIGNED_OFF = "TRAINED ADULT, OR SIGNED OFF ON THE MACHINE"
_SIGNED_TYPE = 3.6
_BOX = 5.0
_PAD = 1.1
_NUMBER_AT, _TEXT_AT = 8.5, 17.5
_BLANK = 0.13
"""The line for initials, as a share of the row."""
_SIZE_TYPE = 4.0
_LEAST_BLANK = 13.0


def step_row(number: int, step: Step, width: float, size: float) -> Drawing:
    """Return a step as a row ``width`` mm wide: tick box, number, text, and a line for initials.

    A step that only a trained adult or a signed-off person does says so, in a heavy frame.
    """
    blank = width * (2.2 if step.signature else 1.0) * _BLANK
    lines = wrapped(step.text, width - _TEXT_AT - blank - 4.0, size, bold=step.large)
    texts: list[tuple[str, float, bool]] = []
    if step.signed_off:
        texts += [
            (t, _SIGNED_TYPE, True)
            for t in wrapped(SIGNED_OFF, width - _TEXT_AT - 2.0, _SIGNED_TYPE, bold=True)
        ]
    texts += [(t, size, step.large) for t in lines]
    high = max(_BOX, sum(LEADING * s for _, s, _ in texts)) + 2 * _PAD
    marks: list[Mark] = []
    y = high - _PAD - max(0.0, (_BOX - LEADING * size) / 2 if len(texts) == 1 else 0.0)
    first = 0.0
    for text, s, bold in texts:
        base = y - ASCENT * s - (LEADING - 1) * s / 2
        first = first or base
        marks.append(Text(Point(_TEXT_AT, base), text, s, bold=bold))
        y -= LEADING * s
    top = high - _PAD
    marks.append(outlined(rectangle(_BOX, _BOX, at=Point(2.0, top - _BOX)), Layer.PART_EDGE))
    marks.append(Text(Point(_NUMBER_AT, top - _BOX + 0.8), str(number), 4.6, bold=True))
    start, foot = width - 2.0 - blank, _PAD + 0.7
    marks.append(line(Point(start, foot), Point(width - 2.0, foot), Layer.FINE))
    if step.signature:
        marks.append(Text(Point(start, foot + 1.2), "Signed:", _SIGNED_TYPE))
    if step.signed_off:
        frame = Rect(0.0, 0.0, width, high).grown(-0.1)
        marks.append(outlined(rectangle(frame.width, frame.height, at=Point(0.1, 0.1)), Layer.HEAVY))
    return Drawing(width, high, tuple(marks))


def blank_row(text: str, width: float) -> Drawing:
    """Return a size to fill in: what it is and should be, then a line; below one another where narrow."""
    marks: list[Mark] = []
    lines = wrapped(text, width, _SIZE_TYPE)
    beside = len(lines) == 1 and text_width(text, _SIZE_TYPE) + 2.0 + _LEAST_BLANK <= width
    high = LEADING * _SIZE_TYPE * len(lines) + (2.6 if beside else 7.5)
    for row, part in enumerate(lines):
        base = high - 2.6 - LEADING * _SIZE_TYPE * row - ASCENT * _SIZE_TYPE
        marks.append(Text(Point(0.0, base), part, _SIZE_TYPE))
    start = text_width(text, _SIZE_TYPE) + 2.0 if beside else 0.0
    foot = 1.0 if beside else 0.6
    marks.append(line(Point(start, foot), Point(width, foot), Layer.FINE))
    return Drawing(width, high, tuple(marks))
