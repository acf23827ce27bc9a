"""What the pages of a template on many pages share: the head of a page, and what a cover must know."""

from __future__ import annotations

from typing import Protocol

from nestkit.drawing.model import Drawing, Inset, Mark, Text
from nestkit.drawing.template_facts import AT_FULL_SIZE
from nestkit.drawing.template_page import MARGIN, PageShape
from nestkit.drawing.template_words import Words
from nestkit.drawing.type import fitted, text_width
from nestkit.geometry.points import Point, Rect

MAP_WIDTH, MAP_HEIGHT = 26.0, 15.5
HEAD = 21.4
"""Height of the strip with number, name and map at the head of a page."""
LINE = 5.4
"""What a line of its own, in bold below the head, takes more."""
NUMBER = 9.0


class PageSet(Protocol):
    """Pages that together are one template."""

    @property
    def count(self) -> int:
        """How many pages, without the cover."""

    @property
    def title(self) -> str:
        """What stands over the map on the cover; empty for a single page without a map."""

    def small(self, width: float, height: float, *, first_page: int, here: int = 0) -> Drawing:
        """Return a map of the pages in a box; page number ``here`` of the set is grey."""

    def steps(self, first_page: int) -> list[str]:
        """Return what to do with the pages, in order, from printing to the first punch mark."""


def page_head(
    facts: Words,
    pages: PageSet,
    shape: PageShape,
    *,
    number: int,
    before: int,
    own_lines: tuple[str, ...] = (),
) -> list[Mark]:
    """Return the head of a page: number, name, face, facts, a caution, its own lines, the map.

    ``number`` counts from 1 within the set, ``before`` are the pages of the cover.
    """
    left, right, top = shape.inner.left, shape.width - MARGIN, shape.height - MARGIN
    page, total = str(number + before), pages.count + before
    wide = max(text_width(page, NUMBER, bold=True), text_width(f"of {total}", 3.5, bold=True)) + 4.0
    start, room = left + wide, right - MAP_WIDTH - 3.0 - left - wide
    title, title_size = fitted(facts.title, room, 7.0, least=6.0, bold=True)
    face, face_size = fitted(f"{facts.face}   {facts.hand}".strip(), room, 4.2, least=2.4, bold=True)
    beside = start + text_width(face, face_size, bold=True) + 3.0
    row, row_size = fitted(facts.in_short, right - MAP_WIDTH - 3.0 - beside, 2.6, least=2.2)
    print_so, print_size = fitted(f"{AT_FULL_SIZE} {facts.punch}", room, 2.6, least=1.9)
    footer, footer_size = fitted(facts.footer, room, 2.6, least=1.9)
    marks: list[Mark] = [
        Text(Point(left, top - 7.4), page, NUMBER, bold=True),
        Text(Point(left, top - 12.2), f"of {total}", 3.5, bold=True),
        Text(Point(start, top - 5.8), title, title_size, bold=True),
        Text(Point(start, top - 11.0), face, face_size, bold=True),
        Text(Point(beside, top - 11.0), row, row_size),
        Text(Point(start, top - 14.3), print_so.rstrip(), print_size),
        Text(Point(start, top - 17.3), footer, footer_size),
    ]
    for i, words in enumerate(own_lines):
        text, size = fitted(words, right - left, 4.0, least=2.2, bold=True)
        marks.append(Text(Point(left, top - HEAD - 3.6 - i * LINE), text, size, bold=True))
    if pages.count > 1:
        small = pages.small(MAP_WIDTH, MAP_HEIGHT, first_page=before + 1, here=number)
        at = Point(right - small.width, top - small.height)
        marks.append(Inset(small, at, clip=Rect(0.0, 0.0, small.width, small.height).grown(0.35)))
    return marks
