"""Where lines of a drawing meet that must not: a loop with itself, or with another one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from nestkit.geometry.outline import Outline
from nestkit.geometry.pieces import Bow, Line, Piece, piece_distance, pieces_of
from nestkit.geometry.points import Point, Rect, around
from nestkit.job.outlines.cleaning import SAME

_FEW = 16


class Meeting(NamedTuple):
    """Two loops, by number, that meet (one twice: with itself), and where."""

    first: int
    second: int
    at: Point


class _Item(NamedTuple):
    """A piece with its box; ``low`` and ``high`` are where it lies along the way that is gone over."""

    low: float
    high: float
    box: Rect
    loop: int
    step: int
    piece: Piece


def first_meeting(loops: Sequence[Outline]) -> Meeting | None:
    """Return a place where loops cross, touch or fold back (within SAME), or None."""
    found: list[tuple[Rect, int, int, Piece]] = []
    counts: list[int] = []
    for number, outline in enumerate(loops):
        pieces = pieces_of(outline)
        counts.append(len(pieces))
        for index, piece in enumerate(pieces):
            found.append((_box(piece).grown(SAME), number, index, piece))
    # Gone over along x or y, whichever has fewer pieces beside one another.
    whole = around(box for box, *_ in found)
    beside_x = sum(box.width for box, *_ in found) / whole.width
    across = beside_x > sum(box.height for box, *_ in found) / whole.height
    items = [
        _Item(box.bottom if across else box.left, box.top if across else box.right, box, loop, step, piece)
        for box, loop, step, piece in found
    ]
    items.sort(key=lambda item: (item.low, item.loop, item.step))
    active: list[_Item] = []
    full = _FEW
    for item in items:
        low, (left, bottom, right, top) = item.low, item.box
        if len(active) >= full:
            active = [other for other in active if other.high >= low]
            full = 2 * len(active) + _FEW
        for other in active:
            box = other.box
            if box.bottom <= top and bottom <= box.top and box.left <= right and left <= box.right:
                at = _meet(other, item, counts)
                if at is not None:
                    return Meeting(other.loop, item.loop, at)
        active.append(item)
    return None


def _box(piece: Piece) -> Rect:
    """Return the box around a piece, tight for arcs too."""
    if isinstance(piece, Line):
        return piece.box
    xs, ys = [piece.start.x, piece.end.x], [piece.start.y, piece.end.y]
    for quarter, (dx, dy) in enumerate(((1, 0), (0, 1), (-1, 0), (0, -1))):
        if piece.holds(quarter * math.pi / 2):
            xs.append(piece.centre.x + dx * piece.radius)
            ys.append(piece.centre.y + dy * piece.radius)
    return Rect(min(xs), min(ys), max(xs), max(ys))


def _meet(a: _Item, b: _Item, counts: Sequence[int]) -> Point | None:
    """Return where two pieces meet, other than at the corner that neighbours share."""
    if a.loop == b.loop:
        count = counts[a.loop]
        follows, leads = (b.step - a.step) % count == 1, (a.step - b.step) % count == 1
        if follows or leads:
            shared = ([a.piece.end] if follows else []) + ([a.piece.start] if leads else [])
            return _neighbours_meet(a.piece, b.piece, shared)
    if _plainly_apart(a.piece, b.piece) or _plainly_apart(b.piece, a.piece):
        return None
    if piece_distance(a.piece, b.piece) > SAME:
        return None
    return next(iter(_crossings(a.piece, b.piece)), None) or _nearest(a.piece, b.piece)


def _plainly_apart(line: Piece, other: Piece) -> bool:
    """Say whether another line lies on one side of a line as a whole: most pairs are told apart by that."""
    if not (isinstance(line, Line) and isinstance(other, Line)):
        return False
    (ax, ay), (bx, by) = line.start, line.end
    dx, dy = bx - ax, by - ay
    near = SAME * (abs(dx) + abs(dy))
    first = dx * (other.start.y - ay) - dy * (other.start.x - ax)
    last = dx * (other.end.y - ay) - dy * (other.end.x - ax)
    return (first > near and last > near) or (first < -near and last < -near)


def _neighbours_meet(a: Piece, b: Piece, shared: Sequence[Point]) -> Point | None:
    if isinstance(a, Line) and isinstance(b, Line):
        corner = shared[0]
        far_a, far_b = (p.start if p.start.to(corner) > p.end.to(corner) else p.end for p in (a, b))
        short, long = sorted((far_a, far_b), key=corner.to)
        back = Line(corner, long).nearest(short).to(short) <= SAME
        return short if back else None
    # Where one passes smoothly into the other, rounding lets them meet a little further on as well.
    curved = sum(1 / p.radius for p in (a, b) if isinstance(p, Bow))
    for at in (*_crossings(a, b), *_end_touches(a, b, shared)):
        away = min(at.to(corner) for corner in shared)
        if away > 10 * SAME and away * away / 8 * curved > SAME:
            return at
    return None


def _end_touches(a: Piece, b: Piece, shared: Sequence[Point]) -> Iterator[Point]:
    """Yield far ends of neighbours that lie on the other one."""
    for piece, other in ((a, b), (b, a)):
        for end in (piece.start, piece.end):
            if all(end.to(corner) > 10 * SAME for corner in shared) and other.nearest(end).to(end) <= SAME:
                yield end


def _nearest(a: Piece, b: Piece) -> Point:
    return min((*a.critical(b), *b.critical(a)), key=lambda p: a.nearest(p).to(p) + b.nearest(p).to(p))


def _crossings(a: Piece, b: Piece) -> Iterator[Point]:
    """Yield the places where two pieces cross."""
    if isinstance(a, Line) and isinstance(b, Line):
        found = _lines(a, b)
    elif isinstance(a, Bow) and isinstance(b, Bow):
        found = _circles(a, b)
    else:
        line, bow = (a, b) if isinstance(a, Line) else (b, a)
        found = _line_and_circle(line, bow) if isinstance(line, Line) and isinstance(bow, Bow) else iter(())
    for p in found:
        if a.nearest(p).to(p) <= SAME and b.nearest(p).to(p) <= SAME:
            yield p


def _lines(a: Line, b: Line) -> Iterator[Point]:
    ax, ay, bx, by = a.end.x - a.start.x, a.end.y - a.start.y, b.end.x - b.start.x, b.end.y - b.start.y
    cross = ax * by - ay * bx
    if cross:
        share = ((b.start.x - a.start.x) * by - (b.start.y - a.start.y) * bx) / cross
        yield Point(a.start.x + share * ax, a.start.y + share * ay)


def _line_and_circle(line: Line, bow: Bow) -> Iterator[Point]:
    length = line.start.to(line.end)
    ux, uy = (line.end.x - line.start.x) / length, (line.end.y - line.start.y) / length
    fx, fy = bow.centre.x - line.start.x, bow.centre.y - line.start.y
    along, off = fx * ux + fy * uy, fx * -uy + fy * ux
    half = bow.radius * bow.radius - off * off
    if half >= 0:
        for way in (-math.sqrt(half), math.sqrt(half)):
            yield Point(line.start.x + (along + way) * ux, line.start.y + (along + way) * uy)


def _circles(a: Bow, b: Bow) -> Iterator[Point]:
    dx, dy = b.centre.x - a.centre.x, b.centre.y - a.centre.y
    away = math.hypot(dx, dy)
    if away == 0.0:
        return
    along = (away * away + a.radius * a.radius - b.radius * b.radius) / (2 * away)
    half = a.radius * a.radius - along * along
    if half >= 0:
        for across in (math.sqrt(half), -math.sqrt(half)):
            x = a.centre.x + (along * dx - across * dy) / away
            yield Point(x, a.centre.y + (along * dy + across * dx) / away)
