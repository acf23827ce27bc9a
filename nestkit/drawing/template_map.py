"""The tile map: a small plan of the pages of a template, to join them by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Inset, Mark, Text, outlined
from nestkit.drawing.template_facts import Facts
from nestkit.drawing.template_labels import Field
from nestkit.drawing.tiles import Span, Tile, Tiling
from nestkit.drawing.type import text_width
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline

LEAST_NUMBER = 1.8
_GREY = 0.7
"""Of the page that is shown on the map at its own head."""


def tile_map(
    facts: Facts, plan: Tiling, width: float, height: float, *, first_page: int, here: int = 0
) -> Drawing:
    """Return the map in a box of at most ``width`` x ``height`` mm; tile number ``here`` is grey.

    Page numbers count from ``first_page``, the page of the first tile. They are left out where
    the cells are too small to read them.
    """
    area = facts.area
    scale = min(width / area.width, height / area.height)
    xs, ys = _bounds(plan.across), _bounds(plan.up)

    def cell(tile: Tile) -> Rect:
        return Rect(
            (xs[tile.column] - area.left) * scale,
            (ys[tile.row] - area.bottom) * scale,
            (xs[tile.column + 1] - area.left) * scale,
            (ys[tile.row + 1] - area.bottom) * scale,
        )

    cells = [cell(tile) for tile in plan.tiles]
    shown = next((i for i, tile in enumerate(plan.tiles) if tile.number == here), None)
    return _map(facts, scale, cells, [c.centre for c in cells], first_page, shown)


def placed_map(
    facts: Facts,
    windows: Sequence[Rect],
    marked: Sequence[Rect],
    width: float,
    height: float,
    *,
    first_page: int,
    here: int = 0,
) -> Drawing:
    """Return the map of pages that are not joined, in a box; window number ``here`` is grey.

    Windows may overlap: a page's number stands in the middle of what is ``marked`` through it.
    """
    area = facts.area
    scale = min(width / area.width, height / area.height)

    def small(box: Rect) -> Rect:
        seen = box.common(area)
        return Rect(
            (seen.left - area.left) * scale,
            (seen.bottom - area.bottom) * scale,
            (seen.right - area.left) * scale,
            (seen.top - area.bottom) * scale,
        )

    cells = [small(window) for window in windows]
    aims = []
    for cell, box in zip(cells, marked, strict=True):
        # Half of the way from the middle of its window to what is marked.
        towards = small(box).centre
        aims.append(Point((cell.centre.x + towards.x) / 2, (cell.centre.y + towards.y) / 2))
    return _map(facts, scale, cells, aims, first_page, here - 1 if here else None)


def _map(
    facts: Facts, scale: float, cells: Sequence[Rect], aims: Sequence[Point], first: int, here: int | None
) -> Drawing:
    """Draw the cells of pages over the part, each with its number, the first page's being ``first``."""
    area = facts.area
    frames = [box_outline(cell) for cell in cells]
    marks: list[Mark] = [] if here is None else [Fill(frames[here], _GREY)]
    marks += [outlined(frame, Layer.FINE) for frame in frames]
    corner = Point(-area.left * scale, -area.bottom * scale)
    marks.append(Inset(Drawing(area.width, area.height, _part(facts)), corner, scale, scale, area))
    size = (area.width * scale, area.height * scale)
    small = tuple(
        tuple(Vertex(corner.x + v.x * scale, corner.y + v.y * scale, v.bulge) for v in outline.vertices)
        for outline in facts.view.outlines
    )
    for i, text, clear in _numbers(tuple(cells), tuple(aims), first, Rect(0.0, 0.0, *size), small):
        if not clear:
            marks.append(Fill(box_outline(text.bounds), _GREY if i == here else 1.0))
        marks.append(text)
    return Drawing(*size, tuple(marks))


def _part(facts: Facts) -> tuple[Mark, ...]:
    """The part's outline, heavy, and its openings."""
    openings = (outlined(opening.outline, Layer.OPENING) for opening in facts.view.openings)
    return (outlined(facts.view.outline, Layer.HEAVY), *openings)


def _bounds(spans: Sequence[Span]) -> list[float]:
    """Ends and the middles of overlaps, along one axis."""
    middles = [(a[1] + b[0]) / 2 for a, b in pairwise(spans)]
    return [spans[0][0], *middles, spans[-1][1]]


@lru_cache(maxsize=20)
def _numbers(
    cells: tuple[Rect, ...],
    aims: tuple[Point, ...],
    first: int,
    room: Rect,
    outlines: tuple[tuple[Vertex, ...], ...],
) -> tuple[tuple[int, Text, bool], ...]:
    """Return the numbers of pages: which cell's, the text, whether it is clear of all lines.

    Numbers keep off each other; one that finds no room at all is left out. They are kept, since each page
    of a template has them at its head.
    """
    taken, lines = Field(room), Field(room)
    for cell in cells:
        lines.take_outline(box_outline(cell))
    for vertices in outlines:
        lines.take_outline(Outline(vertices))
    found = []
    for i, (cell, aim) in enumerate(zip(cells, aims, strict=True)):
        text, clear = _number(cell, aim, str(first + i), taken, lines)
        if text is not None:
            found.append((i, text, clear))
    return tuple(found)


def _number(cell: Rect, aim: Point, number: str, taken: Field, lines: Field) -> tuple[Text | None, bool]:
    """Return a page's number in its cell, its room taken, off all lines if it can be: whether it is."""
    most = min(7.0, 0.55 * cell.height, 0.7 * cell.width / max(1e-9, text_width(number, 1.0, bold=True)))
    for unlined in (lines, None):
        for text in _tries(cell, aim, number, most):
            box = text.bounds
            if taken.free(box) and (unlined is None or unlined.free(box)):
                taken.take(box.grown(0.2))
                return text, unlined is not None
    return None, False


def _tries(cell: Rect, aim: Point, number: str, most: float) -> Iterator[Text]:
    """Yield a number within its cell: where it is aimed at, then anywhere near; then smaller."""
    for size in (most, 0.8 * most, 0.6 * most):
        if size < LEAST_NUMBER:
            return
        for p in _places(cell, aim):
            text = Text(p.moved(0.0, -0.36 * size), number, size, Layer.LABEL, "middle", bold=True)
            if cell.grown(-0.2).holds(text.bounds):
                yield text


def _places(cell: Rect, aim: Point) -> Iterator[Point]:
    """Yield where a number is aimed at, then places in its cell, the nearest to there first."""
    yield aim
    across = [cell.left + cell.width * i / 12 for i in range(1, 12)]
    up = [cell.bottom + cell.height * i / 12 for i in range(1, 12)]
    yield from sorted((Point(x, y) for x in across for y in up), key=lambda p: (p.to(aim), p))
