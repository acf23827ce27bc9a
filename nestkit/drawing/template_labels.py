"""Where a label can stand: clear of marks, outlines and other labels, as near its hole as can be."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import product

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Text, line
from nestkit.drawing.punch import SIGHT, reach
from nestkit.drawing.type import ASCENT, DESCENT, text_width
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point, Rect

CELL = 10.0
LINE_WIDTH = 0.4
CLEAR = 0.7
"""A label keeps this far from everything else, and other labels twice that."""
OWN = 2.5
"""A label without a line stands nearer to its hole than to any other by this."""


class Field:
    """Boxes that are taken, in a grid of cells, within a room that must not be left."""

    def __init__(self, room: Rect) -> None:
        self.room = room
        self._span = _span(room)
        self._taken: dict[tuple[int, int], list[Rect]] = defaultdict(list)

    def take(self, box: Rect) -> None:
        """Mark a box as taken."""
        for cell in self._cells(box):
            self._taken[cell].append(box)

    def give_back(self, box: Rect) -> None:
        """Free a box that was taken."""
        for cell in self._cells(box):
            self._taken[cell].remove(box)

    def take_outline(self, outline: Outline) -> None:
        """Mark the line of an outline as taken; slanting edges in short pieces."""
        points = outline.flattened(0.2)
        for a, b in zip(points, points[1:] + points[:1], strict=True):
            self.take_line(a, b)

    def take_line(self, a: Point, b: Point) -> None:
        """Mark a straight line as taken."""
        for box in along(a, b):
            self.take(box)

    def free(self, box: Rect) -> bool:
        """Say whether a box lies in the room and meets nothing that is taken."""
        left, bottom, right, top = box
        room = self.room
        if left < room.left or bottom < room.bottom or right > room.right or top > room.top:
            return False
        # Asked by the hundred thousand: whether two boxes meet stands here in full.
        for cell in self._cells(box):
            for other in self._taken.get(cell, ()):
                if left < other[2] and other[0] < right and bottom < other[3] and other[1] < top:
                    return False
        return True

    def free_line(self, a: Point, b: Point) -> bool:
        """Say whether a straight line meets nothing that is taken."""
        return all(self.free(box) for box in along(a, b))

    def _cells(self, box: Rect) -> Iterable[tuple[int, int]]:
        """The cells of a box, as far as the room goes: nothing beyond it is ever asked for."""
        left, bottom, right, top = _span(box)
        first, lowest, last, highest = self._span
        columns = range(max(left, first), min(right, last) + 1)
        return product(columns, range(max(bottom, lowest), min(top, highest) + 1))


def _span(box: Rect) -> tuple[int, int, int, int]:
    """The first and the last column and row of cells that a box touches, in the order of its sides."""
    left, bottom, right, top = box
    return (
        math.floor(left / CELL),
        math.floor(bottom / CELL),
        math.floor(right / CELL),
        math.floor(top / CELL),
    )


def along(a: Point, b: Point) -> Iterator[Rect]:
    """Yield boxes that cover a line; one is enough where it is upright or level."""
    level = min(abs(b.x - a.x), abs(b.y - a.y)) < 0.5
    count = 1 if level else max(1, math.ceil(a.to(b) / 3.0))
    for i in range(count):
        s, t = i / count, (i + 1) / count
        xs = sorted((a.x + (b.x - a.x) * s, a.x + (b.x - a.x) * t))
        ys = sorted((a.y + (b.y - a.y) * s, a.y + (b.y - a.y) * t))
        yield Rect(xs[0], ys[0], xs[1], ys[1]).grown(LINE_WIDTH / 2)


def place_label(
    field: Field, at: Point, dia: float, texts: Iterable[str], height: float, others: Iterable[Point]
) -> list[Mark]:
    """Return the label of a hole, its room taken, or nothing where no room is left.

    Of the texts the first that finds a place is used: beside the mark, and there nearer to it than
    to any of the ``others``, else up to 40 mm away with a line that leads to it.
    """
    rivals = [p for p in others if p != at and p.to(at) < 60.0]
    ways: list[tuple[float, float]] | None = None
    for text in texts:
        width = text_width(text, height, bold=True)
        for box in _near(at, dia, width, height):
            if field.free(box.grown(CLEAR)) and _is_nearest(box, at, rivals):
                field.take(box.grown(CLEAR))
                return [_text(box, text, height)]
        if ways is None:
            ways = _ways_out(field, at, dia / 2 + SIGHT)
        for box in _far(at, dia, width, height, ways):
            leader = _leader(box, at, dia / 2 + SIGHT)
            if field.free(box.grown(CLEAR)) and field.free_line(*leader):
                field.take(box.grown(CLEAR))
                field.take_line(*leader)
                return [_text(box, text, height), line(*leader, Layer.FINE)]
    return []


def _is_nearest(box: Rect, at: Point, rivals: list[Point]) -> bool:
    """Say whether a label stands clearly nearer to its own hole than to any other."""
    own = away(box, at)
    return all(away(box, rival) > own + OWN for rival in rivals)


def away(box: Rect, p: Point) -> float:
    """Return how far a place is from a box; 0 within it."""
    return math.hypot(max(box.left - p.x, 0.0, p.x - box.right), max(box.bottom - p.y, 0.0, p.y - box.top))


def place_words(
    field: Field, text: str, height: float, outlines: Sequence[Outline], room: Rect
) -> list[Mark]:
    """Return large words on a part, at the free place nearest to the middle of what ``room`` shows of it.

    ``outlines`` are the part's own and those of its openings. Empty where there is no such place.
    """
    width, tall = text_width(text, height, bold=True), (ASCENT + DESCENT) * height
    box = outlines[0].bounds.common(room)
    centre = box.centre
    across = [box.left + box.width * i / 16 for i in range(17)]
    up = [box.bottom + box.height * i / 24 for i in range(25)]
    loops = [loop.flattened(0.2) for loop in outlines]
    for place in sorted((Point(x, y) for x in across for y in up), key=lambda p: (p.to(centre), p)):
        here = Rect(place.x - width / 2, place.y - tall / 2, place.x + width / 2, place.y + tall / 2)
        if field.free(here.grown(2.0)) and _within(place, loops):
            field.take(here)
            return [_text(here, text, height)]
    return []


def _text(box: Rect, text: str, height: float) -> Text:
    return Text(Point(box.left, box.bottom + DESCENT * height), text, height, Layer.LABEL, bold=True)


def _near(at: Point, dia: float, width: float, height: float) -> Iterator[Rect]:
    """Yield boxes around a mark: right and left of it, then above and below, then a little further."""
    ring, far = dia / 2 + SIGHT + CLEAR, reach(dia) + CLEAR
    tall = (ASCENT + DESCENT) * height
    for more in (0.0, 2.0, 4.5):
        r, f = ring + more, far + more
        low, middle, high = at.y - r - tall, at.y - tall / 2, at.y + r
        # Diagonal places tuck in beside the arms; straight ones stand beyond their ends.
        yield from (
            _box(at.x + CLEAR + more + 0.5, high, width, tall),
            _box(at.x + f, middle, width, tall),
            _box(at.x + CLEAR + more + 0.5, low, width, tall),
            _box(at.x - f - width, middle, width, tall),
            _box(at.x - CLEAR - more - 0.5 - width, high, width, tall),
            _box(at.x - CLEAR - more - 0.5 - width, low, width, tall),
            _box(at.x - width / 2, at.y + f, width, tall),
            _box(at.x - width / 2, at.y - f - tall, width, tall),
        )


def _ways_out(field: Field, at: Point, ring: float) -> list[tuple[float, float]]:
    """The directions, of sixteen, in which a line can leave a mark: cosine and sine."""
    ways = []
    for i in range(16):
        angle = math.radians(22.5 * i + 11.25)
        cos, sin = math.cos(angle), math.sin(angle)
        start = (ring + 0.6) / max(abs(cos), abs(sin))
        end = start + 5.0
        if field.free_line(at.moved(start * cos, start * sin), at.moved(end * cos, end * sin)):
            ways.append((cos, sin))
    return ways


def _far(
    at: Point, dia: float, width: float, height: float, ways: list[tuple[float, float]]
) -> Iterator[Rect]:
    """Yield boxes on rings further out, in the directions that are open."""
    tall = (ASCENT + DESCENT) * height
    for out in (9.0, 14.0, 20.0, 28.0, 40.0):
        for cos, sin in ways:
            x, y = at.x + (out + dia / 2) * cos, at.y + (out + dia / 2) * sin
            yield _box(x if cos > 0 else x - width, y - tall / 2, width, tall)


def _box(left: float, bottom: float, width: float, tall: float) -> Rect:
    return Rect(left, bottom, left + width, bottom + tall)


def _leader(box: Rect, at: Point, ring: float) -> tuple[Point, Point]:
    """The line from a far label to the sight ring; it ends a hair outside both."""
    side = box.left - 0.4 if at.x < box.left else box.right + 0.4 if at.x > box.right else box.centre.x
    height = box.centre.y
    if box.left <= at.x <= box.right:
        height = box.bottom - 0.4 if at.y < box.bottom else box.top + 0.4
    start = Point(side, height)
    # The ring's box is a square: the line ends outside it in whatever direction it comes.
    share = (ring + 0.6) / max(abs(start.x - at.x), abs(start.y - at.y))
    return start, Point(at.x + (start.x - at.x) * share, at.y + (start.y - at.y) * share)


def _within(p: Point, loops: list[tuple[Point, ...]]) -> bool:
    """Say whether a point lies on a part's material, by the crossings of a ray to its right."""
    crossings = 0
    for loop in loops:
        for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
            if (a.y > p.y) != (b.y > p.y) and p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y):
                crossings += 1
    return crossings % 2 == 1
