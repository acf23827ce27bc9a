"""Finds room for the words in the parts of a sheet's picture, clear of holes and openings."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from nestkit.drawing.deepest import deepest
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Fill, Mark, Text, line, outlined
from nestkit.drawing.type import ASCENT, fitted, text_width
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline, rectangle

NAME_TYPE = 4.4
"""Type in mm for a part's name where there is room; the other lines are a little smaller."""
LEAST_TYPE = 2.2
SMALLER = 0.78
LEADING = 1.3
AIR = 1.0
"""Room in mm between a label and anything else."""
ARROW = 5.5
LEAST_NUMBER = 1.4


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a label may stand, the lower left of the part's box at 0, 0, in mm on paper.

    ``dots`` are holes so small on paper that words over them can still be read. ``corners`` is the part's
    edge, flattened, for parts that do not fill their box; ``up_deg`` is where the part's top points.
    """

    width: float
    height: float
    obstacles: tuple[Rect, ...]
    dots: tuple[Rect, ...]
    corners: tuple[Point, ...]
    up_deg: float

    @property
    def box(self) -> Rect:
        """The part's box."""
        return Rect(0.0, 0.0, self.width, self.height)


@dataclass(frozen=True, slots=True)
class Place:
    """A place that a block of lines fits: its middle, its name's type size, whether it stands upright."""

    middle: Point
    size: float
    upright: bool


def label(lines: Sequence[str], spot: Spot, at: Point) -> tuple[Mark, ...]:
    """Return the words in a part, with the arrow to its top; nothing when there is no room.

    ``at`` is where the lower left of the part's box lies on the page. In a part that is no box the last line
    is left out where all of them have no room.
    """
    for said in (lines,) if _is_box(spot) else (lines, lines[:-1]):
        texts = tuple(text for text in said if text)
        # Figures are all of one width: copies of a part share the search for a place.
        place = _place(tuple(re.sub("[0-9]", "0", text) for text in texts), spot)
        if place is not None:
            return _block(texts, place, spot.up_deg, at)
    return ()


@lru_cache(maxsize=4096)
def _place(texts: tuple[str, ...], spot: Spot) -> Place | None:
    ways = (True, False) if spot.width >= 0.8 * spot.height else (False, True)
    obstacles = spot.obstacles + spot.dots
    for shrink in (1.0, 0.8, 0.65, LEAST_TYPE / NAME_TYPE):
        for upright in ways:
            wide, tall = _size(texts, NAME_TYPE * shrink)
            middle = _free_place(*((wide, tall) if upright else (tall, wide)), spot, obstacles)
            if middle is not None:
                return Place(middle, NAME_TYPE * shrink, upright)
    return None


def number_box(number: int, spot: Spot, at: Point) -> tuple[Mark, ...]:
    """Return a number in a small box, for a part too small for words; it is always drawn.

    Where there is room the arrow to the part's top stands beside it.
    """
    room = max(min(spot.box.width, spot.box.height) - 0.6, 1.0)
    text = str(number)
    height = min(3.6, room / 1.25)
    while height > LEAST_NUMBER and text_width(text, height, bold=True) + 0.6 * height > spot.box.width:
        height *= 0.9
    obstacles = spot.obstacles + spot.dots
    width, tall = _number_size(text, height)
    # The arrow has a square as high as the box, whichever way it points.
    both = _free_place(width + AIR / 2 + tall, tall, spot, obstacles)
    if both is not None:
        aside = (width + AIR / 2 + tall) / 2
        arrow = arrow_marks(both.moved(aside - tall / 2, 0.0).moved(*at), tall, spot.up_deg)
        return (*_boxed(text, both.moved(width / 2 - aside, 0.0).moved(*at), height), *arrow)
    place = _free_place(width, tall, spot, obstacles)
    if place is None:
        # Its middle may lie beside the part, or in an opening where another one lies.
        place, depth = deepest(spot.corners, obstacles)
        while height > LEAST_NUMBER and math.hypot(*_number_size(text, height)) > 2 * depth:
            height *= 0.9
    return _boxed(text, place.moved(*at), height)


def _boxed(text: str, middle: Point, height: float) -> tuple[Mark, ...]:
    """Return a number on white in its box."""
    width, tall = _number_size(text, height)
    outline = rectangle(width, tall, at=middle.moved(-width / 2, -tall / 2))
    foot = middle.moved(0.0, -0.36 * height)
    return (
        Fill(outline),
        outlined(outline, Layer.FINE),
        Text(foot, text, height, Layer.LABEL, "middle", bold=True),
    )


def _number_size(text: str, height: float) -> tuple[float, float]:
    return text_width(text, height, bold=True) + 0.6 * height, 1.25 * height


def _sizes(texts: tuple[str, ...], size: float) -> list[float]:
    return [size] + [max(size * SMALLER, LEAST_TYPE)] * (len(texts) - 1)


def _size(texts: tuple[str, ...], size: float) -> tuple[float, float]:
    """Return how wide and tall a block of lines is, with its arrow."""
    sizes = _sizes(texts, size)
    widest = max(text_width(t, s, bold=i == 0) for i, (t, s) in enumerate(zip(texts, sizes, strict=True)))
    arrow = ARROW * size / NAME_TYPE
    return widest + arrow + AIR, max(LEADING * sum(sizes), arrow)


def _block(texts: tuple[str, ...], place: Place, up_deg: float, at: Point) -> tuple[Mark, ...]:
    """Return the lines of a label and its arrow, where there is room for them."""
    sizes = _sizes(texts, place.size)
    wide, _ = _size(texts, place.size)
    arrow = ARROW * place.size / NAME_TYPE
    turn = 0.0 if place.upright else 90.0
    middle = place.middle.moved(*at)

    def on_page(x: float, y: float) -> Point:
        return Point(x, y).turned(turn).moved(*middle)

    marks = list(arrow_marks(on_page((arrow - wide) / 2, 0.0), arrow, up_deg))
    y = LEADING * sum(sizes) / 2
    for i, (text, size) in enumerate(zip(texts, sizes, strict=True)):
        y -= LEADING * size
        foot = on_page(arrow + AIR - wide / 2, y + (LEADING - ASCENT) * size / 2)
        marks.append(Text(foot, text, size, Layer.LABEL, "start", turn, bold=i == 0))
    return tuple(marks)


def arrow_marks(centre: Point, length: float, angle_deg: float, *, both: bool = False) -> tuple[Mark, ...]:
    """Return an arrow through ``centre``; 90 degrees points up. ``both`` gives it two heads."""
    ahead = Point(length / 2, 0.0)
    marks: list[Mark] = []
    for turn in (angle_deg, angle_deg + 180) if both else (angle_deg,):
        tip = ahead.turned(turn).moved(*centre)
        for side in (1, -1):
            wing = Point(length / 2 - min(1.8, length / 3), side * min(1.0, length / 5)).turned(turn)
            marks.append(line(tip, wing.moved(*centre), Layer.PART_EDGE))
    tail = Point(-length / 2, 0.0).turned(angle_deg).moved(*centre)
    return (line(tail, ahead.turned(angle_deg).moved(*centre), Layer.PART_EDGE), *marks)


def _free_place(width: float, height: float, spot: Spot, obstacles: tuple[Rect, ...]) -> Point | None:
    """Return the centre of a free box in the part, as near to its middle as can be, or None."""
    room = spot.box.grown(-AIR)
    if width > room.width or height > room.height:
        return None
    for centre in _places(room, width, height, spot, obstacles):
        box = Rect(
            centre.x - width / 2, centre.y - height / 2, centre.x + width / 2, centre.y + height / 2
        ).grown(0.4)
        if not any(box.meets(o) for o in obstacles) and _holds(spot, box):
            return centre
    return None


def _places(
    room: Rect, width: float, height: float, spot: Spot, obstacles: tuple[Rect, ...]
) -> Iterator[Point]:
    """Yield centres that are looked at, the middle first."""
    yield from _candidates(room, width, height)
    if not _is_box(spot):
        # In a part of another shape the roomiest place may be none of those around its middle.
        yield deepest(spot.corners, obstacles)[0]


def _is_box(spot: Spot) -> bool:
    """Say whether a part fills its box, so that its middle is as good a place as any."""
    return len(spot.corners) == 4 and all(
        min(abs(p.x), abs(p.x - spot.width)) + min(abs(p.y), abs(p.y - spot.height)) < 1e-6
        for p in spot.corners
    )


def _candidates(room: Rect, width: float, height: float) -> Iterator[Point]:
    """Yield centres on a grid, the middle first."""
    reach_x, reach_y = (room.width - width) / 2, (room.height - height) / 2
    steps = [i / 3 for i in range(-3, 4)]
    grid = sorted((math.hypot(i, j), i, j) for i in steps for j in steps)
    for _, i, j in grid:
        yield Point(room.centre.x + i * reach_x, room.centre.y + j * reach_y)


def _holds(spot: Spot, box: Rect) -> bool:
    """Say whether a box lies within the part's edge: no side of the edge enters it, its middle is inside."""
    ends = spot.corners[1:] + spot.corners[:1]
    if any(_enters(box, a, b) for a, b in zip(spot.corners, ends, strict=True)):
        return False
    inside = False
    x, y = box.centre
    for a, b in zip(spot.corners, ends, strict=True):
        if (a.y > y) != (b.y > y) and x < a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x):
            inside = not inside
    return inside


def _enters(box: Rect, a: Point, b: Point) -> bool:
    """Say whether a straight line has a point in a box (clipped side by side)."""
    low, high = 0.0, 1.0
    for start, way, least, most in (
        (a.x, b.x - a.x, box.left, box.right),
        (a.y, b.y - a.y, box.bottom, box.top),
    ):
        if way == 0.0:
            if not least < start < most:
                return False
            continue
        first, second = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, first), min(high, second)
    return low < high


def fitted_label(text: str, box: Rect, height: float, *, least: float) -> tuple[Mark, ...]:
    """Return a text on white in the middle of a box, lying or standing, or nothing if it has no room."""
    upright = box.width >= box.height or text_width(text, height) <= box.width - 2 * AIR
    room = (box.width if upright else box.height) - 2 * AIR
    across = (box.height if upright else box.width) - 2 * AIR
    if across < least or room <= 0:
        return ()
    said, size = fitted(text, room, min(height, across), least=least)
    if said != text:
        return ()
    turn = 0.0 if upright else 90.0
    foot = Point(0.0, -0.36 * size).turned(turn).moved(*box.centre)
    words = Text(foot, said, size, Layer.LABEL, "middle", turn)
    ground = words.bounds.grown(0.5)
    white = box_outline(ground)
    return (Fill(white), words)
