"""Sizes of the offcuts on the picture of a sheet, where no cut's number stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nestkit.drawing.model import Mark
from nestkit.drawing.sheet_labels import fitted_label
from nestkit.geometry.points import Point, Rect
from nestkit.layout.result import CutSheet, Offcut
from nestkit.units import Unit, rest_text

TYPE = 3.6
LEAST_TYPE = 2.2
MOST_ROOMS = 24
"""Free boxes between the numbers that are looked at."""
_CLEAR = 0.3


def offcut_labels(
    sheet: CutSheet,
    unit: Unit,
    scale: int,
    corner: Point,
    busy: Sequence[Rect],
    page: Rect | None = None,
) -> tuple[Mark, ...]:
    """Return the offcuts' sizes on white, each in the middle of its offcut or of what ``busy`` leaves of it.

    ``corner`` is the sheet's lower left on paper, ``page`` what of the sheet is seen there. What has no room
    is left out.
    """
    boxes = ((offcut, _seen(offcut, scale, corner, page)) for offcut in sheet.offcuts)
    return tuple(m for offcut, box in boxes if box is not None for m in _label(offcut, unit, box, busy))


def _seen(offcut: Offcut, scale: int, corner: Point, page: Rect | None) -> Rect | None:
    """Return where an offcut lies on paper, as far as it is seen between the ends of ``page``."""
    left, bottom = corner.x + float(offcut.x) / scale, corner.y + float(offcut.y) / scale
    right, top = left + float(offcut.width) / scale, bottom + float(offcut.height) / scale
    if page is not None:
        bottom, top = max(bottom, page.bottom), min(top, page.top)
    return Rect(left, bottom, right, top) if bottom < top else None


def _label(offcut: Offcut, unit: Unit, box: Rect, busy: Sequence[Rect]) -> tuple[Mark, ...]:
    there = [b.grown(_CLEAR) for b in busy if b.grown(_CLEAR).meets(box)]
    rooms = _free(box, there)
    size = f"{rest_text(offcut.width, unit)} x {rest_text(offcut.height, unit)} {unit}"
    for text in (f"offcut {size}", size, size.removesuffix(f" {unit}")):
        for room in (box, *rooms):
            words = fitted_label(text, room, TYPE, least=LEAST_TYPE)
            if words and not any(mark.bounds.meets(b) for mark in words for b in there):
                return words
    return ()


def _free(box: Rect, busy: Sequence[Rect]) -> list[Rect]:
    """Return the boxes in a box that are free and cannot grow, the largest first."""
    rooms = [box]
    for b in busy:
        split = [r for room in rooms for r in (_around(room, b) if room.meets(b) else (room,))]
        rooms = [r for r in dict.fromkeys(split) if not any(_within(r, o) for o in split if o != r)]
        rooms = sorted(rooms, key=lambda r: (-r.width * r.height, r))[:MOST_ROOMS]
    return rooms


def _around(room: Rect, taken: Rect) -> Iterator[Rect]:
    """Yield what is left of a room beside, below and above what is taken, where words may have room."""
    for left, bottom, right, top in (
        (room.left, room.bottom, taken.left, room.top),
        (taken.right, room.bottom, room.right, room.top),
        (room.left, room.bottom, room.right, taken.bottom),
        (room.left, taken.top, room.right, room.top),
    ):
        if min(right - left, top - bottom) >= LEAST_TYPE:
            yield Rect(left, bottom, right, top)


def _within(inner: Rect, outer: Rect) -> bool:
    return (
        outer.left <= inner.left
        and outer.bottom <= inner.bottom
        and inner.right <= outer.right
        and inner.top <= outer.top
    )
