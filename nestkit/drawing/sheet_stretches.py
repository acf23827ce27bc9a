"""A long piece off a roll, stretch by stretch, each as large as can be read at the bench."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Inset, Mark, Text, line
from nestkit.drawing.sheet_picture import (
    BOTTOM,
    GRAIN_ROOM,
    LEFT,
    RIGHT,
    SCALES,
    TOP,
    Plan,
    label_spans,
    sheet_plan,
)
from nestkit.drawing.type import text_width
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Group
from nestkit.layout.result import CutSheet
from nestkit.units import Unit, length_text, with_unit

NARROWEST = 50.0
"""Where the picture of the whole piece is narrower than this in mm on paper, its stretches follow."""
WIDE_ENOUGH = 95.0
"""A stretch is drawn about this wide in mm on paper, so that a page shows a good length of it."""
MOST_STRETCHES = 24
_PLACES = 48
"""Places along a page at which it may end."""


def stretch_plans(
    sheet: CutSheet, group: Group, *, unit: Unit, room: Rect, whole: int
) -> tuple[tuple[Plan, float, float], ...]:
    """Return the stretches of a piece with where each begins and ends, in mm from the lower end.

    ``room`` is what a page has for its picture, ``whole`` the scale at which the whole piece fits a page.
    Empty for a sheet, and for a piece that reads well enough as a whole.
    """
    stock = sheet.stock
    width, height = float(stock.width), float(stock.height)
    if not stock.roll or width / whole >= NARROWEST:
        return ()
    across, up = room.width - LEFT - RIGHT - GRAIN_ROOM, room.height - BOTTOM - TOP - GRAIN_ROOM
    least = max(width / across, min(width / WIDE_ENOUGH, whole / 2), height / (MOST_STRETCHES * up))
    scale = next((s for s in SCALES if s >= least), whole)
    if scale >= whole:
        return ()
    spans = [(low * scale, high * scale) for low, high in label_spans(sheet, unit, scale)]
    ends = _ends(sheet, spans, up * scale)
    return tuple(
        (sheet_plan(sheet, group, unit=unit, scale=scale, stretch=(_shown_from(spans, a), b)), a, b)
        for a, b in pairwise(ends)
    )


def map_of(
    sheet: CutSheet, group: Group, *, unit: Unit, scale: int, ends: Sequence[float], room: float
) -> Drawing:
    """Return the whole piece in small, at its right which page shows what of it; ``room`` mm wide at most.

    ``ends`` are where the stretches begin and end; they stand on the pages from the second on.
    """
    whole = sheet_plan(sheet, group, unit=unit, scale=scale, bare=True).drawing
    edge = LEFT + float(sheet.stock.width) / scale
    left = edge + (RIGHT + GRAIN_ROOM if sheet.stock.grain == "y" else RIGHT)
    places = [BOTTOM + end / scale for end in ends]
    said = [
        f"page {page}: {length_text(a, unit)} to {with_unit(b, unit)}"
        for page, (a, b) in enumerate(pairwise(ends), start=2)
    ]
    size = min(4.2, 0.7 * min(b - a for a, b in pairwise(places)))
    size *= min(1.0, (room - left) / max(text_width(text, size) for text in said))
    marks: list[Mark] = [Inset(whole, Point(0.0, 0.0))]
    marks += [line(Point(edge + 1.0, y), Point(left, y), Layer.FINE) for y in places]
    for text, (low, high) in zip(said, pairwise(places), strict=True):
        marks.append(Text(Point(left, (low + high) / 2 - 0.36 * size), text, size, Layer.LABEL))
    right = left + max(text_width(text, size) for text in said)
    return Drawing(max(whole.width, right), whole.height, tuple(marks), whole.title)


def _ends(sheet: CutSheet, labels: Sequence[tuple[float, float]], most: float) -> list[float]:
    """Return where stretches of ``most`` mm begin and end: where the fewest words, then parts, are parted."""
    height = float(sheet.stock.height)
    parts = [(float(p.y), float(p.y + p.height)) for p in sheet.parts]
    ends = [0.0]
    while height - _shown_from(labels, ends[-1]) > most:
        low = ends[-1]
        most_here = most - (low - _shown_from(labels, low))
        pages = -(-(height - low) // most)
        even = low + (height - low) / pages
        places = [low + most_here * (0.5 + 0.5 * i / _PLACES) for i in range(_PLACES + 1)]
        places += [y for part in parts for y in part if low + most_here / 2 <= y <= low + most_here]
        ends.append(min(places, key=lambda y: (_parted(labels, y), _parted(parts, y), abs(y - even))))
    return [*ends, height]


def _shown_from(labels: Sequence[tuple[float, float]], low: float) -> float:
    """Return from where a stretch is drawn: words that its lower end parts stand whole in it."""
    return min([low, *(below for below, above in labels if below < low < above)])


def _parted(spans: Sequence[tuple[float, float]], at: float) -> int:
    return sum(low < at < high for low, high in spans)
