"""Marks to punch through: a cross with an open middle, the finished hole, a sight ring around it."""

from __future__ import annotations

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Mark, line
from nestkit.geometry.outline import Outline, arc_of
from nestkit.geometry.points import Point, Rect

OPEN_MIDDLE = 0.5
"""Half of the gap in the middle of a cross, where the punch goes."""
SIGHT = 1.25
"""The sight ring lies this far outside the finished hole."""
ARM = 1.5
"""The arms end this far outside the sight ring, so that the centre can be found after punching."""
CENTRE_ARM = 3.0


def reach(dia: float) -> float:
    """Return how far a punch mark reaches from its centre."""
    return dia / 2 + SIGHT + ARM


def punch_mark(at: Point, dia: float) -> tuple[Mark, ...]:
    """Return the mark for a hole of finished diameter ``dia``; the hole is its DRILLED_HOLE circle."""
    far = reach(dia)
    arms = tuple(
        line(
            at.moved(dx * OPEN_MIDDLE, dy * OPEN_MIDDLE),
            at.moved(dx * far, dy * far),
            Layer.FINE,
        )
        for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1))
    )
    return (
        Circle(at, dia / 2, Layer.DRILLED_HOLE),
        Circle(at, dia / 2 + SIGHT, Layer.FINE),
        *arms,
    )


def punch_boxes(at: Point, dia: float) -> tuple[Rect, ...]:
    """Return boxes that cover a punch mark: around its ring, and along its arms."""
    ring, far, thin = dia / 2 + SIGHT, reach(dia), 0.3
    return (
        Rect(*at, *at).grown(ring),
        Rect(at.x - far, at.y - thin, at.x + far, at.y + thin),
        Rect(at.x - thin, at.y - far, at.x + thin, at.y + far),
    )


def centre_mark(at: Point) -> tuple[Mark, ...]:
    """Return a plain small cross: the centre of an opening or of a slot's round end, not to be drilled."""
    return (
        line(at.moved(-CENTRE_ARM, 0), at.moved(CENTRE_ARM, 0), Layer.FINE),
        line(at.moved(0, -CENTRE_ARM), at.moved(0, CENTRE_ARM), Layer.FINE),
    )


def opening_centres(outline: Outline) -> tuple[Point, ...]:
    """Return the centres to mark of an opening: those of its half-round ends, else of its box."""
    if outline.is_circle:
        return (outline.bounds.centre,)
    ends = tuple(
        arc_of(a.point, b.point, a.bulge).centre for a, b in outline.edges() if abs(a.bulge - 1.0) < 1e-9
    )
    return ends or (outline.bounds.centre,)
