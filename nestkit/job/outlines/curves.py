"""Ellipses and splines as arcs: pairs of arcs that share their tangents with the curve."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from nestkit.geometry.outline import arc_of
from nestkit.geometry.pieces import Bow, Line, Piece
from nestkit.geometry.points import Point

TOLERANCE = 0.005
"""Millimetres that arcs may stray from an ellipse or a spline at most."""

Step = tuple[Point, Point, float]
"""Where an arc starts, where it ends, and its bulge."""

Homogeneous = tuple[float, float, float]
Curve = Callable[[float], Point]

# Measured at points along the way, so what lies between them has to have room.
_AIM = 0.8 * TOLERANCE
_TRIED_AT = tuple((2 * i + 1) / 16 for i in range(8))
_DEEPEST = 14
_STRAIGHT = 1e-7


def oval_steps(
    centre: Point, u: tuple[float, float], v: tuple[float, float], start: float, sweep: float
) -> Iterator[Step]:
    """Yield arcs along centre + u cos t + v sin t, t in radians from ``start`` on by ``sweep``."""

    def at(t: float) -> Point:
        c, s = math.cos(t), math.sin(t)
        return Point(centre.x + u[0] * c + v[0] * s, centre.y + u[1] * c + v[1] * s)

    def way(t: float) -> Point:
        c, s = math.cos(t), math.sin(t)
        return _unit(v[0] * c - u[0] * s, v[1] * c - u[1] * s, sweep)

    parts = max(1, math.ceil(abs(sweep) / (math.pi / 2) - 1e-9))
    for i in range(parts):
        yield from _fitted(at, way, start + sweep * i / parts, start + sweep * (i + 1) / parts, 0)


def bezier_steps(points: Sequence[Homogeneous]) -> Iterator[Step]:
    """Yield arcs along a rational Bezier curve; each control point is x w, y w, w with w above 0."""

    def at(t: float) -> Point:
        x, y, w = _casteljau(points, t)[0]
        return Point(x / w, y / w)

    def way(t: float) -> Point:
        (x, y, w), (dx, dy, dw) = _casteljau(points, t)
        along = (dx * w - x * dw, dy * w - y * dw)
        if math.hypot(*along) > 1e-9 * w * w:
            return _unit(*along, 1.0)
        # Control points that lie on one another leave no direction here: the nearest way to go has one.
        before, after = at(max(0.0, t - 1e-4)), at(min(1.0, t + 1e-4))
        return _unit(after.x - before.x, after.y - before.y, 1.0)

    yield from _fitted(at, way, 0.0, 1.0, 0)


def _casteljau(points: Sequence[Homogeneous], t: float) -> tuple[Homogeneous, Homogeneous]:
    """Return point and derivative, both homogeneous."""
    row = list(points)
    degree = len(row) - 1
    while len(row) > 2:
        row = [_between(a, b, t) for a, b in pairwise(row)]
    (x0, y0, w0), (x1, y1, w1) = row
    return _between(row[0], row[1], t), (degree * (x1 - x0), degree * (y1 - y0), degree * (w1 - w0))


def _between(a: Homogeneous, b: Homogeneous, t: float) -> Homogeneous:
    s = 1.0 - t
    return a[0] * s + b[0] * t, a[1] * s + b[1] * t, a[2] * s + b[2] * t


def _unit(x: float, y: float, sign: float) -> Point:
    long = math.copysign(math.hypot(x, y), sign)
    return Point(x / long, y / long) if long else Point(0.0, 0.0)


def _fitted(at: Curve, way: Curve, t0: float, t1: float, deep: int) -> Iterator[Step]:
    """Yield one line, two arcs, or those of both halves, whatever is near enough."""
    a, b = at(t0), at(t1)
    tried = [at(t0 + (t1 - t0) * share) for share in _TRIED_AT]
    if all(p.to(Line(a, b).nearest(p)) <= _STRAIGHT for p in tried) if a != b else all(p == a for p in tried):
        if a != b:
            yield a, b, 0.0
        return
    pair = _biarc(a, way(t0), b, way(t1))
    if pair is not None and _strays(pair, tried) <= _AIM:
        yield from pair
        return
    if deep >= _DEEPEST:
        yield a, b, 0.0
        return
    middle = (t0 + t1) / 2
    yield from _fitted(at, way, t0, middle, deep + 1)
    yield from _fitted(at, way, middle, t1, deep + 1)


def _biarc(a: Point, along_a: Point, b: Point, along_b: Point) -> tuple[Step, Step] | None:
    """Return two arcs that leave and arrive as asked and pass into one another smoothly."""
    vx, vy = b.x - a.x, b.y - a.y
    tx, ty = along_a.x + along_b.x, along_a.y + along_b.y
    v_t, v_v = vx * tx + vy * ty, vx * vx + vy * vy
    spread = 2 * (1 - along_a.x * along_b.x - along_a.y * along_b.y)
    if spread > 1e-12:
        # The stable form of the quadratic's positive root.
        root = math.sqrt(v_t * v_t + spread * v_v)
        d = v_v / (v_t + root) if v_t + root > 1e-12 else 0.0
    else:
        d = v_v / (2 * v_t) if v_t > 1e-12 else 0.0
    if not d > 0:
        return None
    middle = Point(
        (a.x + b.x + d * (along_a.x - along_b.x)) / 2, (a.y + b.y + d * (along_a.y - along_b.y)) / 2
    )
    first, second = _bulge(a, along_a, middle), _bulge(b, Point(-along_b.x, -along_b.y), middle)
    if first is None or second is None:
        return None
    return (a, middle, first), (middle, b, -second)


def _bulge(start: Point, along: Point, end: Point) -> float | None:
    """Return the bulge of the arc that leaves ``start`` along a direction; None for a half turn or more."""
    cx, cy = end.x - start.x, end.y - start.y
    angle = math.atan2(along.x * cy - along.y * cx, along.x * cx + along.y * cy)
    return math.tan(angle / 2) if abs(angle) < math.pi / 2 else None


def _strays(pair: tuple[Step, Step], tried: Sequence[Point]) -> float:
    pieces = [_piece(*step) for step in pair]
    return max(min(p.to(piece.nearest(p)) for piece in pieces) for p in tried)


def _piece(start: Point, end: Point, bulge: float) -> Piece:
    if abs(bulge) * start.to(end) < 1e-9:
        return Line(start, end)
    arc = arc_of(start, end, bulge)
    angle, sweep = math.radians(arc.start_deg), math.radians(arc.sweep_deg)
    return Bow(start, end, arc.centre, arc.radius, angle, sweep)
