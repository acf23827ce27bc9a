"""A drawing larger than the paper: windows that overlap, seams kept off holes, crosses to join by."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from nestkit.drawing.crosses import Cross, crosses_in
from nestkit.drawing.template_labels import Field
from nestkit.geometry.points import Rect

OVERLAP = 12.0
"""Millimetres that two neighbours both show, where no larger hole asks for more."""
_STEP = 1.0
_HAIR = 1e-6

Span = tuple[float, float]


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

    ``across`` and ``up`` are the spans of all columns and rows; a window that would show nothing
    may be left out. ``overlap`` is what two neighbours both show.
    """

    across: tuple[Span, ...]
    up: tuple[Span, ...]
    tiles: tuple[Tile, ...]
    crosses: tuple[Cross, ...]
    overlap: float

    @property
    def columns(self) -> int:
        """How many windows lie side by side."""
        return len(self.across)

    @property
    def rows(self) -> int:
        """How many windows lie one above the other."""
        return len(self.up)

    def whole(self, box: Rect) -> bool:
        """Say whether one window at least shows a box as a whole."""
        return any(t.window.holds(box) for t in self.tiles)

    def seams(self) -> tuple[Rect, ...]:
        """The bands that two neighbours both show, across the whole drawing."""
        low, high = self.up[0][0], self.up[-1][1]
        first, last = self.across[0][0], self.across[-1][1]
        standing = [Rect(b[0], low, a[1], high) for a, b in pairwise(self.across)]
        lying = [Rect(first, b[0], last, a[1]) for a, b in pairwise(self.up)]
        return (*standing, *lying)


def tiling(
    area: Rect,
    usable_width: float,
    usable_height: float,
    keep_off: Sequence[Rect],
    overlap: float = OVERLAP,
    shows: Callable[[Rect], bool] | None = None,
    field: Field | None = None,
) -> Tiling:
    """Return the windows of pages that show ``area``, seams kept off boxes where that costs no page.

    Every seam is ``overlap`` wide; no window is larger than the usable size of a page. Of all ways
    to lay the seams, one that meets the fewest boxes is taken. Windows for which ``shows`` says no
    are left out, as long as the others still hang together. Crosses and their letters keep off what is
    taken in the ``field``, which then has them, too. Raises ``ValueError`` when the usable
    size is less than four overlaps.
    """
    if min(usable_width, usable_height) < 4 * overlap:
        raise ValueError("the usable part of a page must be at least four times the overlap")
    columns, rows = tile_count(area.width, area.height, usable_width, usable_height, overlap)
    xs = _seams(area.left, area.width, usable_width, columns, [(b.left, b.right) for b in keep_off], overlap)
    ys = _seams(area.bottom, area.height, usable_height, rows, [(b.bottom, b.top) for b in keep_off], overlap)
    half = overlap / 2
    across = tuple((a - half, b + half) for a, b in pairwise(xs))
    up = tuple((a - half, b + half) for a, b in pairwise(ys))
    cells = [(column, row) for row in range(rows) for column in range(columns)]
    if shows is not None:
        wanted = [c for c in cells if shows(_window(across, up, c))]
        cells = wanted if _hang_together(wanted) else cells
    tiles = _numbered(across, up, cells)
    windows = {tile.number: tile.window for tile in tiles}
    bands = []
    for tile in tiles:
        here = tile.window
        if tile.right:
            bands.append(Rect(windows[tile.right].left, here.bottom, here.right, here.top))
        if tile.above:
            bands.append(Rect(here.left, windows[tile.above].bottom, here.right, here.top))
    return Tiling(across, up, tiles, crosses_in(bands, keep_off, overlap, field), overlap)


def _window(across: Sequence[Span], up: Sequence[Span], cell: tuple[int, int]) -> Rect:
    column, row = cell
    return Rect(across[column][0], up[row][0], across[column][1], up[row][1])


def _numbered(across: Sequence[Span], up: Sequence[Span], cells: list[tuple[int, int]]) -> tuple[Tile, ...]:
    numbers = {cell: number for number, cell in enumerate(cells, start=1)}
    return tuple(
        Tile(
            number=number,
            column=column,
            row=row,
            window=_window(across, up, (column, row)),
            left=numbers.get((column - 1, row), 0),
            right=numbers.get((column + 1, row), 0),
            below=numbers.get((column, row - 1), 0),
            above=numbers.get((column, row + 1), 0),
        )
        for (column, row), number in numbers.items()
    )


def _hang_together(cells: list[tuple[int, int]]) -> bool:
    """Say whether from each cell every other can be reached from neighbour to neighbour."""
    left, reached = set(cells), cells[:1]
    left.difference_update(reached)
    while reached:
        column, row = reached.pop()
        for near in ((column - 1, row), (column + 1, row), (column, row - 1), (column, row + 1)):
            if near in left:
                left.remove(near)
                reached.append(near)
    return bool(cells) and not left


def _seams(
    start: float, length: float, usable: float, count: int, spans: list[Span], overlap: float
) -> list[float]:
    """Return the middles of all seams along one axis, the drawing's two ends (moved in) included.

    Seam i lies at most at i whole steps, and back from there by at most what the pages have to
    spare; it may not lie back less than the seam before it, or the page between them would be too
    wide. Places 1 mm apart are tried first. Where those meet a box, the places where some seam just
    touches some box are tried too: moved back as far as it can without meeting another box, each
    seam of the best way comes to lie at one of them, so that no way meets fewer boxes.
    """
    step, whole, first = usable - overlap, length - overlap, start + overlap / 2
    spare = max(0.0, count * step - whole)
    # A page must stay wider than its two overlaps.
    tight = max(0.0, spare - (step - overlap))
    most = spare - tight
    even = [first + seam * whole / count for seam in range(count + 1)]
    furthest = [first + seam * step for seam in range(count + 1)]
    backs = [tight + i * _STEP for i in range(math.floor((most - tight) / _STEP) + 1)]
    found, met = _cheapest(backs, furthest, even, spans, overlap)
    if met:
        touching = {
            furthest[seam] - place
            for seam in range(1, count)
            for low, high in spans
            for place in (low - overlap / 2 - _HAIR, high + overlap / 2 + _HAIR)
        }
        backs = sorted({*backs, most, *(b for b in touching if tight <= b <= most)})
        found, met = _cheapest(backs, furthest, even, spans, overlap)
    return [first, *found, first + whole]


def _cheapest(
    backs: list[float], furthest: list[float], even: list[float], spans: list[Span], overlap: float
) -> tuple[list[float], int]:
    """Return the seams that meet the fewest boxes, of those the most even; and how many they meet."""
    count, step = len(furthest) - 1, furthest[1] - furthest[0]
    best: list[tuple[int, float]] = [(0, 0.0)] * len(backs)
    chosen: list[list[int]] = []
    for seam in range(1, count):
        before, best, row = best, [], []
        least = 0
        for i, back in enumerate(backs):
            least = i if before[i] < before[least] else least
            row.append(least)
            middle = furthest[seam] - back
            met = _met(middle - overlap / 2, middle + overlap / 2, spans)
            best.append((before[least][0] + met, before[least][1] + abs(middle - even[seam]) / step))
        chosen.append(row)
    at = min(range(len(best)), key=best.__getitem__)
    meets = best[at][0]
    found: list[float] = []
    for seam in range(count - 1, 0, -1):
        found.append(furthest[seam] - backs[at])
        at = chosen[seam - 1][at]
    return found[::-1], meets


def _met(low: float, high: float, spans: list[Span]) -> int:
    return sum(1 for a, b in spans if a < high and b > low)
