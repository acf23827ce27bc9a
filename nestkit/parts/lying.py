"""A panel as it lies on a sheet: its true outline and openings in the sheet's frame."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from nestkit.geometry.outline import Outline
from nestkit.parts.panel import Panel
from nestkit.units import grid_mm, grid_up

if TYPE_CHECKING:
    from nestkit.geometry.clearance import Body

SAME = 1e-9
"""Millimetres within which a corner of an outline is one of its box."""
FINE = 10**6


def fills_box(panel: Panel) -> bool:
    """Say whether a panel's edge is the box around it."""
    corners = panel.outline.vertices
    if len(corners) != 4 or any(v.bulge for v in corners):
        return False
    width, height = float(panel.width), float(panel.height)
    return all(
        min(abs(v.x), abs(v.x - width)) < SAME and min(abs(v.y), abs(v.y - height)) < SAME for v in corners
    )


def is_box(panel: Panel, turn: int | Fraction) -> bool:
    """Say whether a panel is an upright box as it lies, with no openings: such places are exact."""
    return turn % 90 == 0 and fills_box(panel) and not panel.openings


def body_at(
    panel: Panel, turn: int | Fraction, place: tuple[Fraction, Fraction], *, opposite_hand: bool
) -> Body:
    """Return edge and openings: mirrored if opposite hand, turned, its box moved to its place (mm)."""
    from nestkit.geometry.clearance import Body

    width, angle = float(panel.width), float(turn)

    def turned(outline: Outline) -> Outline:
        return (outline.mirrored(width) if opposite_hand else outline).turned(angle)

    edge = turned(panel.outline)
    box = edge.bounds
    dx, dy = float(place[0]) - box.left, float(place[1]) - box.bottom
    return Body(edge.moved(dx, dy), tuple(turned(o.outline).moved(dx, dy) for o in panel.openings))


def size_at(panel: Panel, turn: int | Fraction, *, opposite_hand: bool) -> tuple[Fraction, Fraction]:
    """Return width and height in mm of a panel's box as it lies.

    By quarter turns it is the panel's own, made up to the grid; at other angles it is rounded up to
    millionths.
    """
    if turn % 90 == 0:
        width, height = grid_mm(grid_up(panel.width)), grid_mm(grid_up(panel.height))
        return (height, width) if turn % 180 else (width, height)
    edge = panel.outline.mirrored(float(panel.width)) if opposite_hand else panel.outline
    box = edge.turned(float(turn)).bounds
    return rounded_up(box.width), rounded_up(box.height)


def rounded_up(length: float) -> Fraction:
    """Return a length in mm as the next whole number of millionths."""
    # What a float is out by does not make it a millionth longer.
    return Fraction(-int(-(length * FINE - 1e-3) // 1), FINE)
