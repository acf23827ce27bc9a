"""A region of a sheet that is kept clear: a scratch, a knot, a clamp."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline, disc
from nestkit.units import GRID_PER_MM, grid_down, grid_up

Box = tuple[int, int, int, int]
"""Left, bottom, right, top in grid steps."""


@dataclass(frozen=True, slots=True)
class KeepClear:
    """A box, or the disc that just fits it, in exact millimetres of its sheet, x right and y up.

    ``on`` is the number of the one sheet that it lies on, None: it lies on every sheet of the stock. It may
    hang over the sheet's edge. ``why`` is a word for people, empty where the job has none.
    """

    left: Fraction
    bottom: Fraction
    right: Fraction
    top: Fraction
    disc: bool = False
    on: int | None = None
    why: str = ""

    @property
    def steps(self) -> Box:
        """The box in grid steps, rounded outwards."""
        return grid_down(self.left), grid_down(self.bottom), grid_up(self.right), grid_up(self.top)

    @property
    def boxed(self) -> KeepClear:
        """The box around it, which saw cuts leave whole."""
        return replace(self, disc=False)

    def outline(self) -> Outline:
        """Return its line in mm of the sheet."""
        left, bottom, right, top = map(float, (self.left, self.bottom, self.right, self.top))
        if self.disc:
            return disc(right - left, centre=Point((left + right) / 2, (bottom + top) / 2))
        return box_outline(Rect(left, bottom, right, top))

    def covers(self) -> tuple[Box, ...]:
        """Return boxes that cover the region, in grid steps: one, or a few strips of a disc."""
        if not self.disc:
            return (self.steps,)
        left, bottom, right, top = self.steps
        middle, radius = (left + right) / 2, (right - left) / 2
        found = []
        for n in range(_STRIPS):
            low = bottom + (top - bottom) * n // _STRIPS
            high = bottom + (top - bottom) * (n + 1) // _STRIPS
            # Of each strip the side towards the middle is the longer one.
            off = min(abs(y - (bottom + top) / 2) for y in (low, high))
            if low < (bottom + top) / 2 < high:
                off = 0.0
            reach = max(0.0, radius * radius - off * off) ** 0.5
            found.append((int(middle - reach) - 1, low, int(middle + reach) + 2, high))
        return tuple(found)

    def nearer_than(self, distance: int, box: tuple[Fraction, Fraction, Fraction, Fraction]) -> bool:
        """Say whether a box meets the region or lies nearer than ``distance``, both in grid steps, exact.

        Of the sides of two boxes that lie past each other's corner the straight distance counts.
        """
        left, bottom, right, top = self.steps
        if self.disc:
            radius = (self.right - self.left) * GRID_PER_MM / 2 + distance
            middle = (self.left + self.right) * GRID_PER_MM / 2, (self.bottom + self.top) * GRID_PER_MM / 2
            dx = max(box[0] - middle[0], middle[0] - box[2], Fraction(0))
            dy = max(box[1] - middle[1], middle[1] - box[3], Fraction(0))
            return dx * dx + dy * dy < radius * radius
        dx = max(box[0] - right, left - box[2], Fraction(0))
        dy = max(box[1] - top, bottom - box[3], Fraction(0))
        meets = box[0] < right and left < box[2] and box[1] < top and bottom < box[3]
        return meets or dx * dx + dy * dy < distance * distance


_STRIPS = 8
"""Strips that a disc is covered by, where parts are laid by their boxes."""
