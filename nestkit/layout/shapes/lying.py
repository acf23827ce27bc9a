"""A placed part as it lies: its true outline and openings in the sheet's frame."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nestkit.geometry.outline import Outline
from nestkit.layout.result import PlacedPart
from nestkit.parts.panel import Panel

if TYPE_CHECKING:
    from nestkit.geometry.clearance import Body

SAME = 1e-9
"""Millimetres within which a corner of an outline is one of its box."""


def fills_box(panel: Panel) -> bool:
    """Say whether a panel's edge is the box around it."""
    corners = panel.outline.vertices
    if len(corners) != 4 or any(v.bulge for v in corners):
        return False
    width, height = float(panel.width), float(panel.height)
    return all(
        min(abs(v.x), abs(v.x - width)) < SAME and min(abs(v.y), abs(v.y - height)) < SAME for v in corners
    )


def lies_as_box(part: PlacedPart) -> bool:
    """Say whether a part is an upright box as it lies, with no openings: such places are exact."""
    return part.turn % 90 == 0 and fills_box(part.panel) and not part.panel.openings


def body_of(part: PlacedPart) -> Body:
    """Return a part's edge and openings: mirrored if opposite hand, turned, its box moved to its place."""
    from nestkit.geometry.clearance import Body

    width, turn = float(part.panel.width), float(part.turn)

    def turned(outline: Outline) -> Outline:
        return (outline.mirrored(width) if part.opposite_hand else outline).turned(turn)

    edge = turned(part.panel.outline)
    box = edge.bounds
    dx, dy = float(part.x) - box.left, float(part.y) - box.bottom
    return Body(edge.moved(dx, dy), tuple(turned(o.outline).moved(dx, dy) for o in part.panel.openings))
