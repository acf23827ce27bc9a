"""Where holding tabs stand along an outline: on straight or gently curved edges, away from corners."""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from nestkit.geometry.distances import boundary
from nestkit.geometry.outline import Outline
from nestkit.geometry.pieces import Bow, Line, Piece, crosses
from nestkit.geometry.points import Point

SMOOTH = math.radians(10)
"""Up to this turn two pieces of an edge are one: curves come as several."""
GENTLE = 4.0
"""An arc is gentle from this many tab widths of radius on (common practice, no source)."""
FREE = 4.0
"""This many widths of the cut an edge looks out on sheet, not on the part itself across a slot."""
SEEN = (-60.0, 0.0, 60.0)
"""Degrees from square in which it is looked."""
PHASES = 24
STEPS = 240


@dataclass(frozen=True, slots=True)
class Spot:
    """The middle of a tab on an outline; ``out``: the unit vector square to the edge, away from the part."""

    at: Point
    out: Point


@dataclass(frozen=True, slots=True)
class _Candidate:
    along: float
    room: float
    spot: Spot


def tab_count(outline: Outline, count: int | None, every: float | None) -> int:
    """Return how many tabs are wanted: ``count``, or one for each ``every`` mm of edge, two at least.

    >>> from nestkit.geometry.shapes import rectangle
    >>> tab_count(rectangle(100, 50), None, 90), tab_count(rectangle(100, 50), None, 900)
    (4, 2)
    """
    if count is not None:
        return count
    return max(2, math.ceil(outline.length / every - 1e-9)) if every else 0


@functools.lru_cache(maxsize=512)
def tab_spots(outline: Outline, width: float, wanted: int, cut: float) -> tuple[Spot, ...]:
    """Return places for tabs of a width in mm, in the order of the outline; fewer than wanted if need be.

    A tab keeps half of ``cut``, the width of the cutter, away from corners, and is three widths from the
    next one, middle to middle. Of all even spreads along the edge the one is taken that moves its tabs
    least, then the one whose tabs stand farthest from corners.
    """
    candidates = _candidates(outline, width, cut)
    length = outline.length
    if not candidates or wanted < 1:
        return ()
    best: tuple[tuple[float, ...], list[_Candidate]] | None = None
    for phase in range(PHASES):
        targets = [(phase / PHASES + i) * length / wanted for i in range(wanted)]
        chosen, moved = _nearest(candidates, targets, length, 3 * width)
        room = min((c.room for c in chosen), default=0.0)
        key = (-len(chosen), round(moved / width), -round(room, 6))
        if best is None or key < best[0]:
            best = key, chosen
    return tuple(c.spot for c in sorted(best[1], key=lambda c: c.along)) if best else ()


def _nearest(
    candidates: list[_Candidate], targets: list[float], length: float, apart: float
) -> tuple[list[_Candidate], float]:
    """Return for each target the nearest candidate that keeps its distance, and how far the worst moved."""
    chosen: list[_Candidate] = []
    most = 0.0
    for target in targets:
        free = [c for c in candidates if all(_round(c.along, o.along, length) >= apart for o in chosen)]
        if free:
            one = min(free, key=lambda c: (_round(c.along, target, length), -c.room, c.along))
            most = max(most, _round(one.along, target, length))
            chosen.append(one)
    return chosen, most


def _round(a: float, b: float, length: float) -> float:
    """Return the way between two places of a closed line, the shorter way round."""
    away = abs(a - b) % length
    return min(away, length - away)


def _candidates(outline: Outline, width: float, cut: float) -> list[_Candidate]:
    pieces = boundary(outline).pieces
    inset = (width + cut) / 2
    step = max(width / 2, outline.length / STEPS)
    found = []
    for run, start, closed in _runs(pieces, GENTLE * width):
        size = sum(_length(p) for p in run)
        low, high = (0.0, size) if closed else (inset, size - inset)
        if high < low:
            continue
        count = max(2, 2 * math.ceil((high - low) / step / 2))
        for i in range(count if closed else count + 1):
            along = low + (high - low) * i / count
            spot = _spot(run, along)
            room = math.inf if closed else min(along, size - along)
            if _looks_out(pieces, spot, FREE * cut):
                found.append(_Candidate(start + along, room, spot))
    return found


def _runs(pieces: tuple[Piece, ...], gentle: float) -> Iterator[tuple[list[Piece], float, bool]]:
    """Yield runs of pieces that a tab may stand on, with where they begin along the edge, and if closed."""
    count = len(pieces)
    starts = [0.0, *itertools.accumulate(_length(p) for p in pieces)]
    good = [isinstance(p, Line) or p.radius >= gentle for p in pieces]
    joined = [good[i - 1] and good[i] and _turn(pieces[i - 1], pieces[i]) <= SMOOTH for i in range(count)]
    if all(joined):
        yield list(pieces), 0.0, True
        return
    first = next(i for i in range(count) if not joined[i])
    index = first
    while index < first + count:
        end = index + 1
        while end < first + count and joined[end % count]:
            end += 1
        if good[index % count]:
            yield [pieces[k % count] for k in range(index, end)], starts[index % count], False
        index = end


def _turn(before: Piece, after: Piece) -> float:
    a, b = before.direction(True), after.direction(False)
    return abs(math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y))


def _length(piece: Piece) -> float:
    return piece.radius * abs(piece.sweep) if isinstance(piece, Bow) else piece.start.to(piece.end)


def _spot(run: list[Piece], along: float) -> Spot:
    """Return the place so far along a run; the material lies at the left of the way."""
    for piece in run:
        size = _length(piece)
        if along <= size or piece is run[-1]:
            return _on(piece, min(1.0, along / size))
        along -= size
    raise ValueError("a run without pieces has no place")


def _on(piece: Piece, share: float) -> Spot:
    if isinstance(piece, Line):
        way = piece.direction(False)
        (ax, ay), (bx, by) = piece.start, piece.end
        return Spot(Point(ax + (bx - ax) * share, ay + (by - ay) * share), Point(way.y, -way.x))
    angle = piece.start_angle + piece.sweep * share
    c, s = math.cos(angle), math.sin(angle)
    sign = math.copysign(1.0, piece.sweep)
    at = Point(piece.centre.x + piece.radius * c, piece.centre.y + piece.radius * s)
    return Spot(at, Point(sign * c, sign * s))


def _looks_out(pieces: tuple[Piece, ...], spot: Spot, far: float) -> bool:
    """Say whether nothing of the part lies before a place of its edge, within 60 degrees of square."""
    foot = spot.at.moved(spot.out.x * 1e-4 * far, spot.out.y * 1e-4 * far)
    tips = (spot.out.turned(angle) for angle in SEEN)
    rays = [Line(foot, foot.moved(tip.x * far, tip.y * far)) for tip in tips]
    return not any(crosses(ray, piece) for ray in rays for piece in pieces)
