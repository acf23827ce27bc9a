"""Moves, turns, scales and skews of a plane: how blocks, groups and units place what they hold."""

from __future__ import annotations

import math
from typing import NamedTuple

from nestkit.geometry.points import Point

ALIKE = 1e-9
"""Relative difference below which two scales are one."""


class Affine(NamedTuple):
    """x' = a x + c y + e, y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def at(self, x: float, y: float) -> Point:
        """Return where a point comes to lie."""
        return Point(self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def along(self, x: float, y: float) -> Point:
        """Return what becomes of a direction with its length."""
        return Point(self.a * x + self.c * y, self.b * x + self.d * y)

    def after(self, first: Affine) -> Affine:
        """Return both in one, ``first`` before this one."""
        (a, b), (c, d) = self.along(first.a, first.b), self.along(first.c, first.d)
        return Affine(a, b, c, d, *self.at(first.e, first.f))

    @property
    def area(self) -> float:
        """By how much areas grow; negative where it mirrors."""
        return self.a * self.d - self.b * self.c

    @property
    def even(self) -> bool:
        """Say whether circles stay circles."""
        across, up = math.hypot(self.a, self.b), math.hypot(self.c, self.d)
        square = abs(self.a * self.c + self.b * self.d)
        return abs(across - up) <= ALIKE * across and square <= ALIKE * across * up


def scaled(x: float, y: float) -> Affine:
    """Return a scale along both axes."""
    return Affine(x, 0.0, 0.0, y)


def moved(x: float, y: float) -> Affine:
    """Return a move."""
    return Affine(e=x, f=y)


def turned(cos: float, sin: float) -> Affine:
    """Return a turn counter-clockwise (where y is up)."""
    return Affine(cos, sin, -sin, cos)
