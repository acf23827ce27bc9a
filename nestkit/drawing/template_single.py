"""A template whose part, words and rulers all find room on one page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from nestkit.drawing.model import Drawing
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_info import info_block
from nestkit.drawing.template_page import PageShape, rulers, window_on
from nestkit.drawing.template_part import PartMarks
from nestkit.drawing.template_words import Words
from nestkit.geometry.points import Point, Rect, around

SIDE = 78.0
"""Width of the words where they stand beside the part."""
LEAST_SIDE = 225.0
"""A page of open size is no smaller, for its words and for rulers of 8 in or 200 mm."""
LABEL_ROOM = 30.0
"""Room around a part that labels may use where the page is open."""
GAP = 3.0
PAGE = "1 of 1"

Draw = Callable[[Rect], PartMarks]
"""Draws all of a part at full size within a room around it."""


@dataclass(frozen=True, slots=True)
class Pages:
    """The pages of a template, and the holes that found no room for a label."""

    drawings: tuple[Drawing, ...]
    unlabelled: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Plan:
    """A page with its words and the window that the part has."""

    shape: PageShape
    words: Flow
    words_at: Point
    window: Rect


def single_page(facts: Words, shapes: tuple[PageShape, ...], draw: Draw) -> Pages | None:
    """Return the template on one page, or nothing where it has no room there.

    Words stand above the part or beside it, the paper upright or lying; off a roll the shortest
    page is taken, on cut paper the first that will do.
    """
    plans = [plan for shape in shapes for plan in (_above(facts, shape), _beside(facts, shape)) if plan]
    if not plans:
        return None
    plan = min(plans, key=_length)
    return _drawn(facts, plan, draw)


def own_page(facts: Words, draw: Draw) -> Drawing:
    """Return the template on one page of the size that it takes, nominal."""
    area = facts.area
    # Labels may stand around the part; the page is then only as large as they and the part need.
    part = draw(area.grown(LABEL_ROOM))
    if part.unlabelled:
        facts = facts.with_places()
    boxes = [area, *(mark.bounds for mark in part.marks)]
    room = around(boxes)
    least = PageShape(LEAST_SIDE, LEAST_SIDE, 1.0, 1.0).inner
    words = info_block(facts, max(room.width, least.width), PAGE)
    high = max(room.height + words.height + GAP, least.height)
    blank = LEAST_SIDE - least.width
    shape = PageShape(words.width + blank, high + blank, 1.0, 1.0)
    place = shape.inner
    window = Rect(place.left, place.bottom, place.right, place.top - words.height - GAP)
    spare_x, spare_y = window.width - room.width, window.height - room.height
    plan = _Plan(shape, words, Point(place.left, place.top), window)
    return _page(facts, plan, part, Point(room.left - spare_x / 2, room.bottom - spare_y / 2))


def _length(plan: _Plan) -> float:
    return max(plan.shape.width, plan.shape.height) if plan.shape.open_along else 0.0


def _needed(facts: Words, shape: PageShape) -> tuple[float, float]:
    """What the part takes on paper, as the printer's scale makes it."""
    return facts.area.width / shape.scale_x + 1.0, facts.area.height / shape.scale_y + 1.0


def _cannot_hold(shape: PageShape, width: float, height: float) -> bool:
    """Say of cut paper, before any words are laid out, that the part alone is too large for it."""
    inner = shape.inner
    return not shape.open_along and (inner.width < width - 1e-6 or inner.height < height - 1e-6)


def _above(facts: Words, shape: PageShape) -> _Plan | None:
    width, height = _needed(facts, shape)
    if _cannot_hold(shape, width, height):
        return None
    if shape.open_along == "x":
        blank = shape.width - shape.inner.width
        shape = shape.shortened(max(width + blank, LEAST_SIDE), shape.height)
    words = info_block(facts, shape.inner.width, PAGE)
    blank = shape.height - shape.inner.height
    shape = shape.shortened(shape.width, max(height + words.height + GAP + blank, LEAST_SIDE))
    inner = shape.inner
    window = Rect(inner.left, inner.bottom, inner.right, inner.top - words.height - GAP)
    if window.width < width - 1e-6 or window.height < height - 1e-6:
        return None
    return _Plan(shape, words, Point(inner.left, inner.top), window)


def _beside(facts: Words, shape: PageShape) -> _Plan | None:
    width, height = _needed(facts, shape)
    if _cannot_hold(shape, width, height):
        return None
    words = info_block(facts, SIDE, PAGE)
    blank_x, blank_y = shape.width - shape.inner.width, shape.height - shape.inner.height
    shape = shape.shortened(
        max(width + SIDE + GAP + blank_x, LEAST_SIDE), max(max(height, words.height) + blank_y, LEAST_SIDE)
    )
    inner = shape.inner
    window = Rect(inner.left, inner.bottom, inner.right - SIDE - GAP, inner.top)
    if window.width < width - 1e-6 or window.height < height - 1e-6 or words.height > inner.height + 1e-6:
        return None
    return _Plan(shape, words, Point(inner.right - SIDE, inner.top), window)


def _drawn(facts: Words, plan: _Plan, draw: Draw) -> Pages:
    """Draw a page: the part stands in the middle of its window, with the room around it for labels."""
    area = facts.area
    spare_x = (plan.window.width * plan.shape.scale_x - area.width) / 2
    spare_y = (plan.window.height * plan.shape.scale_y - area.height) / 2
    room = Rect(area.left - spare_x, area.bottom - spare_y, area.right + spare_x, area.top + spare_y)
    part = draw(room)
    return Pages((_page(facts, plan, part, Point(room.left, room.bottom)),), part.unlabelled)


def _page(facts: Words, plan: _Plan, part: PartMarks, corner: Point) -> Drawing:
    """Draw a page; ``corner`` is the place of the part's frame at the window's lower left."""
    shape, window = plan.shape, plan.window
    room = Rect(
        corner.x, corner.y, corner.x + window.width * shape.scale_x, corner.y + window.height * shape.scale_y
    )
    content = Drawing(room.width, room.height, part.marks)
    marks = (
        *plan.words.marks(*plan.words_at),
        window_on(content, room, Point(window.left, window.bottom), shape),
        *rulers(shape, facts.unit),
    )
    return Drawing(shape.width, shape.height, marks, facts.title)
