"""A sheet's picture on the job's paper, with its title, its key and what to mind."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Inset, Mark, Text
from nestkit.drawing.sheet import size_text, thickness_text
from nestkit.drawing.sheet_picture import (
    BOTTOM,
    GRAIN_ROOM,
    LEFT,
    RIGHT,
    SCALES,
    TOP,
    Plan,
    fitting_scale,
    put_words,
    sheet_plan,
    signs_text,
)
from nestkit.drawing.sheet_stretches import MAP_SIGNS, map_of, stretch_plans
from nestkit.drawing.template_flow import Flow, wrapped
from nestkit.drawing.type import fitted, text_width
from nestkit.drawing.whole import one_line, put_whole
from nestkit.estimate.words import sheet_name
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Group, Job, Paper
from nestkit.layout.result import CutSheet
from nestkit.text import counted
from nestkit.trade.cautions import cautions
from nestkit.units import length_text, with_unit

EDGE = 10.0
"""Border of the page in mm that printers leave white, and a little."""
FOOT_TYPE = 2.6
FOOT_LINE = 4.0
FOOT_GAP = 3.0
NUMBER_ROOM = 28.0
"""Room in mm for the page's number at the right of the foot's last line."""
GAP = 2.0
LEAST_PICTURE = 15.0
"""Below this many mm a sheet's picture shows nothing: long names then take one line each, cut short."""
MOST_SMALLER = 1.5
"""A picture may be this much smaller if its key then fits on the same page."""
AROUND = Rect(0.0, 0.0, LEFT + RIGHT + GRAIN_ROOM, BOTTOM + TOP + GRAIN_ROOM)
"""What surrounds a sheet on its picture, at most."""
ROLL_SHAPE = 4 / 3
ROLL_LENGTH = 210.0
"""A roll is cut off at this many times its width, and is no shorter than this."""


@dataclass(frozen=True, slots=True)
class _Page:
    """Size of a page, and the room on it between its borders and above its foot."""

    width: float
    height: float

    @property
    def foot(self) -> tuple[str, ...]:
        """The lines of the foot; beside the last one there is room for the page's number."""
        room = self.width - 2 * EDGE
        lines = [line for text in cautions("footer")[1:3] for line in wrapped(text, room, FOOT_TYPE)]
        beside = text_width(lines[-1], FOOT_TYPE) <= room - NUMBER_ROOM
        return tuple(lines) if beside else (*lines, "")

    @property
    def room(self) -> Rect:
        foot = FOOT_LINE * len(self.foot) + FOOT_GAP
        return Rect(EDGE, EDGE + foot, self.width - EDGE, self.height - EDGE)


@dataclass(frozen=True, slots=True)
class _Held:
    """How the paper is held: the page, the scale of its picture, and whether names are told whole."""

    page: _Page
    scale: int
    whole: bool


def sheet_pages(job: Job, group: Group, sheet: CutSheet, *, stem: str) -> tuple[Drawing, ...]:
    """Return a sheet's pages: the picture as large as a round scale allows, its key below or after."""
    held = _held(job, group, sheet, stem)
    page, best = held.page, held.scale
    if sheet.stock.roll and (pages := _stretch_pages(job, group, sheet, stem, best)):
        return _numbered(pages, sheet, stem)
    for scale in (s for s in SCALES if best <= s <= MOST_SMALLER * best):
        plan = sheet_plan(sheet, group, unit=job.unit, scale=scale)
        words = Flow(page.room.width)
        put_words(words, signs_text(sheet, group, job.unit), plan.key)
        marks, below = _upper(_title(job, group, sheet, stem, replace(held, scale=scale)), plan.drawing, page)
        if below - words.height >= page.room.bottom:
            return _numbered([(page, [*marks, *words.marks(page.room.left, below)])], sheet, stem)
    plan = sheet_plan(sheet, group, unit=job.unit, scale=best)
    marks, below = _upper(_title(job, group, sheet, stem, held), plan.drawing, page)
    marks += _short_words(job, group, sheet, page).marks(page.room.left, below)
    return _numbered([(page, marks), *_key_pages(plan, page, stem)], sheet, stem)


def _stretch_pages(
    job: Job, group: Group, sheet: CutSheet, stem: str, whole: int
) -> list[tuple[_Page, list[Mark]]]:
    """Set a long piece off a roll stretch by stretch, a page that shows the whole before, its key after.

    Empty where the piece reads well enough on a page, at 1 to ``whole``.
    """
    page, unit = _Page(*_paper(job.printing.paper)), job.unit

    def head(low: float, high: float, scale: int) -> Flow:
        flow = Flow(page.room.width)
        put_whole(flow, sheet_name(sheet), 7.0, least=3.5, bold=True)
        ends = f"From {length_text(low, unit)} to {with_unit(high, unit)}"
        put_whole(flow, f"{ends} of {with_unit(sheet.stock.height, unit)}. Scale 1:{scale}.", 5.2, least=3.5)
        return flow

    length = float(sheet.stock.height)
    free = page.room.height - head(length, length, SCALES[-1]).height - GAP
    room = Rect(0.0, 0.0, page.room.width, free)
    plans = stretch_plans(sheet, group, unit=unit, room=room, whole=whole)
    if not plans:
        return []
    pages = [(page, _upper(head(a, b, plan.scale), plan.drawing, page)[0]) for plan, a, b in plans]
    first, key = plans[0][0], plans[0][0].key
    ends = [0.0, *(high for _, _, high in plans)]
    return [
        _map_page(job, group, sheet, stem, page, ends, key=bool(key)),
        *pages,
        *(_key_pages(first, page, stem) if key else ()),
    ]


def _map_page(
    job: Job, group: Group, sheet: CutSheet, stem: str, page: _Page, ends: list[float], *, key: bool
) -> tuple[_Page, list[Mark]]:
    """Set the page before the stretches: the whole piece in small, and which page shows what of it."""
    words = Flow(page.room.width)
    words.text(MAP_SIGNS, 3.6)
    words.text(
        signs_text(sheet, group, job.unit) + (" Parts with a number: see the last page." if key else ""), 3.0
    )
    held = _Held(page, SCALES[-1], True)
    taken = _title(job, group, sheet, stem, held).height + words.height + 2 * GAP
    stock, room = sheet.stock, Rect(0.0, 0.0, page.room.width, page.room.height - taken)
    held = replace(held, scale=fitting_scale(stock.width, stock.height, room))
    small = map_of(sheet, unit=job.unit, scale=held.scale, ends=ends, room=room.width)
    marks, below = _upper(_title(job, group, sheet, stem, held), small, page)
    return page, [*marks, *words.marks(page.room.left, below)]


def _upper(head: Flow, picture: Drawing, page: _Page) -> tuple[list[Mark], float]:
    """Set title and picture; return them and where the room below begins."""
    room = page.room
    bottom = room.top - head.height - GAP - picture.height
    left = room.left + (room.width - picture.width) / 2
    return [*head.marks(room.left, room.top), Inset(picture, Point(left, bottom))], bottom - GAP


def _short_words(job: Job, group: Group, sheet: CutSheet, page: _Page) -> Flow:
    flow = Flow(page.room.width)
    flow.text(f"{signs_text(sheet, group, job.unit)} Parts with a number: see the next page.", 3.0)
    return flow


def _held(job: Job, group: Group, sheet: CutSheet, stem: str) -> _Held:
    """Return the way to hold the paper at which the picture comes out larger."""
    short, long = _paper(job.printing.paper)
    found: list[_Held] = []
    for whole in (True, False):
        for page in (_Page(short, long), _Page(long, short)):
            held = _Held(page, SCALES[-1], whole)
            room = page.room
            # The title's height does not depend on the figure in it.
            head = _title(job, group, sheet, stem, held).height + GAP
            foot = _short_words(job, group, sheet, page).height + GAP
            free = Rect(room.left, room.bottom + foot, room.right, room.top - head)
            if min(free.width - AROUND.width, free.height - AROUND.height) >= LEAST_PICTURE or not whole:
                scale = fitting_scale(sheet.stock.width, sheet.stock.height, free)
                found.append(replace(held, scale=scale))
        if found:
            break
    return min(found, key=lambda held: held.scale)


def _paper(paper: Paper) -> tuple[float, float]:
    if paper.long is not None:
        return paper.short, paper.long
    return paper.short, max(paper.short * ROLL_SHAPE, ROLL_LENGTH)


def _title(job: Job, group: Group, sheet: CutSheet, stem: str, held: _Held) -> Flow:
    width = held.page.room.width
    flow = Flow(width)
    stock = sheet.stock
    date = f", {job.date.isoformat()}" if job.date is not None else ""
    name = sheet_name(sheet)
    facts = f"{size_text(stock, job.unit)}, {group.material}, {thickness_text(stock, job.unit)}; "
    facts += "from what is on hand." if sheet.on_hand else "to buy."
    file = f"{job.name}{date}. File {stem}, {counted(len(sheet.parts), 'part')}."
    scale = f"Scale 1:{held.scale}."
    if held.whole:
        put_whole(flow, name, 7.0, least=3.5, bold=True)
    else:
        flow.title(name, 7.0, least=3.5)
    size = one_line(f"{facts} Scale 1:{SCALES[-1]}.", width, 4.2, least=2.8)
    if size is not None:
        flow.text(f"{facts} {scale}", size)
    elif held.whole:
        flow.text(facts, 3.2)
        flow.text(scale, 3.2)
    else:
        flow.text(fitted(facts, width, 2.8, least=2.8)[0], 2.8)
        flow.text(scale, 2.8)
    if held.whole:
        put_whole(flow, file, 3.4, least=2.8)
    else:
        flow.text(fitted(file, width, 2.8, least=2.8)[0], 2.8)
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
    put_whole(flow, f"{stem}: parts by the number in the box", 5.0, least=3.0, bold=True)
    flow.gap(2.0)
    return flow


def _numbered(pages: list[tuple[_Page, list[Mark]]], sheet: CutSheet, stem: str) -> tuple[Drawing, ...]:
    """Add the foot of each page: cautions, and which page of how many it is."""
    drawings = []
    for number, (page, marks) in enumerate(pages, start=1):
        lines = page.foot
        foot = [
            Text(Point(EDGE, EDGE + FOOT_LINE * (len(lines) - 1 - row)), text, FOOT_TYPE)
            for row, text in enumerate(lines)
            if text
        ]
        last = Text(Point(page.room.right, EDGE), f"page {number} of {len(pages)}", 3.4, Layer.LABEL, "end")
        drawings.append(
            Drawing(page.width, page.height, (*marks, *foot, last), f"{sheet.stock.name}, {stem}")
        )
    return tuple(drawings)
