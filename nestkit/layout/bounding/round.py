"""How many discs fit on a sheet at most, and what parts demand that each cover a disc however they lie."""

from __future__ import annotations

from fractions import Fraction

from nestkit.layout.bounding.covering import Demand
from nestkit.layout.bounding.view import View, Way

DENSEST = Fraction(11_547_005_384, 10**10)
"""A little more than 2 / root 3."""
SIZES = 12
"""Of so many diameters at most the discs are counted."""
DISCS_WHY = "each of {} parts covers a disc of which at most {} fit on one sheet"
DISCS_OF_SIZES_WHY = "each of {} parts covers a disc, and by the number of such discs they take {{0}}"


def most_discs(room: Way, diameter: int, gap: int) -> int:
    """Return a number of discs a gap apart that no room exceeds, 0 where it holds none.

    Their centres lie in the room less a radius on each side, and are a diameter and a gap apart. In a convex
    region of area A and perimeter P at most 2 / root 3 * A + P / 2 + 1 points are a distance of 1 or more
    apart (N. Oler, "An inequality in the geometry of numbers", Acta Mathematica 105, 1961, from memory).
    """
    width, height, apart = room[0] - diameter, room[1] - diameter, diameter + gap
    if width < 0 or height < 0:
        return 0
    return int(DENSEST * width * height / apart**2 + Fraction(width + height, apart)) + 1


def discs_of(view: View) -> list[Demand]:
    """Return what parts demand by the discs that they cover, none where no part may lie at any angle.

    A part that covers a disc covers every smaller one. So of all parts with discs of some diameter or more no
    more lie on a sheet than of discs of that diameter.
    """
    if not any(view.free):
        return []
    sizes = sorted({d for d in view.discs if d}, reverse=True)
    if len(sizes) > SIZES:
        sizes = [sizes[i * (len(sizes) - 1) // (SIZES - 1)] for i in range(SIZES)]
    found = []
    for size in sizes:
        number = sum(n for n, d in zip(view.quantity, view.discs, strict=True) if d >= size)
        gives = tuple(most_discs(room, size, view.apart) for room in view.usable)
        one = len(set(gives)) == 1
        why = DISCS_WHY.format(number, gives[0]) if one else DISCS_OF_SIZES_WHY.format(number)
        found.append(Demand(number, gives, why))
    return found
