"""Holes as they are marked out by hand: running dimensions from one corner, rounded, the error known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.geometry.points import Point
from nestkit.parts.holes import Hole
from nestkit.units import GRID_PER_MM

PRINT_LIMIT = Fraction(2, 1000)
"""A reading of a template's check ruler may be out by this share: 0.2 %."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """A running dimension: what is measured, and how far that lies from the true one, both in mm."""

    measured: Fraction
    error: Fraction


@dataclass(frozen=True, slots=True)
class MarkedHole:
    """A hole with its two running dimensions from the datum corner."""

    hole: Hole
    x: Dimension
    y: Dimension


def rounded(place: float, step: Fraction) -> Dimension:
    """Return a place in mm as the nearest whole number of steps, and the error.

    A place half way between two steps is taken outwards. It is first brought to the layout's grid:
    equal dimensions of two parts, however they were reckoned, are rounded alike.
    """
    true = Fraction(round(Fraction(place) * GRID_PER_MM), GRID_PER_MM)
    measured = math.floor(true / step + Fraction(1, 2)) * step
    return Dimension(measured, measured - true)


def marked(holes: Sequence[Hole], step: Fraction) -> tuple[MarkedHole, ...]:
    """Return the holes in the order of their numbers, each with its running dimensions."""
    return tuple(
        MarkedHole(h, rounded(h.at.x, step), rounded(h.at.y, step))
        for h in sorted(holes, key=lambda h: h.number)
    )


def check_pairs(holes: Sequence[Hole]) -> tuple[tuple[int, int, float], ...]:
    """Return up to two pairs of holes to measure before drilling, with their true distance in mm.

    The first are the two furthest apart; the second the two furthest apart of the others.
    """
    found: list[tuple[int, int, float]] = []
    used: set[int] = set()
    for _ in range(2):
        free = _outermost([h for h in holes if h.number not in used])
        pairs = [(a.at.to(b.at), -a.number, -b.number) for i, a in enumerate(free) for b in free[i + 1 :]]
        if not pairs:
            break
        away, a, b = max(pairs)
        found.append((-a, -b, away))
        used |= {-a, -b}
    return tuple(found)


def _outermost(holes: Sequence[Hole]) -> list[Hole]:
    """Return the corners of the tightest loop around holes, by number: the furthest two are among them.

    By the monotone chain: sorted by place, those that turn the chain inwards are dropped.
    """
    placed = sorted(holes, key=lambda h: (h.at, h.number))
    kept: set[int] = set()
    for way in (placed, placed[::-1]):
        chain: list[Hole] = []
        for hole in way:
            while len(chain) > 1 and _turn(chain[-2].at, chain[-1].at, hole.at) <= 0:
                chain.pop()
            chain.append(hole)
        kept.update(h.number for h in chain)
    return [h for h in holes if h.number in kept]


def _turn(a: Point, b: Point, c: Point) -> float:
    """Above 0 where the way from a over b to c turns to the left."""
    return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)
