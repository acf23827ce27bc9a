"""Holding tabs as marks: a short line across a part's edge for each, in the middle of where the tab stays."""

from __future__ import annotations

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Path, line
from nestkit.drawing.part import placement
from nestkit.geometry.points import Point
from nestkit.layout.result import PlacedPart
from nestkit.stock.tabs import tabs_on
from nestkit.stock.ways import Way


def tab_marks(part: PlacedPart, way: Way) -> tuple[Path, ...]:
    """Return the tabs of a placed part in the sheet's frame.

    Each line is as long as the cut is wide, half of it on the part: so it crosses this part's edge and,
    however close the next part lies, no other.
    """
    spots = tabs_on(part.panel.outline, way)
    if not spots:
        return ()
    there = placement(part)
    width, half = float(part.panel.width), float(way.kerf) / 2
    marks = []
    for spot in spots:
        inner, outer = (
            spot.at.moved(spot.out.x * way_off, spot.out.y * way_off) for way_off in (-half, half)
        )
        a, b = (there(Point(width - p.x, p.y) if part.opposite_hand else p) for p in (inner, outer))
        marks.append(line(a, b, Layer.HOLDING_TAB))
    return tuple(marks)
