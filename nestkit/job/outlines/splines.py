"""A spline by control points and knots, cut into Bezier curves."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from nestkit.job.outlines.curves import Homogeneous

MOST_DEGREE = 25


def bezier_pieces(
    degree: int, knots: Sequence[float], places: Sequence[tuple[float, float]], weights: Sequence[float]
) -> list[list[Homogeneous]] | None:
    """Return the rational Bezier curves that a spline is made of; None where its numbers do not fit."""
    count = len(places)
    if not 1 <= degree <= MOST_DEGREE or count <= degree or len(weights) != count:
        return None
    if len(knots) != count + degree + 1 or min(weights) <= 0:
        return None
    if any(b < a for a, b in pairwise(knots)):
        return None
    control = [(x * w, y * w, w) for (x, y), w in zip(places, weights, strict=True)]
    pieces = []
    for span in range(degree, count):
        low, high = knots[span], knots[span + 1]
        if high > low:
            args = [[low] * (degree - j) + [high] * j for j in range(degree + 1)]
            pieces.append([_blossom(degree, knots, control, span, arg) for arg in args])
    return pieces or None


def _blossom(
    degree: int, knots: Sequence[float], control: Sequence[Homogeneous], span: int, args: Sequence[float]
) -> Homogeneous:
    """Return the polar form of a span's polynomial: de Boor's rule with an argument for each round."""
    row = list(control[span - degree : span + 1])
    for r in range(1, degree + 1):
        for j in range(degree, r - 1, -1):
            low, high = knots[span - degree + j], knots[span + 1 + j - r]
            share = (args[r - 1] - low) / (high - low)
            (ax, ay, aw), (bx, by, bw) = row[j - 1], row[j]
            row[j] = ax + (bx - ax) * share, ay + (by - ay) * share, aw + (bw - aw) * share
    return row[degree]
