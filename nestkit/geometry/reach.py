"""Where a round tool can go: inner corners, and places too tight for it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from nestkit.geometry.distances import ON_LINE, Boundary, boundary
from nestkit.geometry.outline import Outline
from nestkit.geometry.pieces import Bow, Line, Piece, gap_between
from nestkit.geometry.points import Point

SEEN = 0.1
"""Millimetres that a tool may leave in a corner before anybody minds."""

SLACK = 1e-6
"""Millimetres by which a place may fall short of the tool."""


@dataclass(frozen=True, slots=True)
class Tight:
    """A place that a round tool cannot follow.

    ``kind`` says how: an inner ``radius`` below the tool's, a round end of too small a ``width``, a
    ``side`` between two inner corners or a ``gap`` between two sides too narrow for the tool.
    ``size`` is what is there, in mm.
    """

    kind: Literal["radius", "width", "side", "gap"]
    size: float
    at: Point


def left_in_corner(turn: float, radius: float) -> float:
    """Return how much a tool leaves in an inner corner, from its tip, for a turn of the way in radians."""
    return radius * (1 / math.cos(turn / 2) - 1) if turn < math.pi - 1e-9 else math.inf


def inner_turns(outline: Outline, *, opening: bool) -> tuple[float, ...]:
    """Return by how much the way turns into the material's inner corner at the start of each piece.

    Radians, 0 for a smooth joint, negative for an outer corner. The outline runs counter-clockwise;
    in an opening the material lies outside it.
    """
    pieces = boundary(outline).pieces
    sign = 1.0 if opening else -1.0
    turns = []
    for index, piece in enumerate(pieces):
        (ax, ay), (bx, by) = pieces[index - 1].direction(True), piece.direction(False)
        turns.append(sign * math.atan2(ax * by - ay * bx, ax * bx + ay * by))
    return tuple(turns)


def sharp_corners(outline: Outline, radius: float, *, opening: bool) -> int:
    """Return how many inner corners have no radius and would keep more than 0.1 mm of a tool's radius."""
    return sum(
        turn > 0 and left_in_corner(turn, radius) > SEEN for turn in inner_turns(outline, opening=opening)
    )


def too_tight(outline: Outline, radius: float, *, opening: bool) -> Tight | None:
    """Return a place of the outline that a tool of this radius cannot follow, or None.

    An inner corner without a radius is no such place: there the tool leaves its own.
    """
    line = boundary(outline)
    return (
        _small_radius(line, radius, opening)
        or _short_side(line, inner_turns(outline, opening=opening), radius)
        or next(_gaps(line, 2 * radius, opening), None)
    )


def _small_radius(line: Boundary, radius: float, opening: bool) -> Tight | None:
    inner = [
        piece
        for piece in line.pieces
        if isinstance(piece, Bow) and (piece.sweep > 0) == opening and piece.radius < radius - SLACK
    ]
    if not inner:
        return None
    least = min(inner, key=lambda bow: bow.radius)
    if abs(least.sweep) > math.pi - 1e-9:
        return Tight("width", 2 * least.radius, least.start)
    return Tight("radius", least.radius, least.start)


def _short_side(line: Boundary, turns: tuple[float, ...], radius: float) -> Tight | None:
    """A side, or a run of them, between inner corners that the tool's round fills before it touches them."""
    count = len(line.pieces)
    short = [
        _is_short(piece, turns[i], turns[(i + 1) % count], radius) for i, piece in enumerate(line.pieces)
    ]
    for index in range(count):
        if not short[index] or (short[index - 1] and index):
            continue
        # A curve written as many points: each corner is slight, their sum need not be.
        total, on = turns[index], index
        while on < index + count and short[on % count]:
            on += 1
            total += turns[on % count]
        if left_in_corner(min(total, math.pi), radius) > SEEN:
            piece = line.pieces[index]
            return Tight("side", piece.start.to(piece.end), piece.start)
    return None


def _is_short(piece: Piece, before: float, after: float, radius: float) -> bool:
    if not isinstance(piece, Line) or before <= 0 or after <= 0:
        return False
    wanted = radius * (math.tan(min(before, 3.1) / 2) + math.tan(min(after, 3.1) / 2))
    return piece.start.to(piece.end) < wanted - SLACK


def _gaps(line: Boundary, limit: float, opening: bool) -> Iterator[Tight]:
    """Yield gaps narrower than ``limit`` between sides that are no neighbours, as in a keyhole's neck."""
    count = len(line.pieces)
    boxes = [piece.box for piece in line.pieces]
    order = sorted(range(count), key=lambda i: boxes[i].left)
    for n, i in enumerate(order):
        for j in order[n + 1 :]:
            if boxes[j].left > boxes[i].right + limit:
                break
            if (i - j) % count in (1, count - 1) or gap_between(boxes[i], boxes[j]) >= limit:
                continue
            yield from _gaps_of(line, i, j, limit, opening)


def _gaps_of(line: Boundary, i: int, j: int, limit: float, opening: bool) -> Iterator[Tight]:
    for first, second in ((i, j), (j, i)):
        a, b = line.pieces[first], line.pieces[second]
        for p in a.critical(b):
            q = b.nearest(p)
            wide = p.to(q)
            if not ON_LINE < wide < limit - SLACK:
                continue
            if not (_leads_nowhere_nearer(line, first, p, q) and _leads_nowhere_nearer(line, second, q, p)):
                continue
            if (line.depth(Point((p.x + q.x) / 2, (p.y + q.y) / 2)) > 0) == opening:
                yield Tight("gap", wide, p)


def _leads_nowhere_nearer(line: Boundary, index: int, p: Point, q: Point) -> bool:
    """Say whether going along the line from ``p``, either way, does not come nearer to ``q``.

    So the narrowest place of a neck is told from two ends of one corner, which are near each other
    only because the line runs from one to the other.
    """
    piece = line.pieces[index]
    if piece.nearest(q).to(p) > 1e-6 and piece.nearest(q).to(q) < p.to(q) - 1e-9:
        return False
    if p.to(piece.start) < 1e-9:
        neighbour, direction = line.pieces[index - 1], -1.0
    elif p.to(piece.end) < 1e-9:
        neighbour, direction = line.pieces[(index + 1) % len(line.pieces)], 1.0
    else:
        return True
    d = neighbour.direction(direction < 0)
    return direction * (d.x * (q.x - p.x) + d.y * (q.y - p.y)) <= 1e-6 * p.to(q)
