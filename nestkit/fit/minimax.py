"""The motion that lays points on others so that the largest distance within a pair is as small as it can be.

For a given turn the best move is known exactly: it brings the middle of the smallest circle around all
offsets to zero. The radius of that circle, as a function of the turn, has one lowest point, which is searched
for. Points are complex numbers, in millimetres.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

from nestkit.geometry.points import cos_sin

CLEAN = 1e-9
"""Millimetres that a plainer figure for a turn or a move may cost."""

_GOLDEN = (math.sqrt(5) - 1) / 2
_STEPS = 62
"""Steps of the search for the turn: its bracket shrinks by 1e13."""


def least_squares(fixed: Sequence[complex], moving: Sequence[complex]) -> tuple[complex, float]:
    """Return the turn, as a number of length 1, with the least sum of squares, and the mean square left.

    The mean square's root is a floor of the largest distance of any motion.
    """
    n = len(fixed)
    middle, own = sum(fixed) / n, sum(moving) / n
    pull = sum((f - middle) * (m - own).conjugate() for f, m in zip(fixed, moving, strict=True))
    turn = pull / abs(pull) if abs(pull) > 1e-9 else complex(1.0)
    left = sum(abs(f - middle - turn * (m - own)) ** 2 for f, m in zip(fixed, moving, strict=True))
    return turn, left / n


def least_largest(fixed: Sequence[complex], moving: Sequence[complex]) -> tuple[float, complex, float]:
    """Return the turn in degrees (-180 to 180), the move after it, and the largest distance left.

    Turn and move are as plain as they can be without a loss of more than 1e-9 mm.
    """
    turn, mean_square = least_squares(fixed, moving)
    start = cmath.phase(turn)
    angle = _searched(fixed, moving, start) if math.sqrt(mean_square) > CLEAN else start
    return _plain(fixed, moving, math.degrees(angle))


def _searched(fixed: Sequence[complex], moving: Sequence[complex], start: float) -> float:
    """Return the turn with the least largest distance, near one that is good."""
    own = sum(moving) / len(moving)
    arm = max(abs(m - own) for m in moving)
    if arm < CLEAN:
        return start
    largest = _moved(fixed, moving, cmath.rect(1.0, start))[1]
    # No better turn is further away: it would move the furthest point by more than two largest misses.
    reach = min(1.0, 4 * largest / arm)
    low, high = start - reach, start + reach

    def radius(angle: float) -> float:
        return _moved(fixed, moving, cmath.rect(1.0, angle))[1]

    left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_left, at_right = radius(left), radius(right)
    for _ in range(_STEPS):
        if at_left <= at_right:
            high, right, at_right = right, left, at_left
            left = high - _GOLDEN * (high - low)
            at_left = radius(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + _GOLDEN * (high - low)
            at_right = radius(right)
    return (low + high) / 2


def _plain(
    fixed: Sequence[complex], moving: Sequence[complex], turn_deg: float
) -> tuple[float, complex, float]:
    move, best = _moved(fixed, moving, complex(*cos_sin(turn_deg)))
    for rounded in (
        round(turn_deg / 90) * 90.0,
        float(round(turn_deg)),
        round(turn_deg, 3),
        round(turn_deg, 6),
    ):
        plain, largest = _moved(fixed, moving, complex(*cos_sin(rounded)))
        if largest <= best + CLEAN:
            turn_deg, move = rounded, plain
            break
    turn = complex(*cos_sin(turn_deg))
    for places in (0, 3, 6):
        short = complex(round(move.real, places) + 0.0, round(move.imag, places) + 0.0)
        largest = max(abs(f - turn * m - short) for f, m in zip(fixed, moving, strict=True))
        if largest <= best + CLEAN:
            move = short
            break
    largest = max(abs(f - turn * m - move) for f, m in zip(fixed, moving, strict=True))
    return _within_half_turn(turn_deg), move, largest if largest > CLEAN else 0.0


def _within_half_turn(turn_deg: float) -> float:
    """Return a turn as one above -180 and up to 180 degrees."""
    return turn_deg if -180.0 < turn_deg <= 180.0 else 180.0 - (180.0 - turn_deg) % 360.0


def _moved(fixed: Sequence[complex], moving: Sequence[complex], turn: complex) -> tuple[complex, float]:
    """Return the best move after a turn, and the largest distance that it leaves."""
    return smallest_circle([f - turn * m for f, m in zip(fixed, moving, strict=True)])


def smallest_circle(points: Sequence[complex]) -> tuple[complex, float]:
    """Return middle and radius of the smallest circle around one point or more.

    The furthest point from a circle is taken in until none is outside; two or three points carry it.
    """
    middle, radius = points[0], 0.0
    carried: tuple[complex, ...] = (points[0],)
    scale = max(abs(p - points[0]) for p in points)
    for _ in range(4 * len(points) + 8):
        far = max(points, key=lambda p: abs(p - middle))
        if abs(far - middle) <= radius + 1e-12 * scale:
            break
        middle, carried = _carried((*carried, far))
        radius = max(abs(p - middle) for p in carried)
    return middle, max(abs(p - middle) for p in points)


def _carried(points: tuple[complex, ...]) -> tuple[complex, tuple[complex, ...]]:
    """Return the middle of the smallest circle around up to four points, and those that carry it."""
    best: tuple[float, complex, tuple[complex, ...]] | None = None
    n = len(points)
    some = [(points[i], points[j]) for i in range(n) for j in range(i + 1, n)]
    threes = [
        (points[i], points[j], points[k]) for i in range(n) for j in range(i + 1, n) for k in range(j + 1, n)
    ]
    for set_ in (*some, *threes):
        middle = _around(set_)
        if middle is None:
            continue
        radius = max(abs(p - middle) for p in points)
        if best is None or radius < best[0] * (1 - 1e-14):
            best = radius, middle, set_
    if best is None:
        return points[0], points[:1]
    return best[1], best[2]


def _around(points: tuple[complex, ...]) -> complex | None:
    if len(points) == 2:
        return (points[0] + points[1]) / 2
    a, b, c = points
    b, c = b - a, c - a
    cross = 2 * (b.real * c.imag - b.imag * c.real)
    if abs(cross) <= 1e-14 * abs(b) * abs(c):
        return None
    bb, cc = abs(b) ** 2, abs(c) ** 2
    return a + complex(c.imag * bb - b.imag * cc, b.real * cc - c.real * bb) / cross
