"""A part's marks for a cutting file: its edge, openings, holes and marks, and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Mark, Text, outlined
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.layout.result import PlacedPart
from nestkit.parts.holes import Hole, Opening
from nestkit.parts.holes import Mark as PartMark
from nestkit.parts.panel import Panel

SAME = 1e-9
"""Millimetres within which a panel's outline reaches the edges of its box."""


@dataclass(frozen=True, slots=True)
class LaidPart:
    """A part as it lies on its sheet: everything in the sheet's frame, marks turned by ``turn`` degrees."""

    outline: Outline
    openings: tuple[Opening, ...]
    holes: tuple[Hole, ...]
    marks: tuple[PartMark, ...]
    turn: float


def laid(part: PlacedPart) -> LaidPart:
    """Return a placed part in the sheet's frame: mirrored if opposite hand, turned, then moved.

    Quarter turns are exact to the last digit of the panel's size, where its outline has that size; any
    other turn, and an outline between two steps of the grid, is brought to its place by the box around
    the turned outline, arcs included.
    """
    panel = part.panel.mirrored() if part.opposite_hand else part.panel
    shift, turn = _shift(part, panel), float(part.turn)
    there = _way(part, shift)

    def outline(o: Outline) -> Outline:
        return o.turned(turn).moved(*shift)

    return LaidPart(
        outline(panel.outline),
        tuple(replace(o, outline=outline(o.outline)) for o in panel.openings),
        tuple(replace(h, at=there(h.at)) for h in panel.holes),
        tuple(replace(m, at=there(m.at)) for m in panel.marks),
        turn,
    )


def placement(part: PlacedPart) -> Callable[[Point], Point]:
    """Return the way of a part's points to the sheet's frame; those of an opposite hand come mirrored."""
    panel = part.panel.mirrored() if part.opposite_hand else part.panel
    return _way(part, _shift(part, panel))


def _way(part: PlacedPart, shift: Point) -> Callable[[Point], Point]:
    turn = float(part.turn)
    return lambda p: p.turned(turn).moved(*shift)


def _shift(part: PlacedPart, panel: Panel) -> Point:
    """Way from the turned part's origin to its place."""
    box = panel.outline.turned(float(part.turn)).bounds
    if part.turn % 90 == 0:
        width, height = panel.width, panel.height
        dx, dy = ((0, 0), (height, 0), (width, height), (0, width))[int(part.turn) // 90 % 4]
        # A side from an outline file is rounded up to the grid: its far edge may lie short of that.
        if max(abs(box.left + dx), abs(box.bottom + dy)) <= SAME:
            return Point(float(part.x + dx), float(part.y + dy))
    return Point(float(part.x) - box.left, float(part.y) - box.bottom)


def laid_marks(part: LaidPart) -> tuple[Mark, ...]:
    """Return what a cutting file shows of a part: edge, openings, holes of finished size, marks."""
    return (
        outlined(part.outline, Layer.PART_EDGE),
        *(outlined(o.outline, Layer.OPENING) for o in part.openings),
        *(Circle(h.at, h.dia / 2, Layer.DRILLED_HOLE) for h in part.holes),
        *(Text(m.at, m.text, m.height, Layer.MARK, turn_deg=part.turn) for m in part.marks),
    )


def placed_marks(part: PlacedPart) -> tuple[Mark, ...]:
    """Return a placed part's marks in the sheet's frame."""
    return laid_marks(laid(part))


def part_drawing(panel: Panel, opposite: bool = False) -> Drawing:
    """Return one part at nominal size, the lower left of its box at 0, 0; mirrored if ``opposite``."""
    origin = Fraction(0)
    still = laid(PlacedPart(panel, 1, opposite, origin, origin, 0, panel.width, panel.height))
    title = f"{panel.name}, opposite hand" if opposite else panel.name
    return Drawing(float(panel.width), float(panel.height), laid_marks(still), title)
