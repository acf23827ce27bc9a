"""The tile map: a small plan of the pages of a template, to join them by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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
    numbers = Field(Rect(0.0, 0.0, area.width * scale, area.height * scale))
    lines = Field(numbers.room)
    for frame in frames:
        lines.take_outline(frame)
    for outline in facts.view.outlines:
        small = (Vertex(corner.x + v.x * scale, corner.y + v.y * scale, v.bulge) for v in outline.vertices)
        lines.take_outline(Outline(tuple(small)))
    for i, (cell, aim) in enumerate(zip(cells, aims, strict=True)):
        marks += _number(cell, aim, str(first + i), numbers, lines, _GREY if i == here else 1.0)
    return Drawing(area.width * scale, area.height * scale, tuple(marks))


def _part(facts: Facts) -> tuple[Mark, ...]:
    """The part's outline, heavy, and its openings."""
    openings = (outlined(opening.outline, Layer.OPENING) for opening in facts.view.openings)
    return (outlined(facts.view.outline, Layer.HEAVY), *openings)


def _bounds(spans: Sequence[Span]) -> list[float]:
    """Ends and the middles of overlaps, along one axis."""
    middles = [(a[1] + b[0]) / 2 for a, b in pairwise(spans)]
    return [spans[0][0], *middles, spans[-1][1]]


def _number(cell: Rect, aim: Point, number: str, numbers: Field, lines: Field, paper: float) -> list[Mark]:
    """Return a page's number in its cell, off all lines if it can be, else on a piece of blank ``paper``.

    Numbers keep off each other; one that finds no room at all is left out.
    """
    most = min(7.0, 0.55 * cell.height, 0.7 * cell.width / max(1e-9, text_width(number, 1.0, bold=True)))
    for unlined in (lines, None):
        for text in _tries(cell, aim, number, most):
            box = text.bounds
            if numbers.free(box) and (unlined is None or unlined.free(box)):
                numbers.take(box.grown(0.2))
                return [text] if unlined else [Fill(box_outline(box), paper), text]
    return []


def _tries(cell: Rect, aim: Point, number: str, most: float) -> Iterator[Text]:
    """Yield a number within its cell: where it is aimed at, then anywhere near; then smaller."""
    for size in (most, 0.8 * most, 0.6 * most):
        if size < LEAST_NUMBER:
            return
        across = [cell.left + cell.width * i / 12 for i in range(1, 12)]
        up = [cell.bottom + cell.height * i / 12 for i in range(1, 12)]
        for places in (
            [aim],
            sorted((Point(x, y) for x in across for y in up), key=lambda p: (p.to(aim), p)),
        ):
            for p in places:
                text = Text(p.moved(0.0, -0.36 * size), number, size, Layer.LABEL, "middle", bold=True)
                if cell.grown(-0.2).holds(text.bounds):
                    yield text
