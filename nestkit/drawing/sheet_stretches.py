"""A long piece off a roll, stretch by stretch, each as large as can be read at the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from nestkit.drawing.datum import datum_bracket
from nestkit.drawing.hatch import hatch
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Mark, Text, line, outlined
from nestkit.drawing.sheet_dimensions import dimensions
from nestkit.drawing.sheet_picture import (
    BOTTOM,
    GRAIN_ROOM,
    LEFT,
    RIGHT,
    SCALES,
    TOP,
    Plan,
    grain_marks,
    label_spans,
    sheet_plan,
)
from nestkit.drawing.type import text_width
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline
from nestkit.job.model import Group
from nestkit.layout.result import CutSheet
from nestkit.units import Unit, length_text, with_unit

NARROWEST = 50.0
"""Where the picture of the whole piece is narrower than this in mm on paper, its stretches follow."""
WIDE_ENOUGH = 95.0
"""A stretch is drawn about this wide in mm on paper, so that a page shows a good length of it."""
MOST_STRETCHES = 24
MAP_WIDTH = 24.0
"""How wide the whole piece is drawn at least: at the scale of its length a long one would be a bar."""
MAP_SIGNS = "Here: grey parts, hatched offcuts. Lengths are to scale, the width is not."
_GREY, _PITCH, _EDGED = 0.8, 2.4, 1.2
"""How grey a part is, how far apart the lines of a hatch are, and from which size an edge is drawn."""
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


def map_of(sheet: CutSheet, *, unit: Unit, scale: int, ends: Sequence[float], room: float) -> Drawing:
    """Return the whole piece in small, at its right which page shows what of it; ``room`` mm wide at most.

    Its lengths are at 1 to ``scale``, but it is drawn wide enough to see. ``ends`` are where the stretches
    begin and end; they stand on the pages from the second on.
    """
    stock = sheet.stock
    width, height = float(stock.width), float(stock.height)
    across = max(1 / scale, MAP_WIDTH / width)
    piece = Rect(LEFT, BOTTOM, LEFT + width * across, BOTTOM + height / scale)
    left = piece.right + RIGHT
    places = [BOTTOM + end / scale for end in ends]
    said = [
        f"page {page}: {length_text(a, unit)} to {with_unit(b, unit)}"
        for page, (a, b) in enumerate(pairwise(ends), start=2)
    ]
    grain = GRAIN_ROOM if stock.grain == "y" else 0.0
    size = min(4.2, 0.7 * min(b - a for a, b in pairwise(places)))
    size *= min(1.0, (room - grain - left) / max(text_width(text, size) for text in said))
    marks: list[Mark] = []
    for part in sheet.parts:
        marks += _small(part.x, part.y, part.width, part.height, (across, 1 / scale), Layer.PART_EDGE)
    for offcut in sheet.offcuts:
        marks += _small(offcut.x, offcut.y, offcut.width, offcut.height, (across, 1 / scale), Layer.HATCH)
    marks.append(outlined(box_outline(piece), Layer.HEAVY))
    marks += [line(Point(piece.left, y), Point(left, y), Layer.FINE) for y in places]
    for text, (low, high) in zip(said, pairwise(places), strict=True):
        marks.append(Text(Point(left + 1.0, (low + high) / 2 - 0.36 * size), text, size, Layer.LABEL))
    right = left + 1.0 + max(text_width(text, size) for text in said)
    beside = Rect(piece.left, piece.bottom, right if stock.grain == "y" else piece.right, piece.top)
    marks += [*datum_bracket(piece, back=False), *dimensions(piece, sheet, unit, None)]
    marks += grain_marks(beside, stock.grain)
    top = piece.top + TOP + (GRAIN_ROOM if stock.grain == "x" else 0.0)
    return Drawing(right + grain, top, tuple(marks), stock.name)


def _small(
    x: Fraction, y: Fraction, width: Fraction, height: Fraction, scale: tuple[float, float], layer: Layer
) -> Iterator[Mark]:
    """A part, grey, or an offcut, hatched; with an edge where it is large enough for one."""
    across, up = scale
    corner = Point(LEFT + float(x) * across, BOTTOM + float(y) * up)
    box = Rect(*corner, corner.x + float(width) * across, corner.y + float(height) * up)
    if layer is Layer.HATCH:
        yield from hatch(box, _PITCH)
    else:
        yield Fill(box_outline(box), _GREY)
    if min(box.width, box.height) >= _EDGED:
        yield outlined(box_outline(box), Layer.FINE)


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
