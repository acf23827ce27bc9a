"""Distances to an outline's line by exact formulas, without flattening: lines and true arcs."""

from __future__ import annotations

import bisect
import functools
import math
from dataclasses import dataclass

from nestkit.geometry.outline import Outline
from nestkit.geometry.pieces import Line, Piece, gap_between, piece_distance, pieces_of
from nestkit.geometry.points import Point, Rect

ON_LINE = 1e-9
"""Millimetres from the line within which a point lies on it."""

RUN = 16
"""Pieces that are looked at together or left out together; a plain part has one such run."""


@dataclass(frozen=True, slots=True)
class Run:
    """Some pieces in a row; ``chord`` leads from where they start to where they end."""

    pieces: tuple[Piece, ...]
    box: Rect
    chord: Line


@dataclass(frozen=True, slots=True)
class Boundary:
    """An outline's line: how far points and other lines are from it. Build it with :func:`boundary`."""

    pieces: tuple[Piece, ...]
    box: Rect
    runs: tuple[Run, ...]

    def distance(self, p: Point) -> float:
        """Return the distance in mm from a point to the line, whichever side it lies."""
        if len(self.runs) == 1:
            return min([p.to(piece.nearest(p)) for piece in self.pieces])
        least = math.inf
        here = Rect(p.x, p.y, p.x, p.y)
        for away, index in sorted((gap_between(run.box, here), i) for i, run in enumerate(self.runs)):
            if away >= least:
                break
            least = min(least, *[p.to(piece.nearest(p)) for piece in self.runs[index].pieces])
        return least

    def winds_round(self, p: Point) -> bool:
        """Say whether a point that is not on the line lies inside it."""
        # Seen from outside a box, whatever runs inside it sweeps the angle between its ends.
        swept = 0.0
        for run in self.runs:
            if _holds(run.box, p):
                swept += sum([piece.angle_from(p) for piece in run.pieces])
            else:
                swept += run.chord.angle_from(p)
        return abs(swept) > math.pi

    def depth(self, p: Point) -> float:
        """Return the distance to the line, negative when the point lies outside."""
        away = self.distance(p)
        return away if away <= ON_LINE or self.winds_round(p) else -away

    def near(self, p: Point, limit: float) -> bool:
        """Say whether a point comes within ``limit`` of the line's box: only a no is certain."""
        (left, bottom, right, top), (x, y) = self.box, p
        return left - limit <= x <= right + limit and bottom - limit <= y <= top + limit

    def near_box(self, box: Rect, limit: float) -> bool:
        """Say whether a box comes within ``limit`` of the box around the line."""
        return gap_between(self.box, box) <= limit

    def apart(self, other: Boundary, limit: float = math.inf) -> float:
        """Return the least distance in mm between the two lines, 0 where they touch or cross.

        A distance above ``limit`` need not be exact: infinity may stand for it.
        """
        least = math.inf
        mine = [(p.box, p) for p in self.pieces if gap_between(p.box, other.box) <= limit]
        theirs = [(p.box, p) for p in other.pieces if gap_between(p.box, self.box) <= limit]
        theirs.sort(key=lambda pair: pair[0].left)
        lefts = [box.left for box, _ in theirs]
        widest = max((box.width for box, _ in theirs), default=0.0)
        for box, piece in mine:
            reach = min(limit, least)
            first = bisect.bisect_left(lefts, box.left - widest - reach)
            last = bisect.bisect_right(lefts, box.right + reach)
            for other_box, other_piece in theirs[first:last]:
                if gap_between(box, other_box) <= min(limit, least):
                    least = min(least, piece_distance(piece, other_piece))
        return least


@functools.lru_cache(maxsize=1024)
def boundary(outline: Outline) -> Boundary:
    """Return an outline's line, ready to be measured to; remembered, since many holes ask."""
    pieces = pieces_of(outline)
    runs = tuple(_run(pieces[i : i + RUN]) for i in range(0, len(pieces), RUN))
    return Boundary(pieces, outline.bounds, runs)


def _run(pieces: tuple[Piece, ...]) -> Run:
    lefts, bottoms, rights, tops = zip(*(piece.box for piece in pieces), strict=True)
    box = Rect(min(lefts), min(bottoms), max(rights), max(tops))
    return Run(pieces, box, Line(pieces[0].start, pieces[-1].end))


def _holds(box: Rect, p: Point) -> bool:
    return box.left <= p.x <= box.right and box.bottom <= p.y <= box.top
