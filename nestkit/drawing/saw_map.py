"""The sheet in small, as it lies before a cut: what is done, what is on the saw, what is left over."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Mark, line
from nestkit.drawing.saw_picture import frame, inside
from nestkit.estimate.saw_repeats import Repeat
from nestkit.estimate.saw_steps import Box, Gained, SawStep
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline
from nestkit.layout.result import CutSheet

MAP = Rect(0.0, 0.0, 26.0, 38.0)
"""Room in mm for the picture."""

_LEAST_WIDTH = 12.0
"""How wide it is at least."""
_THIN, _THIN_ON_SAW = 1.0, 1.8
"""What is drawn narrower would be a black bar: it is drawn so wide, and without a hatch."""
_CLOSE = 0.6
"""Thin pieces of one kind that lie so near each other are drawn as one block."""
_APART = 0.9
"""Cuts are drawn where they lie so far apart."""


def sheet_map(sheet: CutSheet, done: Sequence[SawStep], repeat: Repeat) -> Drawing:
    """Return the sheet as it lies before some cuts, the pieces for the saw in heavy frames."""
    width, height = float(sheet.stock.width), float(sheet.stock.height)
    scale = min(MAP.width / width, MAP.height / height)
    # A long piece off a roll is drawn wider than it is.
    across = max(scale, _LEAST_WIDTH / width)
    room = Rect(0.0, 0.0, width * across, height * scale)
    pieces: dict[str, Gained] = {}
    for past in done:
        pieces.pop(past.cut.piece, None)
        pieces |= {g.name: g for g in past.gained}
    for step in repeat.sawn:
        pieces.pop(step.cut.piece, None)
    marks: list[Mark] = []
    thin: dict[object, list[tuple[Gained, Rect]]] = {}
    for piece in pieces.values():
        box = _small(piece.box, across, scale)
        if min(box.width, box.height) < _THIN:
            kind = (piece.done is not None, bool(piece.parts), piece.keep, piece.clear)
            thin.setdefault(kind, []).append((piece, box))
        else:
            marks += [*inside(piece, box), frame(box, Layer.FINE)]
    for alike in thin.values():
        for box in _blocks(box for _, box in alike):
            marks += _block(alike[0][0], box, room)
    on_saw = [_small(step.piece, across, scale) for step in repeat.sawn]
    marks += [frame(box, Layer.FINE) for box in on_saw if min(box.width, box.height) >= _THIN]
    marks += [frame(_widened(box, _THIN_ON_SAW, room), Layer.HEAVY) for box in _blocks(on_saw)]
    marks += _cut_lines(repeat, across, scale)
    return Drawing(MAP.width, room.height, tuple(marks))


def _small(box: Box, across: float, up: float) -> Rect:
    left, bottom, right, top = (float(side) for side in box)
    return Rect(left * across, bottom * up, right * across, top * up)


def _block(piece: Gained, box: Rect, room: Rect) -> Iterable[Mark]:
    """Thin pieces side by side, or one alone, which is drawn wider than it is and over its neighbours."""
    if min(box.width, box.height) >= _THIN:
        return (*inside(piece, box), frame(box, Layer.FINE))
    wide = box_outline(_widened(box, _THIN, room))
    filled = tuple(inside(piece, _widened(box, _THIN, room))) if piece.done is not None else ()
    return (Fill(wide), *filled, frame(_widened(box, _THIN, room), Layer.FINE))


def _widened(box: Rect, least: float, room: Rect) -> Rect:
    """Return a box at least so wide and high, within the sheet."""
    width, height = min(max(box.width, least), room.width), min(max(box.height, least), room.height)
    left = min(max(box.centre.x - width / 2, room.left), room.right - width)
    bottom = min(max(box.centre.y - height / 2, room.bottom), room.top - height)
    return Rect(left, bottom, left + width, bottom + height)


def _blocks(boxes: Iterable[Rect]) -> list[Rect]:
    """Join boxes that lie side by side, with the same ends, to larger ones."""
    found = list(boxes)
    for axis in (1, 0, 1):
        rows: dict[tuple[float, float], list[Rect]] = {}
        for box in found:
            rows.setdefault((round(box[1 - axis], 3), round(box[3 - axis], 3)), []).append(box)
        found = [joined for row in rows.values() for joined in _joined(row, axis)]
    return found


def _joined(row: Sequence[Rect], axis: int) -> list[Rect]:
    found: list[Rect] = []
    for box in sorted(row, key=lambda b: b[axis]):
        if found and box[axis] - found[-1][axis + 2] <= _CLOSE:
            last = found.pop()
            box = Rect(last.left, last.bottom, max(last.right, box.right), max(last.top, box.top))
        found.append(box)
    return found


def _cut_lines(repeat: Repeat, across: float, up: float) -> Iterable[Mark]:
    """The cuts through every piece; only the first of those that would run into each other."""
    step = repeat.first
    scale = across if step.axis == 0 else up
    shown = repeat.steps
    if repeat.times > 1 and float(step.setting) * scale < _APART:
        shown = repeat.sawn
    if repeat.pieces > 1 and float(step.across) * scale < 2 * _APART:
        shown = repeat.steps[:1]
    for cut in (s.cut for s in shown):
        at, a, b = (float(v) for v in (cut.at, cut.start, cut.end))
        ends = ((at, a), (at, b)) if step.axis == 0 else ((a, at), (b, at))
        start, end = (Point(x * across, y * up) for x, y in ends)
        yield line(start, end, Layer.PART_EDGE)
