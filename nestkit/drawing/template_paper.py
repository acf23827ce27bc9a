"""A template on the job's paper, whatever the part: one page, pages to join, or only those with marks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

from nestkit.drawing.model import Drawing
from nestkit.drawing.template_cover import cover_pages
from nestkit.drawing.template_page import PageShape, page_shapes
from nestkit.drawing.template_set import PageSet
from nestkit.drawing.template_single import Draw, single_page
from nestkit.drawing.template_words import Words
from nestkit.job.model import Printing

Said = TypeVar("Said", bound=Words)


class Sheets(PageSet, Protocol):
    """Pages that together are one template, ready to be drawn."""

    @property
    def facts(self) -> Words:
        """The words of the template, as these pages have them."""

    @property
    def shape(self) -> PageShape:
        """The paper as it lies."""

    def pages(self, before: int) -> tuple[tuple[Drawing, ...], tuple[int, ...]]:
        """Return the pages after a cover of ``before``, and the holes that found no room for a label."""


@dataclass(frozen=True, slots=True)
class Ways(Generic[Said]):
    """How a kind of part comes on paper.

    ``draw`` gives what draws the whole part; ``placed`` the pages that are laid by themselves, if they can
    be; ``fewest`` how many pages to join there would be, None where the paper is too small; ``joined`` those.
    """

    draw: Callable[[Said], Draw]
    placed: Callable[[Said, Sequence[PageShape]], Sheets | None]
    fewest: Callable[[Said, Sequence[PageShape]], int | None]
    joined: Callable[[Said, Sequence[PageShape], str], Sheets]


def printed_pages(facts: Said, printing: Printing, ways: Ways[Said]) -> tuple[Drawing, ...]:
    """Return a template's pages; where a label found no room the places of all holes are listed too."""
    drawings, unlabelled = _on_paper(facts, printing, ways)
    if unlabelled:
        drawings, _ = _on_paper(facts.with_places(), printing, ways)
    return drawings


def _on_paper(
    facts: Said, printing: Printing, ways: Ways[Said]
) -> tuple[tuple[Drawing, ...], tuple[int, ...]]:
    shapes, paper = page_shapes(printing), printing.paper.name
    single = single_page(facts, shapes, ways.draw(facts))
    if single is not None:
        return single.drawings, single.unlabelled
    placed = None if printing.all_pages else ways.placed(facts, shapes)
    least = ways.fewest(facts, shapes)
    pages = (
        placed if placed and (least is None or placed.count < least) else ways.joined(facts, shapes, paper)
    )
    covers = cover_pages(pages.facts, pages, pages.shape, paper)
    drawn, unlabelled = pages.pages(before=len(covers))
    return (*covers, *drawn), unlabelled
