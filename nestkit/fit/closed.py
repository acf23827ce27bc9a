"""Chances in closed form: how often a normal offset stays within what is allowed.

An offset without a sure part and alike in x and y has a length after Rayleigh's law, P(d <= c) =
1 - exp(-c^2 / (2 s^2)); two holes that can slide and turn need only their distance to agree, which is normal.
"""

from __future__ import annotations

import math

from nestkit.fit.spread import Spread
from nestkit.geometry.points import Point

_NODES = 400
"""Points of the sum over a disc: it is good to a millionth, and much better where x and y are alike."""
_FAR = 9.0
"""Standard deviations beyond which nothing is left to count."""


def rayleigh(within: float, sigma: float) -> float:
    """Return the chance that an offset with ``sigma`` along x and along y is no longer than ``within``.

    >>> round(rayleigh(2.4477, 1.0), 4)
    0.95
    """
    if sigma == 0:
        return 1.0
    return -math.expm1(-((within / sigma) ** 2) / 2)


def in_disc(within: float, sigma_x: float, sigma_y: float, mean: Point) -> float:
    """Return the chance that a normal offset about ``mean`` ends in a disc of radius ``within`` about 0.

    By the sum of the exact share in y over even steps of an angle that runs through the disc's x.
    """
    if sigma_x < sigma_y:
        return in_disc(within, sigma_y, sigma_x, Point(mean.y, mean.x))
    if sigma_x == 0:
        return float(math.hypot(mean.x, mean.y) <= within)
    if mean == (0.0, 0.0) and sigma_x == sigma_y:
        return rayleigh(within, sigma_x)
    # The part of the disc that is worth counting, where the offset is much smaller than the disc.
    low = max(-within, mean.x - _FAR * sigma_x)
    high = min(within, mean.x + _FAR * sigma_x)
    if low >= high:
        return 0.0
    half, middle = (high - low) / 2, (high + low) / 2
    total = 0.0
    for i in range(_NODES):
        angle = math.pi * (i + 0.5) / _NODES
        x = middle - half * math.cos(angle)
        y = math.sqrt(max(within**2 - x**2, 0.0))
        share = between(-y, y, mean.y, sigma_y)
        weight = math.exp(-(((x - mean.x) / sigma_x) ** 2) / 2)
        total += share * weight * half * math.sin(angle)
    return min(1.0, total * math.pi / _NODES / (sigma_x * math.sqrt(2 * math.pi)))


def between(low: float, high: float, mean: float, sigma: float) -> float:
    """Return the chance that a normal number lies between two bounds."""
    if sigma == 0:
        return float(low <= mean <= high)
    return (
        math.erf((high - mean) / sigma / math.sqrt(2)) - math.erf((low - mean) / sigma / math.sqrt(2))
    ) / 2


def closed_chance(spread: Spread) -> float | None:
    """Return the chance that all screws pass, or None where only trials tell.

    Known are two walls of two layers without slots: held, where no error is shared by two screws; free to
    slide with one or two screws; free to slide and turn with one or two screws.
    """
    if len(spread.walls) != 2 or any(any(wall.slots) for wall in spread.walls):
        return None
    if spread.walls[0].layer == spread.walls[1].layer:
        return None
    screws = len(spread.points)
    if spread.freedom == "none":
        return _held(spread) if screws == 1 or not spread.shared else None
    if screws == 1:
        return 1.0
    if screws > 2:
        return None
    allowed = sum(play for wall in spread.walls for play in wall.plays)
    mean, variance = _difference(spread)
    if spread.freedom == "slide":
        long, short, turn_deg = _principal(variance)
        return in_disc(allowed, math.sqrt(long), math.sqrt(short), mean.turned(-turn_deg))
    a, b = spread.points
    away = a.to(b)
    if away == 0:
        return None
    x, y = (b.x - a.x) / away, (b.y - a.y) / away
    along = x * x * variance[0] + 2 * x * y * variance[1] + y * y * variance[2]
    return between(-allowed, allowed, mean.x * x + mean.y * y, math.sqrt(max(along, 0.0)))


Square = tuple[float, float, float]
"""A covariance: of x, of x with y, of y."""


def _held(spread: Spread) -> float:
    chance = 1.0
    for screw in range(len(spread.points)):
        mean, variance = _apart(spread, screw)
        long, short, turn_deg = _principal(variance)
        allowed = sum(wall.plays[screw] for wall in spread.walls)
        chance *= in_disc(allowed, math.sqrt(long), math.sqrt(short), mean.turned(-turn_deg))
    return chance


def _own(spread: Spread) -> Square:
    """Return the covariance of what each pair of holes is apart by errors of its own."""
    first, second = spread.walls
    walls = (second,) if second.follows == 0 else (first, second)
    found = [_turned(wall.sigma, wall.turn_deg) for wall in walls]
    return sum(f[0] for f in found), sum(f[1] for f in found), sum(f[2] for f in found)


def _turned(sigma: tuple[float, float], deg: float) -> Square:
    c, s = math.cos(math.radians(deg)), math.sin(math.radians(deg))
    u, v = sigma[0] ** 2, sigma[1] ** 2
    return c * c * u + s * s * v, c * s * (u - v), s * s * u + c * c * v


def _apart(spread: Spread, screw: int) -> tuple[Point, Square]:
    """Return mean and covariance of what the two holes of a screw are apart."""
    first, second = spread.walls
    own = second.bias[screw]
    mean = own if second.follows == 0 else own.less(first.bias[screw])
    moves = [error.moves[1][screw].less(error.moves[0][screw]) for error in spread.shared]
    return mean, _with(_own(spread), moves)


def _difference(spread: Spread) -> tuple[Point, Square]:
    """Return mean and covariance of how two screws' offsets differ."""
    offsets = [_apart(spread, screw)[0] for screw in (0, 1)]
    own = _own(spread)
    moves = [m.moves[1][1].less(m.moves[0][1]).less(m.moves[1][0].less(m.moves[0][0])) for m in spread.shared]
    twice = 2 * own[0], 2 * own[1], 2 * own[2]
    return offsets[1].less(offsets[0]), _with(twice, moves)


def _with(own: Square, moves: list[Point]) -> Square:
    xx, xy, yy = own
    for move in moves:
        xx, xy, yy = xx + move.x * move.x, xy + move.x * move.y, yy + move.y * move.y
    return xx, xy, yy


def _principal(variance: Square) -> tuple[float, float, float]:
    """Return the variances along the two axes of a covariance, and how the first axis is turned."""
    xx, xy, yy = variance
    if xy == 0:
        return xx, yy, 0.0
    turn = math.atan2(2 * xy, xx - yy) / 2
    spread = math.hypot((xx - yy) / 2, xy)
    middle = (xx + yy) / 2
    return middle + spread, max(middle - spread, 0.0), math.degrees(turn)
