"""A sheet's picture on the job's paper, with its title, its key and what to mind."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Inset, Mark, Text
from nestkit.drawing.sheet import size_text, thickness_text
from nestkit.drawing.sheet_picture import SCALES, Plan, fitting_scale, put_words, sheet_plan, signs_text
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.type import fitted
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Group, Job, Paper
from nestkit.layout.result import CutSheet
from nestkit.text import counted
from nestkit.trade.cautions import cautions

EDGE = 10.0
"""Border of the page in mm that printers leave white, and a little."""
FOOT = 11.0
FOOT_TYPE = 2.6
GAP = 2.0
MOST_SMALLER = 1.5
"""A picture may be this much smaller if its key then fits on the same page."""
ROLL_SHAPE = 4 / 3
"""A roll is cut off at this many times its width."""


@dataclass(frozen=True, slots=True)
class _Page:
    """Size of a page, and the room on it between its borders."""

    width: float
    height: float

    @property
    def room(self) -> Rect:
        return Rect(EDGE, EDGE + FOOT, self.width - EDGE, self.height - EDGE)


def sheet_pages(job: Job, group: Group, sheet: CutSheet, *, stem: str) -> tuple[Drawing, ...]:
    """Return a sheet's pages: the picture as large as a round scale allows, its key below or after."""
    page, best = _best_page(job, group, sheet, stem)
    for scale in (s for s in SCALES if best <= s <= MOST_SMALLER * best):
        plan = sheet_plan(sheet, group, unit=job.unit, scale=scale)
        words = Flow(page.room.width)
        put_words(words, sheet, plan.key)
        marks, below = _upper(job, group, sheet, stem, plan, page)
        if below - words.height >= page.room.bottom:
            return _numbered([(page, [*marks, *words.marks(page.room.left, below)])], sheet, stem)
    plan = sheet_plan(sheet, group, unit=job.unit, scale=best)
    marks, below = _upper(job, group, sheet, stem, plan, page)
    marks += _short_words(sheet, page).marks(page.room.left, below)
    return _numbered([(page, marks), *_key_pages(plan, page, stem)], sheet, stem)


def _upper(
    job: Job, group: Group, sheet: CutSheet, stem: str, plan: Plan, page: _Page
) -> tuple[list[Mark], float]:
    """Set title and picture; return them and where the room below begins."""
    room = page.room
    head = _title(job, group, sheet, stem, plan.scale, room.width)
    bottom = room.top - head.height - GAP - plan.drawing.height
    left = room.left + (room.width - plan.drawing.width) / 2
    return [*head.marks(room.left, room.top), Inset(plan.drawing, Point(left, bottom))], bottom - GAP


def _short_words(sheet: CutSheet, page: _Page) -> Flow:
    flow = Flow(page.room.width)
    flow.text(f"{signs_text(sheet)} Parts with a number: see the next page.", 3.0)
    return flow


def _best_page(job: Job, group: Group, sheet: CutSheet, stem: str) -> tuple[_Page, int]:
    """Return the way to hold the paper at which the picture comes out larger, and its scale."""
    short, long = _paper(job.printing.paper)
    found = []
    for page in (_Page(short, long), _Page(long, short)):
        room = page.room
        # The title's height does not depend on the figure in it.
        head = _title(job, group, sheet, stem, 10, room.width).height + GAP
        foot = _short_words(sheet, page).height + GAP
        free = Rect(room.left, room.bottom + foot, room.right, room.top - head)
        found.append((fitting_scale(sheet.stock.width, sheet.stock.height, free), page))
    scale, page = min(found, key=lambda pair: pair[0])
    return page, scale


def _paper(paper: Paper) -> tuple[float, float]:
    return (paper.short, paper.long) if paper.long is not None else (paper.short, paper.short * ROLL_SHAPE)


def _title(job: Job, group: Group, sheet: CutSheet, stem: str, scale: int, width: float) -> Flow:
    flow = Flow(width)
    flow.title(f"{sheet.stock.name}, sheet {sheet.number}", 7.0, least=3.5)
    facts = f"{size_text(sheet.stock, job.unit)}, {group.material}, {thickness_text(sheet.stock, job.unit)}"
    here = "from what is on hand" if sheet.on_hand else "to buy"
    line, size = fitted(f"{facts}; {here}. Scale 1:{scale}.", width, 4.2, least=2.4)
    flow.text(line, size)
    date = f", {job.date.isoformat()}" if job.date is not None else ""
    line, size = fitted(
        f"{job.name}{date}. File {stem}, {counted(len(sheet.parts), 'part')}.", width, 3.4, least=2.4
    )
    flow.text(line, size)
    return flow


def _key_pages(plan: Plan, page: _Page, stem: str) -> list[tuple[_Page, list[Mark]]]:
    """Set the key on as many pages as it takes."""
    pages: list[tuple[_Page, list[Mark]]] = []
    room = page.room
    flow = _key_flow(room.width, stem)
    for row in plan.key:
        trial = Flow(room.width)
        trial.row((str(row.number), row.text), (9.0, room.width - 9.0), 3.6)
        if flow.height + trial.height > room.height:
            pages.append((page, list(flow.marks(room.left, room.top))))
            flow = _key_flow(room.width, stem)
        flow.row((str(row.number), row.text), (9.0, room.width - 9.0), 3.6)
    pages.append((page, list(flow.marks(room.left, room.top))))
    return pages


def _key_flow(width: float, stem: str) -> Flow:
    flow = Flow(width)
    flow.title(f"{stem}: parts by the number in the box", 5.0, least=3.0)
    flow.gap(2.0)
    return flow


def _numbered(pages: list[tuple[_Page, list[Mark]]], sheet: CutSheet, stem: str) -> tuple[Drawing, ...]:
    """Add the foot of each page: cautions, and which page of how many it is."""
    drawings = []
    for number, (page, marks) in enumerate(pages, start=1):
        room = page.room
        foot: list[Mark] = []
        for row, caution in enumerate(cautions("footer")[1:3]):
            text, size = fitted(caution, room.width - 28.0, FOOT_TYPE, least=1.8)
            foot.append(Text(Point(room.left, EDGE + 4.0 - 4.0 * row), text, size))
        last = Text(Point(room.right, EDGE), f"page {number} of {len(pages)}", 3.4, Layer.LABEL, "end")
        drawings.append(
            Drawing(page.width, page.height, (*marks, *foot, last), f"{sheet.stock.name}, {stem}")
        )
    return tuple(drawings)
