"""A last look at a sheet before it goes out: are the true outlines apart, and clear of the border?

The layout was verified as numbers. This looks at the outlines as they are drawn, with a geometry library
that had no part in the layout.
"""

from __future__ import annotations

from nestkit.drawing.part import laid
from nestkit.errors import ToolFault
from nestkit.geometry.clearance import Body, too_near
from nestkit.geometry.points import Rect
from nestkit.geometry.regions import outside
from nestkit.job.model import Group
from nestkit.layout.result import CutSheet

TOLERANCE = 1e-5
"""Millimetres by which an outline may miss, being made of binary fractions."""


def check_apart(sheet: CutSheet, group: Group, *, file: str) -> None:
    """Raise :class:`~nestkit.errors.ToolFault` where parts are too near to each other or to the border."""
    there = [laid(part) for part in sheet.parts]
    bodies = [Body(p.outline, tuple(o.outline for o in p.openings)) for p in there]
    names = [part.panel.name for part in sheet.parts]
    if near := too_near(bodies, float(group.gap), TOLERANCE):
        i, j, away = near[0]
        raise ToolFault(f"{file}: {names[i]} and {names[j]} lie {away:.6f} mm apart, less than the gap")
    margin, stock = group.margin, sheet.stock
    room = Rect(
        float(margin.left),
        float(margin.bottom),
        float(stock.width - margin.right),
        float(stock.height - margin.top),
    ).grown(TOLERANCE)
    out = outside([b.outline for b in bodies], room)
    if out:
        raise ToolFault(f"{file}: {names[out[0]]} lies over the border of its sheet")
