"""Hatching: lines at 45 degrees, cut off at a box, as waste is shown on drawings."""

from __future__ import annotations

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Path, line
from nestkit.geometry.points import Point, Rect


def hatch(box: Rect, pitch: float) -> tuple[Path, ...]:
    """Return rising lines that fill a box, ``pitch`` mm apart along x.

    The lines follow the frame and not the box, so that boxes side by side are hatched as one.
    """
    if box.width <= 0 or box.height <= 0 or pitch <= 0:
        return ()
    lines = []
    # A line y = x - c meets the box for c between left - top and right - bottom.
    step = (box.left - box.top) // pitch + 1
    while step * pitch < box.right - box.bottom:
        c = step * pitch
        start = Point(max(box.left, box.bottom + c), max(box.bottom, box.left - c))
        end = Point(min(box.right, box.top + c), min(box.top, box.right - c))
        if end.x > start.x:
            lines.append(line(start, end, Layer.HATCH))
        step += 1
    return tuple(lines)
