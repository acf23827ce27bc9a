"""The tile map: a small plan of the pages of a template, to join them by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Inset, Mark, Text, outlined
from nestkit.drawing.template_facts import Facts
from nestkit.drawing.tiles import Span, Tile, Tiling
from nestkit.drawing.type import text_width
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline

LEAST_NUMBER = 1.8


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

    marks: list[Mark] = [Fill(box_outline(cell(t)), 0.7) for t in plan.tiles if t.number == here]
    marks += [outlined(box_outline(cell(t)), Layer.FINE) for t in plan.tiles]
    content = Drawing(area.width, area.height, _part(facts))
    marks.append(Inset(content, Point(-area.left * scale, -area.bottom * scale), scale, scale, area))
    for tile in plan.tiles:
        marks += _number(cell(tile), str(tile.number + first_page - 1))
    return Drawing(area.width * scale, area.height * scale, tuple(marks))


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
    marks: list[Mark] = [Fill(box_outline(cells[here - 1]), 0.7)] if here else []
    marks += [outlined(box_outline(cell), Layer.FINE) for cell in cells]
    content = Drawing(area.width, area.height, _part(facts))
    marks.append(Inset(content, Point(-area.left * scale, -area.bottom * scale), scale, scale, area))
    for number, (cell, box) in enumerate(zip(cells, marked, strict=True), start=first_page):
        marks += [
            replace(text, at=text.at.moved(*_towards(cell, small(box))))
            for text in _number(cell, str(number))
        ]
    return Drawing(area.width * scale, area.height * scale, tuple(marks))


def _towards(cell: Rect, marked: Rect) -> tuple[float, float]:
    """How far a number is moved from the middle of its window, half of the way to what is marked."""
    return (marked.centre.x - cell.centre.x) / 2, (marked.centre.y - cell.centre.y) / 2


def _part(facts: Facts) -> tuple[Mark, ...]:
    """The part's outline, heavy, and its openings."""
    openings = (outlined(opening.outline, Layer.OPENING) for opening in facts.view.openings)
    return (outlined(facts.view.outline, Layer.HEAVY), *openings)


def _bounds(spans: Sequence[Span]) -> list[float]:
    """Ends and the middles of overlaps, along one axis."""
    middles = [(a[1] + b[0]) / 2 for a, b in pairwise(spans)]
    return [spans[0][0], *middles, spans[-1][1]]


def _number(cell: Rect, number: str) -> list[Text]:
    size = min(7.0, 0.55 * cell.height, 0.7 * cell.width / max(1e-9, text_width(number, 1.0, bold=True)))
    if size < LEAST_NUMBER:
        return []
    middle = Point(cell.centre.x, cell.centre.y - 0.36 * size)
    return [Text(middle, number, size, Layer.LABEL, "middle", bold=True)]
