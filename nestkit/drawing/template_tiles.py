"""A template on several pages: a cover with all the words, then tiles to join."""

from __future__ import annotations

import math

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Inset, Mark, Text, line
from nestkit.drawing.punch import reach
from nestkit.drawing.template_cover import cover_pages
from nestkit.drawing.template_facts import AT_FULL_SIZE, Facts
from nestkit.drawing.template_map import tile_map
from nestkit.drawing.template_page import LONGEST_PAGE, MARGIN, PageShape, rulers, window_on
from nestkit.drawing.template_part import part_marks
from nestkit.drawing.template_single import Pages
from nestkit.drawing.tiles import OVERLAP, Tile, Tiling, cross_box, cross_marks, tile_count, tiling
from nestkit.drawing.type import fitted, text_width
from nestkit.errors import UserError
from nestkit.geometry.points import Point, Rect

TOP = 20.5
"""Height of the strip with number, name and map at the head of a tile."""
RIGHT = 4.5
"""Width of the strip that names the page joining at the right."""
MAP_WIDTH, MAP_HEIGHT = 26.0, 15.5
NUMBER = 9.0
WORDS = 3.0
MOST_PAGES = 600


def tiled_pages(facts: Facts, shapes: tuple[PageShape, ...], paper: str) -> Pages:
    """Return the template on as few pages as the paper, upright or lying, allows.

    Raises :class:`~nestkit.errors.UserError` where the paper is too small to be joined.
    """
    shape = _best(facts, shapes, paper)
    usable_x, usable_y = _usable(shape)
    plan = _plan(facts, usable_x * shape.scale_x, usable_y * shape.scale_y)
    shape = shape.shortened(*_page_size(plan, shape))
    kept_free = [*_edges(plan), *(cross_box(cross) for cross in plan.crosses)]
    part = part_marks(facts, facts.area, kept_free)
    crosses = [mark for cross in plan.crosses for mark in cross_marks(cross)]
    content = [(mark, mark.bounds.grown(1.0)) for mark in (*part.marks, *crosses)]
    covers = cover_pages(facts, plan, shape, paper)
    total = len(covers) + len(plan.tiles)
    tiles = tuple(
        _tile_page(facts, content, plan, tile, shape, before=len(covers), total=total) for tile in plan.tiles
    )
    return Pages((*covers, *tiles), part.unlabelled)


def _usable(shape: PageShape) -> tuple[float, float]:
    inner = shape.inner
    return inner.width - RIGHT, inner.height - TOP


def _best(facts: Facts, shapes: tuple[PageShape, ...], paper: str) -> PageShape:
    counts = []
    for shape in shapes:
        width, height = (u * s for u, s in zip(_usable(shape), (shape.scale_x, shape.scale_y), strict=True))
        if min(width, height) >= 4 * OVERLAP:
            columns, rows = tile_count(facts.area.width, facts.area.height, width, height)
            counts.append((columns * rows, shape))
    if not counts:
        raise UserError(
            f'[printing] paper "{paper}" is too small for a template of "{facts.title}" in pages to join; '
            "choose a larger paper or a roll"
        )
    pages, best = min(counts, key=lambda c: c[0])
    if pages > MOST_PAGES:
        raise UserError(
            f'the template of "{facts.title}" would take {pages} pages of "{paper}", more than anyone can '
            f"join ({MOST_PAGES} are the most); choose a larger [printing] paper or a roll"
        )
    return best


def _plan(facts: Facts, usable_x: float, usable_y: float) -> Tiling:
    """Return the tiling; a hole that no page would show as a whole asks for a wider overlap."""
    holes = facts.view.holes
    keep_off = [Rect(*h.at, *h.at).grown(reach(h.dia)) for h in holes]
    plan = tiling(facts.area, usable_x, usable_y, keep_off)
    if all(plan.whole(Rect(*h.at, *h.at).grown(h.dia / 2)) for h in holes):
        return plan
    widest = min(usable_x, usable_y) / 4
    overlap = min(widest, math.ceil(max(h.dia for h in holes)) + 1.0)
    return tiling(facts.area, usable_x, usable_y, keep_off, overlap)


def _page_size(plan: Tiling, shape: PageShape) -> tuple[float, float]:
    """Length of a page off a roll: what its largest tile takes."""
    blank_x, blank_y = (shape.width - _usable(shape)[0], shape.height - _usable(shape)[1])
    width = max(t.window.width for t in plan.tiles) / shape.scale_x + blank_x
    height = max(t.window.height for t in plan.tiles) / shape.scale_y + blank_y
    return min(LONGEST_PAGE, math.ceil(width)), min(LONGEST_PAGE, math.ceil(height))


def _edges(plan: Tiling) -> list[Rect]:
    """Both edges of every seam, as thin boxes: no label may be cut by one."""
    thin = 0.3
    edges = []
    for seam in plan.seams():
        if seam.height > seam.width:
            edges += [Rect(x - thin, seam.bottom, x + thin, seam.top) for x in (seam.left, seam.right)]
        else:
            edges += [Rect(seam.left, y - thin, seam.right, y + thin) for y in (seam.bottom, seam.top)]
    return edges


def _tile_page(
    facts: Facts,
    content: list[tuple[Mark, Rect]],
    plan: Tiling,
    tile: Tile,
    shape: PageShape,
    *,
    before: int,
    total: int,
) -> Drawing:
    inner = shape.inner
    corner = Point(inner.left, inner.bottom)
    here = [mark for mark, box in content if box.meets(tile.window)]
    seen = Drawing(facts.area.width, facts.area.height, (*here, *_trim_lines(tile, plan.overlap)))
    marks = (
        window_on(seen, tile.window, corner, shape),
        *_head(facts, plan, tile, shape, before=before, total=total),
        *_neighbours(tile, shape, before),
        *rulers(shape, facts.unit, words_share=0.58),
    )
    return Drawing(shape.width, shape.height, marks, f"{facts.title} {tile.number + before}")


def _trim_lines(tile: Tile, overlap: float) -> list[Mark]:
    """Dashed lines: left and below where this page is cut, right and above where the next is laid on."""
    box = tile.window
    marks: list[Mark] = []
    for neighbour, x in ((tile.left, box.left), (tile.right, box.right - overlap)):
        if neighbour:
            marks.append(line(Point(x, box.bottom), Point(x, box.top), Layer.TILE_EDGE))
    for neighbour, y in ((tile.below, box.bottom), (tile.above, box.top - overlap)):
        if neighbour:
            marks.append(line(Point(box.left, y), Point(box.right, y), Layer.TILE_EDGE))
    return marks


def _head(facts: Facts, plan: Tiling, tile: Tile, shape: PageShape, *, before: int, total: int) -> list[Mark]:
    """Page number, name, face, facts, a caution, and the map at the right."""
    left, right, top = shape.inner.left, shape.width - MARGIN, shape.height - MARGIN
    number = str(tile.number + before)
    wide = max(text_width(number, NUMBER, bold=True), text_width(f"of {total}", 3.5, bold=True)) + 4.0
    start, room = left + wide, right - MAP_WIDTH - 3.0 - left - wide
    title, title_size = fitted(facts.title, room, 7.0, least=6.0, bold=True)
    face = f"{facts.face}   {facts.hand}".strip()
    face, face_size = fitted(face, room, 4.2, least=3.0, bold=True)
    beside = start + text_width(face, face_size, bold=True) + 3.0
    row, row_size = fitted(facts.in_short, right - MAP_WIDTH - 3.0 - beside, 2.6, least=2.2)
    footer, footer_size = fitted(f"{AT_FULL_SIZE} {facts.footer}", room, 2.6, least=1.9)
    marks: list[Mark] = [
        Text(Point(left, top - 7.4), number, NUMBER, bold=True),
        Text(Point(left, top - 12.2), f"of {total}", 3.5, bold=True),
        Text(Point(start, top - 5.8), title, title_size, bold=True),
        Text(Point(start, top - 11.6), face, face_size, bold=True),
        Text(Point(beside, top - 11.6), row, row_size),
        Text(Point(start, top - 15.4), footer, footer_size),
    ]
    if len(plan.tiles) == 1:
        return marks
    small = tile_map(facts, plan, MAP_WIDTH, MAP_HEIGHT, first_page=before + 1, here=tile.number)
    map_at = Point(right - small.width, top - small.height)
    marks.append(Inset(small, map_at, clip=Rect(0.0, 0.0, small.width, small.height).grown(0.35)))
    return marks


def _neighbours(tile: Tile, shape: PageShape, before: int) -> list[Mark]:
    """At each edge the page that joins there, and which side is cut."""
    inner = shape.inner
    right = inner.left + tile.window.width / shape.scale_x
    top = inner.bottom + tile.window.height / shape.scale_y
    low, middle_x, middle_y = MARGIN + 1.0, (inner.left + right) / 2, (inner.bottom + top) / 2
    marks: list[Mark] = []
    if tile.left:
        words = f"page {tile.left + before} joins here: cut this side"
        at = Point(MARGIN + 3.2, shape.height - MARGIN - TOP)
        marks.append(Text(at, words, WORDS, Layer.LABEL, "end", 90.0, bold=True))
    if tile.below:
        words = f"page {tile.below + before} joins here: cut this side"
        marks.append(Text(Point(inner.right, low), words, WORDS, Layer.LABEL, "end", bold=True))
    if tile.right:
        words = f"page {tile.right + before} joins here: lay it on the dashed line"
        at = Point(right + 1.0, middle_y)
        marks.append(Text(at, words, WORDS, Layer.LABEL, "middle", -90.0, bold=True))
    if tile.above:
        words = f"page {tile.above + before} joins here: lay it on the dashed line"
        marks.append(Text(Point(middle_x, top + 1.0), words, WORDS, Layer.LABEL, "middle", bold=True))
    return marks
