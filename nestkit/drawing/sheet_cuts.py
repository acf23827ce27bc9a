"""Saw cuts on the picture of a sheet: where their lines run, and their numbers in circles."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Fill, Mark, Text
from nestkit.drawing.type import text_width
from nestkit.estimate.saw_repeats import folded
from nestkit.estimate.saw_steps import saw_steps
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc
from nestkit.layout.result import Cut, CutSheet
from nestkit.units import Unit

CUT_NUMBER = 2.1
LEAST_NUMBER = 1.3
"""Radius in mm of the circle around the number of a saw cut, and the least where cuts lie close."""


def cut_line(cut: Cut, kerf: float, width: float, height: float) -> tuple[Point, Point]:
    """The middle of the strip that a cut takes, as far as it lies on the sheet."""
    at, start, end = float(cut.at), float(cut.start), float(cut.end)
    side = width if cut.axis == "x" else height
    middle = (max(at, 0.0) + min(at + kerf, side)) / 2
    if cut.axis == "x":
        return Point(middle, start), Point(middle, end)
    return Point(start, middle), Point(end, middle)


@lru_cache(maxsize=8)
def numbered(sheet: CutSheet, kerf: Fraction, unit: Unit) -> frozenset[int]:
    """Return the cuts whose numbers a picture shows: of those said once in a plan the first and the last."""
    repeats = folded(saw_steps(sheet, kerf, unit))
    return frozenset(s.cut.step for r in repeats for s in (r.first, r.steps[-1]))


def cuts_between(cuts: tuple[Cut, ...], low: float, high: float) -> tuple[Cut, ...]:
    """Return what of cuts lies between two lengths along y, as they lie from the lower one."""
    bottom, top = Fraction(low), Fraction(high)
    found = []
    for cut in cuts:
        if cut.axis == "y" and bottom <= cut.at < top:
            found.append(replace(cut, at=cut.at - bottom))
        elif cut.axis == "x" and cut.start < top and cut.end > bottom:
            start, end = max(cut.start, bottom) - bottom, min(cut.end, top) - bottom
            found.append(replace(cut, start=start, end=end))
    return tuple(found)


def cut_numbers(cuts: tuple[Cut, ...], kerf: float, scale: int, sheet: Rect, taken: list[Rect]) -> list[Mark]:
    """Numbers in circles at the ends of the saw cuts, or where on them there is room."""
    marks: list[Mark] = []
    busy = list(taken)
    for cut in cuts:
        a, b = (
            Point(sheet.left + p.x / scale, sheet.bottom + p.y / scale)
            for p in cut_line(cut, kerf, sheet.width * scale, sheet.height * scale)
        )
        centre, radius = _free_on_line(a, b, busy)
        busy.append(Rect(*centre, *centre).grown(radius))
        text = str(cut.step)
        size = min(1.43 * radius, 3.4 * radius / text_width(text, 2.0, bold=True))
        marks += [
            Fill(disc(2 * radius, centre=centre)),
            Circle(centre, radius, Layer.PART_EDGE),
            Text(centre.moved(0.0, -0.36 * size), text, size, Layer.LABEL, "middle", bold=True),
        ]
    return marks


def _free_on_line(a: Point, b: Point, busy: list[Rect]) -> tuple[Point, float]:
    """Return the place on a line nearest to its ends where a cut's number meets nothing, and its radius."""
    length = a.to(b)
    for radius in (CUT_NUMBER, LEAST_NUMBER):
        for along in _along(length, radius):
            centre = Point(a.x + (b.x - a.x) * along / length, a.y + (b.y - a.y) * along / length)
            box = Rect(*centre, *centre).grown(radius)
            if not any(box.meets(other) for other in busy):
                return centre, radius
    return Point((a.x + b.x) / 2, (a.y + b.y) / 2), LEAST_NUMBER


def _along(length: float, radius: float) -> list[float]:
    """Places for a circle on a line of some length, from its two ends inwards."""
    places = []
    reach = radius + 0.4
    while reach <= length / 2:
        places += [reach, length - reach]
        reach += radius
    return places
