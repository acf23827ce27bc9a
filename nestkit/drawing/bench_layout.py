"""How a bench card lies on its paper: head, picture with the facts beside it, steps, cautions, foot."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.bench_drills import Step
from nestkit.drawing.bench_rows import blank_row, step_row
from nestkit.drawing.model import Drawing, Mark, Text
from nestkit.drawing.template_flow import Flow, wrapped
from nestkit.drawing.template_page import MARGIN, USUAL_LENGTH
from nestkit.drawing.whole import put_whole
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Job
from nestkit.trade.cautions import cautions

BODY = 3.6
LEAST_TITLE = 5.0
_EDGE = MARGIN + 6.0
_FOOT = 3.2
_WIDEST = 250.0
"""Longer lines are hard to read: on wider paper the card keeps to the left."""
_TWO_COLUMNS = 150.0
"""From this width on the facts stand beside the picture."""
_FACTS_SHARE = 0.36
_GAP = 5.0
_MOST_LINES = 4
_LEAST_PICTURE, _PICTURE_OF_TWO, _MOST_PICTURE = 50.0, 75.0, 95.0
_STEP_TYPES = (4.4, 4.0)

Sheet = tuple[str, list[Mark]]
"""A page to be: the title of its card, and what stands on it above the foot."""


@dataclass(frozen=True, slots=True)
class Card:
    """What stands on one card.

    ``picture`` is at most so wide and so high, ``words`` at most so wide. With less than ``least`` mm for the
    picture a card takes two pages.
    """

    title: str
    head: Flow
    picture: Callable[[float, float], Flow]
    words: Callable[[float], list[Flow]]
    steps: tuple[Step, ...]
    tail: Flow
    least: float = _LEAST_PICTURE


@dataclass(frozen=True, slots=True)
class CardPaper:
    """The paper of cards, upright."""

    width: float
    height: float

    @property
    def room(self) -> Rect:
        """Where a card stands, above the foot."""
        right = min(self.width - _EDGE, _EDGE + _WIDEST)
        return Rect(_EDGE, _EDGE + 1.5 * BODY + self._foot.height, right, self.height - _EDGE)

    @property
    def _foot(self) -> Flow:
        """The foot, above the page's number."""
        flow = Flow(min(self.width - 2 * _EDGE, _WIDEST))
        put_whole(flow, cautions("footer")[-1], _FOOT, least=2.8)
        return flow

    def pages(self, cards: Iterable[Card], of: str = "", *, kind: str = "bench card") -> tuple[Drawing, ...]:
        """Return the pages of some cards, counted through; ``of`` says what they are counted of.

        ``kind`` is what a page's title says it is.
        """
        sheets = [sheet for card in cards for sheet in _sheets(card, self.room)]
        return tuple(
            self._page(kind, *sheet, f"{of}page {n} of {len(sheets)}") for n, sheet in enumerate(sheets, 1)
        )

    def _page(self, kind: str, title: str, marks: list[Mark], said: str) -> Drawing:
        number = Text(Point(self.room.right, _EDGE), said, BODY, anchor="end")
        foot = self._foot.marks(_EDGE, self.room.bottom)
        return Drawing(self.width, self.height, (*marks, *foot, number), f"{kind}: {title}")


def card_paper(job: Job) -> CardPaper:
    """Return the paper of a job's cards; off a roll they are as long as the usual paper."""
    paper = job.printing.paper
    return CardPaper(paper.short, paper.long or USUAL_LENGTH[job.unit])


def facts_words(said: Sequence[tuple[str, float, bool]], width: float) -> list[Flow]:
    """Return facts in blocks that stay whole: each a text, its type, and whether it is bold."""
    blocks = []
    for text, height, bold in said:
        blocks.append(Flow(width))
        blocks[-1].text(text, height, bold=bold)
    return blocks


def sizes_words(sizes: Iterable[tuple[str, str]], first: bool, width: float) -> list[Flow]:
    """Return the sizes to measure, each with its blank; ``first``: there are more, these are of the first."""
    blocks = [Flow(width)]
    blocks[0].gap(3.0)
    blocks[0].text(f"Measured sizes{', of the first one' if first else ''}", BODY, bold=True)
    for name, nominal in sizes:
        blocks.append(Flow(width))
        blocks[-1].picture(blank_row(f"{name}: {nominal}", width))
    return blocks


def cautions_words(said: Sequence[str], room: Rect) -> Flow:
    """Return cautions, one below the other."""
    flow = Flow(room.width)
    if said:
        flow.gap(2.0)
    for text in said:
        flow.text(f"• {text}", BODY)
    return flow


def smaller_if_long(text: str, width: float, height: float) -> float:
    """Return the type size for a bold text: that of the body where it would take too many lines."""
    return height if len(wrapped(text, width, height, bold=True)) <= _MOST_LINES else BODY


def _sheets(card: Card, room: Rect) -> Iterator[Sheet]:
    """Yield the pages of a card: one, unless its steps take more."""
    words = card.words(_FACTS_SHARE * room.width)
    two = room.width >= _TWO_COLUMNS and card.head.height + _joined(words).height < room.height
    if not two:
        words = card.words(room.width)
    facts_high = _joined(words).height
    beside, under = (facts_high, 0.0) if two else (0.0, facts_high)
    for size in _STEP_TYPES:
        rows = [_heading(room)]
        rows += [_row(step_row(n, step, room.width, size)) for n, step in enumerate(card.steps, 1)]
        left = room.height - under - sum(block.height for block in (card.head, *rows, card.tail))
        if left > max(beside, card.least):
            break
    else:
        # Two pages at any rate: then the picture need not be small.
        left = _PICTURE_OF_TWO
    most = min(max(left, beside), _MOST_PICTURE, 0.8 * room.height)
    top = (
        _two_columns(card, words, room, most) if two else [card.head, card.picture(room.width, most), *words]
    )
    # The heading stays with the first step.
    for flow in _paged(card.title, [*top, _joined(rows[:2]), *rows[2:], card.tail], room):
        yield card.title, list(flow.marks(room.left, room.top))


def _paged(title: str, blocks: Sequence[Flow], room: Rect) -> Iterator[Flow]:
    """Yield the blocks on as many pages as they take."""
    flow = Flow(room.width)
    for block in blocks:
        if flow.height and flow.height + block.height > room.height:
            yield flow
            flow = Flow(room.width)
            # The first page has the name whole.
            flow.title(f"{title} (continued)", 8.0, least=LEAST_TITLE)
            flow.gap(3.0)
        flow.add(block)
    yield flow


def _joined(blocks: Sequence[Flow]) -> Flow:
    flow = Flow(max(block.width for block in blocks))
    for block in blocks:
        flow.add(block)
    return flow


def _row(drawing: Drawing) -> Flow:
    flow = Flow(drawing.width)
    flow.picture(drawing)
    flow.gap(0.6)
    return flow


def _heading(room: Rect) -> Flow:
    flow = Flow(room.width)
    flow.gap(2.0)
    flow.text("Steps: tick each when done, and put your initials on its line.", BODY, bold=True)
    flow.gap(1.0)
    return flow


def _two_columns(card: Card, words: Sequence[Flow], room: Rect, most: float) -> list[Flow]:
    """What stands above the steps: the head, and below it the picture with the facts at its right."""
    column = _joined(words)
    flow = Flow(room.width)
    flow.add(card.head)
    width = room.width - column.width - _GAP
    flow.beside(card.picture(width, most), column, width + _GAP)
    return [flow]
