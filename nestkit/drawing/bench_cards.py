"""Bench cards: one page a part and hand, with its picture, its steps, and room to sign and to measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.bench_picture import part_picture
from nestkit.drawing.bench_rows import blank_row, step_row
from nestkit.drawing.bench_steps import copies, sizes, steps_of
from nestkit.drawing.model import Drawing, Mark, Text
from nestkit.drawing.template_facts import Facts, facts_of
from nestkit.drawing.template_flow import Flow, wrapped
from nestkit.drawing.template_page import MARGIN, USUAL_LENGTH
from nestkit.drawing.whole import put_whole
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Job
from nestkit.parts.panel import Panel
from nestkit.trade.cautions import cautions, for_materials

BODY = 3.6
_EDGE = MARGIN + 6.0
_FOOT = 3.2
_WIDEST = 250.0
"""Longer lines are hard to read: on wider paper the card keeps to the left."""
_TWO_COLUMNS = 150.0
"""From this width on the facts stand beside the picture."""
_FACTS_SHARE = 0.36
_GAP = 5.0
_LEAST_TITLE = 5.0
_MOST_LINES = 4
_LEAST_PICTURE, _PICTURE_OF_TWO, _MOST_PICTURE = 50.0, 75.0, 95.0
_STEP_TYPES = (4.4, 4.0)
_NOT_HERE = ("laser", "snap", "tighten")
"""Cautions that speak of these are for other work than this."""


@dataclass(frozen=True, slots=True)
class _Page:
    width: float
    height: float

    @property
    def room(self) -> Rect:
        right = min(self.width - _EDGE, _EDGE + _WIDEST)
        return Rect(_EDGE, _EDGE + 1.5 * BODY + self.foot.height, right, self.height - _EDGE)

    @property
    def foot(self) -> Flow:
        """The foot, above the page's number."""
        flow = Flow(min(self.width - 2 * _EDGE, _WIDEST))
        put_whole(flow, cautions("footer")[-1], _FOOT, least=2.8)
        return flow


def bench_pages(job: Job) -> tuple[Drawing, ...]:
    """Return the cards of all parts and hands, sorted by bench, then in the order of the job.

    Parts that are for no bench come last.
    """
    paper = job.printing.paper
    page = _Page(paper.short, paper.long or USUAL_LENGTH[job.unit])
    sheets: list[tuple[str, list[Mark]]] = []
    for panel in sorted(job.panels, key=lambda p: (not p.used_for, p.used_for)):
        # Where one hand serves as the other there is one card for all copies.
        for opposite in panel.hands:
            sheets += _card(job, panel, opposite, page.room)
    return tuple(_finished(marks, title, page, n, len(sheets)) for n, (title, marks) in enumerate(sheets, 1))


def _card(job: Job, panel: Panel, opposite: bool, room: Rect) -> Iterator[tuple[str, list[Mark]]]:
    """Yield the pages of one part and hand: one, unless its steps take more."""
    hand = "OPPOSITE HAND" if opposite else "AS DRAWN"
    if panel.either_hand:
        hand = "EITHER HAND, FACES ALIKE"
    facts = facts_of(job, panel, opposite=opposite, back=False, corrected=False)
    title = f"{panel.name}, OPPOSITE HAND" if opposite else panel.name
    head, tail = _head(facts, hand, room), _cautions(panel, room)
    words = _words(job, panel, facts, opposite, _FACTS_SHARE * room.width)
    two = room.width >= _TWO_COLUMNS and head.height + _joined(words).height < room.height
    if not two:
        words = _words(job, panel, facts, opposite, room.width)
    facts_high = _joined(words).height
    beside, under = (facts_high, 0.0) if two else (0.0, facts_high)
    for size in _STEP_TYPES:
        rows = [_heading(room)]
        for number, step in enumerate(steps_of(job, panel, opposite), 1):
            rows.append(_row(step_row(number, step, room.width, size)))
        left = room.height - under - sum(block.height for block in (head, *rows, tail))
        if left > max(beside, _LEAST_PICTURE):
            break
    else:
        # Two pages at any rate: then the picture need not be small.
        left = _PICTURE_OF_TWO
    most = min(max(left, beside), _MOST_PICTURE, 0.8 * room.height)
    top = (
        _two_columns(facts, head, words, room, most)
        if two
        else [head, _picture(facts, room.width, most), *words]
    )
    # The heading stays with the first step.
    for flow in _paged(title, [*top, _joined(rows[:2]), *rows[2:], tail], room):
        yield title, list(flow.marks(room.left, room.top))


def _paged(title: str, blocks: Sequence[Flow], room: Rect) -> Iterator[Flow]:
    """Yield the blocks on as many pages as they take."""
    flow = Flow(room.width)
    for block in blocks:
        if flow.height and flow.height + block.height > room.height:
            yield flow
            flow = Flow(room.width)
            # The first page has the name whole.
            flow.title(f"{title} (continued)", 8.0, least=_LEAST_TITLE)
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


def _smaller_if_long(text: str, width: float, height: float) -> float:
    """Return the type size for a bold text: that of the body where it would take too many lines."""
    return height if len(wrapped(text, width, height, bold=True)) <= _MOST_LINES else BODY


def _head(facts: Facts, hand: str, room: Rect) -> Flow:
    flow = Flow(room.width)
    least = _smaller_if_long(facts.title, room.width, _LEAST_TITLE)
    put_whole(flow, facts.title, 9.0, least=least, bold=True)
    make = dict(facts.facts)["Make"]
    put_whole(flow, f"{hand} · MAKE {make}", 6.0, least=4.0, bold=True)
    flow.gap(2.0)
    return flow


def _heading(room: Rect) -> Flow:
    flow = Flow(room.width)
    flow.gap(2.0)
    flow.text("Steps: tick each when done, and put your initials on its line.", BODY, bold=True)
    flow.gap(1.0)
    return flow


def _two_columns(facts: Facts, head: Flow, words: Sequence[Flow], room: Rect, most: float) -> list[Flow]:
    """What stands above the steps: the head, and below it the picture with the facts at its right."""
    column = _joined(words)
    flow = Flow(room.width)
    flow.add(head)
    width = room.width - column.width - _GAP
    flow.beside(_picture(facts, width, most), column, width + _GAP)
    return [flow]


def _picture(facts: Facts, width: float, most: float) -> Flow:
    """The part's picture, what it is above, what its signs mean below; at most ``most`` mm high."""
    flow = Flow(width)
    flow.text(f"{facts.face}. Not to scale: use the template.", BODY, bold=True)
    flow.gap(1.0)
    made = part_picture(facts.view, facts.cut, facts.unit, width, most - flow.height - 2.6 * BODY - 1.0)
    flow.picture(made.drawing)
    legend = []
    if facts.cut and facts.drilled:
        legend.append("With a cross: drill. Without: cut already.")
    if not made.numbered:
        legend.append("Numbers missing here are on the template.")
    if legend:
        flow.gap(1.0)
        flow.text(" ".join(legend), BODY)
    return flow


def _words(job: Job, panel: Panel, facts: Facts, opposite: bool, width: float) -> list[Flow]:
    """The facts in words, and the sizes to measure, in blocks that stay whole."""
    blocks: list[Flow] = []

    def put(text: str, height: float, *, bold: bool = False, gap: float = 0.0) -> None:
        flow = Flow(width)
        flow.gap(gap)
        flow.text(text, height, bold=bold)
        blocks.append(flow)

    said = dict(facts.facts)
    if panel.used_for:
        bench = f"For {panel.used_for}"
        put(bench, _smaller_if_long(bench, width, 4.6), bold=True)
    put(said["Material"], 4.2)
    dated = [f"Revision {panel.revision}"] * bool(panel.revision) + [
        said[key] for key in ("Date",) if key in said
    ]
    if dated:
        put(" · ".join(dated), BODY)
    put(job.name, BODY)
    first = ", of the first one" if copies(panel, opposite) > 1 else ""
    put(f"Measured sizes{first}", BODY, bold=True, gap=3.0)
    for name, nominal in sizes(panel, job.unit):
        blocks.append(Flow(width))
        blocks[-1].picture(blank_row(f"{name}: {nominal}", width))
    return blocks


def _cautions(panel: Panel, room: Rect) -> Flow:
    """The cautions of the material for this work; the footer of every page defers to the shop."""
    flow = Flow(room.width)
    here = [
        text
        for text in for_materials([panel.material], [])
        if text not in cautions("defer") and not any(word in text for word in _NOT_HERE)
    ]
    if here:
        flow.gap(2.0)
    for text in here:
        flow.text(f"• {text}", BODY)
    return flow


def _finished(marks: list[Mark], title: str, page: _Page, number: int, count: int) -> Drawing:
    of = Text(Point(page.room.right, _EDGE), f"page {number} of {count}", BODY, anchor="end")
    foot = page.foot.marks(_EDGE, page.room.bottom)
    return Drawing(page.width, page.height, (*marks, *foot, of), f"bench card: {title}")
