"""Where a round tool can go: inner corners, and places too tight for it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby, product
from typing import Literal

from nestkit.geometry.distances import ON_LINE, Boundary, boundary
from nestkit.geometry.outline import Outline
from nestkit.geometry.pieces import Bow, Line, Piece, gap_between
from nestkit.geometry.points import Point

SEEN = 0.1
"""Millimetres that a tool may leave in a corner before anybody minds."""

Walls = frozenset[int]
"""Two pieces of an outline, by their numbers, with a narrow place between them."""

_Found = tuple["Tight", set[Walls]]

SLIGHT = math.radians(30)
"""A small inner arc that turns less is the end of a curve: what the tool leaves there decides."""

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


@dataclass(frozen=True, slots=True)
class Corner:
    """An inner corner without a radius, and how much of it a round tool leaves, in mm from its tip."""

    at: Point
    left: float


def sharp_places(outline: Outline, radius: float, *, opening: bool) -> tuple[Corner, ...]:
    """Return the inner corners that have no radius and would keep more than 0.1 mm of a tool's radius."""
    turns = inner_turns(outline, opening=opening)
    corners = (
        Corner(piece.start, left_in_corner(turn, radius))
        for piece, turn in zip(boundary(outline).pieces, turns, strict=True)
        if turn > 0
    )
    return tuple(corner for corner in corners if corner.left > SEEN)


def sharp_corners(outline: Outline, radius: float, *, opening: bool) -> int:
    """Return how many inner corners have no radius and would keep more than 0.1 mm of a tool's radius."""
    return len(sharp_places(outline, radius, opening=opening))


def too_tight(outline: Outline, radius: float, *, opening: bool) -> Tight | None:
    """Return a place of the outline that a tool of this radius cannot follow, or None.

    An inner corner without a radius is no such place: there the tool leaves its own.
    """
    return next(iter(tight_places(outline, radius, opening=opening)), None)


def tight_places(outline: Outline, radius: float, *, opening: bool) -> tuple[Tight, ...]:
    """Return the places of the outline that a tool of this radius cannot follow.

    Small radii come first, then short sides, then narrow gaps, the smallest first. What lies between the
    same two walls is one place.
    """
    line = boundary(outline)
    turns = inner_turns(outline, opening=opening)
    kept: list[Tight] = []
    told: set[Walls] = set()
    for found in (
        _small_radii(line, radius, opening),
        _short_sides(line, turns, radius),
        _gaps(line, 2 * radius, opening),
    ):
        kept.extend(_told_once(found, told))
    return tuple(kept)


def necks(outline: Outline, limit: float, *, opening: bool) -> tuple[Tight, ...]:
    """Return where the material that an outline bounds is narrower than ``limit``, the narrowest first.

    Of one narrow strip only one place is told. An outer corner, however sharp, is no neck.
    """
    return tuple(_told_once(_gaps(boundary(outline), limit, not opening), set()))


def _told_once(found: Iterable[_Found], told: set[Walls]) -> Iterator[Tight]:
    """Yield the places that lie between walls not told yet, the smallest first, and note their walls."""
    for tight, walls in sorted(found, key=lambda pair: (round(pair[0].size, 6), pair[0].at)):
        if told.isdisjoint(walls):
            yield tight
        told |= walls


def _small_radii(line: Boundary, radius: float, opening: bool) -> Iterator[_Found]:
    """Yield inner arcs that are too small, the smallest of each run; a slight one in a curve is nothing."""
    pieces, count = line.pieces, len(line.pieces)
    small = [
        isinstance(piece, Bow) and (piece.sweep > 0) == opening and piece.radius < radius - SLACK
        for piece in pieces
    ]
    first = next((i for i in range(count) if not small[i]), 0)
    for is_small, group in groupby(range(first, first + count), lambda i: small[i % count]):
        run = list(group)
        bows = [piece for i in run if isinstance(piece := pieces[i % count], Bow)]
        if not is_small or not bows:
            continue
        walls = {frozenset({(run[0] - 1) % count, (run[-1] + 1) % count})}
        least, sweep = min(bows, key=lambda bow: bow.radius), sum(abs(bow.sweep) for bow in bows)
        if sweep > math.pi - 1e-9:
            yield Tight("width", 2 * least.radius, least.start), walls
        elif sweep > SLIGHT or left_in_corner(sweep, radius - least.radius) > SEEN / 20:
            yield Tight("radius", least.radius, least.start), walls


def _short_sides(line: Boundary, turns: tuple[float, ...], radius: float) -> Iterator[_Found]:
    """Yield sides, or runs of them, between inner corners that the tool fills before it touches them."""
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
            walls = {frozenset({(index - 1) % count, on % count})}
            yield Tight("side", piece.start.to(piece.end), piece.start), walls


def _is_short(piece: Piece, before: float, after: float, radius: float) -> bool:
    if not isinstance(piece, Line) or before <= 0 or after <= 0:
        return False
    wanted = radius * (math.tan(min(before, 3.1) / 2) + math.tan(min(after, 3.1) / 2))
    return piece.start.to(piece.end) < wanted - SLACK


def _gaps(line: Boundary, limit: float, opening: bool) -> Iterator[_Found]:
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


def _gaps_of(line: Boundary, i: int, j: int, limit: float, opening: bool) -> Iterator[_Found]:
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
                ends = _through(line, first, p), _through(line, second, q)
                yield Tight("gap", wide, p), {frozenset(pair) for pair in product(*ends)}


def _through(line: Boundary, index: int, p: Point) -> set[int]:
    """Return the piece of a number, and the next one too where ``p`` is the corner between them."""
    piece, count = line.pieces[index], len(line.pieces)
    found = {index}
    if p.to(piece.start) < 1e-6:
        found.add((index - 1) % count)
    if p.to(piece.end) < 1e-6:
        found.add((index + 1) % count)
    return found


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
