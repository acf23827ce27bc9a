"""A drawing larger than the paper: windows that overlap, seams kept off holes, crosses to join by."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Path, Text, line
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect

OVERLAP = 12.0
"""Millimetres that two neighbours both show, where no larger hole asks for more."""
CROSS = 4.0
"""Arm of a registration cross; its diamond, which no punch mark has, is half that."""
_STEP = 1.0


def tile_count(
    width: float, height: float, usable_width: float, usable_height: float, overlap: float = OVERLAP
) -> tuple[int, int]:
    """Return columns and rows of pages of a usable size for a drawing of ``width`` x ``height``.

    A 24 x 12 in drawing on usable 8 x 10.5 in with 1/2 in overlap takes 4 x 2 pages:

    >>> tile_count(24, 12, 8, 10.5, 0.5), tile_count(24, 12, 10.5, 8, 0.5)
    ((4, 2), (3, 2))
    """
    if min(usable_width, usable_height) <= 2 * overlap:
        raise ValueError("the usable part of a page must be more than twice the overlap")
    return _pages(width, usable_width, overlap), _pages(height, usable_height, overlap)


def _pages(length: float, usable: float, overlap: float) -> int:
    # A hair more than fits must not cost a page: sums of page furniture are floats.
    return max(1, math.ceil((length - overlap) / (usable - overlap) - 1e-9))


@dataclass(frozen=True, slots=True)
class Cross:
    """A registration cross, printed at one place of the drawing on both pages of a seam."""

    at: Point
    name: str


@dataclass(frozen=True, slots=True)
class Tile:
    """One window on the drawing; neighbours are numbers of tiles, 0 where there is none."""

    number: int
    column: int
    row: int
    window: Rect
    left: int
    right: int
    below: int
    above: int


@dataclass(frozen=True, slots=True)
class Tiling:
    """Windows row by row from the lower left, their numbers counting from 1, and the crosses.

    ``overlap`` is what two neighbours both show.
    """

    columns: int
    rows: int
    tiles: tuple[Tile, ...]
    crosses: tuple[Cross, ...]
    overlap: float

    def whole(self, box: Rect) -> bool:
        """Say whether one window at least shows a box as a whole."""
        return any(
            t.window.left <= box.left
            and t.window.bottom <= box.bottom
            and box.right <= t.window.right
            and box.top <= t.window.top
            for t in self.tiles
        )

    def seams(self) -> tuple[Rect, ...]:
        """The bands that two neighbours both show, across the whole drawing."""
        across = [t.window for t in self.tiles if t.row == 0]
        up = [t.window for t in self.tiles if t.column == 0]
        low, high = up[0].bottom, up[-1].top
        first, last = across[0].left, across[-1].right
        standing = [Rect(b.left, low, a.right, high) for a, b in pairwise(across)]
        lying = [Rect(first, b.bottom, last, a.top) for a, b in pairwise(up)]
        return (*standing, *lying)


def tiling(
    area: Rect, usable_width: float, usable_height: float, keep_off: Sequence[Rect], overlap: float = OVERLAP
) -> Tiling:
    """Return the windows of pages that show ``area``, seams kept off boxes where that costs no page.

    Every seam is ``overlap`` wide; no window is larger than the usable size of a page. Raises
    ``ValueError`` when the usable size is less than four overlaps.
    """
    if min(usable_width, usable_height) < 4 * overlap:
        raise ValueError("the usable part of a page must be at least four times the overlap")
    columns, rows = tile_count(area.width, area.height, usable_width, usable_height, overlap)
    xs = _seams(area.left, area.width, usable_width, columns, [(b.left, b.right) for b in keep_off], overlap)
    ys = _seams(area.bottom, area.height, usable_height, rows, [(b.bottom, b.top) for b in keep_off], overlap)
    half = overlap / 2
    tiles = tuple(
        Tile(
            number=row * columns + column + 1,
            column=column,
            row=row,
            window=Rect(xs[column] - half, ys[row] - half, xs[column + 1] + half, ys[row + 1] + half),
            left=row * columns + column if column else 0,
            right=row * columns + column + 2 if column + 1 < columns else 0,
            below=(row - 1) * columns + column + 1 if row else 0,
            above=(row + 1) * columns + column + 1 if row + 1 < rows else 0,
        )
        for row in range(rows)
        for column in range(columns)
    )
    return Tiling(columns, rows, tiles, tuple(_crosses(tiles, keep_off, overlap)), overlap)


def _seams(
    start: float, length: float, usable: float, count: int, spans: list[tuple[float, float]], overlap: float
) -> list[float]:
    """Return the middles of all seams along one axis, the drawing's two ends (moved in) included.

    Seam i lies at most at i whole steps, and back from there by at most what the pages have to
    spare; it may not lie back less than the seam before it, or the page between them would be too
    wide. Of the places, 1 mm apart, the cheapest in sum are taken: fewest boxes met, then even.
    """
    step, whole, first = usable - overlap, length - overlap, start + overlap / 2
    spare = max(0.0, count * step - whole)
    # A page must stay wider than its two overlaps.
    tight = max(0.0, spare - (step - overlap))
    backs = [tight + i * _STEP for i in range(math.floor((spare - 2 * tight) / _STEP) + 1)]
    best = [0.0] * len(backs)
    chosen: list[list[int]] = []
    for seam in range(1, count):
        even = first + seam * whole / count
        before, best, row = best, [], []
        least = 0
        for i, back in enumerate(backs):
            least = i if before[i] < before[least] else least
            row.append(least)
            best.append(before[least] + _cost(first + seam * step - back, even, spans, overlap, step))
        chosen.append(row)
    at = min(range(len(best)), key=best.__getitem__)
    found: list[float] = []
    for seam in range(count - 1, 0, -1):
        found.append(first + seam * step - backs[at])
        at = chosen[seam - 1][at]
    return [first, *reversed(found), first + whole]


def _cost(middle: float, even: float, spans: list[tuple[float, float]], overlap: float, step: float) -> float:
    low, high = middle - overlap / 2, middle + overlap / 2
    met = sum(1 for a, b in spans if a < high and b > low)
    return met + 0.5 * abs(middle - even) / step


def _crosses(tiles: Sequence[Tile], keep_off: Sequence[Rect], overlap: float) -> list[Cross]:
    """Two crosses in every overlap of two neighbours, off the corners where four pages meet."""
    windows = {tile.number: tile.window for tile in tiles}
    places: list[Point] = []
    for tile in tiles:
        box = tile.window
        if tile.right:
            middle = (windows[tile.right].left + box.right) / 2
            places += [Point(middle, y) for y in _pair(box.bottom, box.top, middle, keep_off, overlap, "x")]
        if tile.above:
            middle = (windows[tile.above].bottom + box.top) / 2
            places += [Point(x, middle) for x in _pair(box.left, box.right, middle, keep_off, overlap, "y")]
    return [Cross(at, _letters(i)) for i, at in enumerate(places)]


def _pair(
    low: float, high: float, middle: float, keep_off: Sequence[Rect], overlap: float, across: str
) -> tuple[float, float]:
    """Two places along a seam, each in its own half, nearest to its outer end and off all boxes."""
    inset = overlap + CROSS + 2.0
    if high - low < 4 * inset:
        inset = (high - low) / 5
    room = (high - low) / 2 - inset
    pair = []
    for end, way in ((low + inset, 1.0), (high - inset, -1.0)):
        tries = [end + way * room * i / 16 for i in range(14)]
        places = [(t, _around(Point(middle, t) if across == "x" else Point(t, middle))) for t in tries]
        clear = (t for t, around in places if not any(box.meets(around) for box in keep_off))
        pair.append(next(clear, tries[0]))
    return pair[0], pair[1]


def _around(p: Point) -> Rect:
    return Rect(*p, *p).grown(CROSS)


def _letters(index: int) -> str:
    """a, b, ..., z, aa, ab: names of crosses."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters


def cross_marks(cross: Cross) -> tuple[Mark, ...]:
    """Return a registration cross: fine lines through a diamond, with its letter."""
    at, half = cross.at, CROSS / 2
    diamond = tuple(
        Vertex(at.x + dx * half, at.y + dy * half) for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1))
    )
    return (
        line(at.moved(-CROSS, 0), at.moved(CROSS, 0), Layer.FINE),
        line(at.moved(0, -CROSS), at.moved(0, CROSS), Layer.FINE),
        Path(diamond, closed=True, layer=Layer.FINE),
        Text(at.moved(1.6, 1.6), cross.name, 2.6, Layer.LABEL),
    )


def cross_box(cross: Cross) -> Rect:
    """Return the box that a registration cross takes, letter included."""
    return _around(cross.at)
