"""The edges of pages to join: where each is cut, where the next is laid on, and which page that is."""

from __future__ import annotations

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Text, line
from nestkit.drawing.tiles import Tile, Tiling
from nestkit.drawing.type import fitted, text_width
from nestkit.geometry.points import Point, Rect

RIGHT = 4.5
"""Width of the strip that names the page joining at the right."""
WORDS = 3.0


def seam_edges(plan: Tiling) -> list[Rect]:
    """Return both edges of every seam, as thin boxes: no label may be cut by one."""
    thin = 0.3
    edges = []
    for seam in plan.seams():
        if seam.height > seam.width:
            edges += [Rect(x - thin, seam.bottom, x + thin, seam.top) for x in (seam.left, seam.right)]
        else:
            edges += [Rect(seam.left, y - thin, seam.right, y + thin) for y in (seam.bottom, seam.top)]
    return edges


def trim_lines(tile: Tile, overlap: float) -> list[Mark]:
    """Return dashed lines: left and below the page is cut, right and above the next is laid on them."""
    box = tile.window
    marks: list[Mark] = []
    for neighbour, x in ((tile.left, box.left), (tile.right, box.right - overlap)):
        if neighbour:
            marks.append(line(Point(x, box.bottom), Point(x, box.top), Layer.TILE_EDGE))
    for neighbour, y in ((tile.below, box.bottom), (tile.above, box.top - overlap)):
        if neighbour:
            marks.append(line(Point(box.left, y), Point(box.right, y), Layer.TILE_EDGE))
    return marks


def cut_here(neighbour: int, before: int) -> tuple[str, ...]:
    """Return what stands along the side that is cut, the fullest words first."""
    if not neighbour:
        return ()
    page = neighbour + before
    return (f"page {page} joins here: cut this side", f"page {page} joins here: cut", f"page {page}: cut")


def neighbours(tile: Tile, shown: Rect, before: int) -> list[Mark]:
    """Return the pages that are laid on at the right and the upper edge of what one has ``shown``."""
    marks: list[Mark] = []
    if tile.right:
        words, size = _laid_here(tile.right + before, shown.height)
        at = Point(shown.right + 1.0, shown.centre.y)
        marks.append(Text(at, words, size, Layer.LABEL, "middle", -90.0, bold=True))
    if tile.above:
        words, size = _laid_here(tile.above + before, shown.width)
        at = Point(shown.centre.x, shown.top + 1.0)
        marks.append(Text(at, words, size, Layer.LABEL, "middle", bold=True))
    return marks


def _laid_here(page: int, room: float) -> tuple[str, float]:
    """What stands along a side where a page is laid on, and in which type: as full as there is room."""
    tries = (f"page {page} joins here: lay it on the dashed line", f"page {page} joins here", f"page {page}")
    words = next((w for w in tries if text_width(w, WORDS, bold=True) <= room), tries[-1])
    return fitted(words, room, WORDS, least=1.6, bold=True)
