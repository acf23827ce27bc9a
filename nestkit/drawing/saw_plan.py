"""The saw plan: every cut in a sentence beside a picture of what lies on the saw, sheet after sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.hatch import hatch
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Mark, Text, line, outlined
from nestkit.drawing.sheet import size_text
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_page import MARGIN
from nestkit.drawing.type import fitted
from nestkit.estimate.estimate import TWO_PEOPLE_KG, sheet_kg
from nestkit.estimate.saw_steps import Box, SawStep, care_of, saw_steps, sentence_of
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import Group, Job
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout
from nestkit.trade.cautions import cautions
from nestkit.trade.materials import density
from nestkit.units import with_unit

_EDGE = MARGIN + 6.0
_PICTURE = 46.0
_GAP = 5.0
_TYPE = 4.4
_ROLL_PAGE = 297.0
"""How long a page off a roll is: an A4's."""


@dataclass(frozen=True, slots=True)
class _Alike:
    """Sheets that are sawn alike, said once."""

    group: Group
    sheets: tuple[CutSheet, ...]


def saw_plan_pages(job: Job, layout: JobLayout) -> tuple[Drawing, ...]:
    """Return the saw plan of all groups that are sawn; empty where none is."""
    width, long = job.printing.paper.short, job.printing.paper.long
    height = long if long is not None else _ROLL_PAGE
    room = Rect(_EDGE, _EDGE + 10.0, width - _EDGE, height - _EDGE)
    pages: list[tuple[str, list[Mark]]] = []
    for laid in layout.groups:
        if laid.group.way.edge_to_edge:
            for alike in _alike(laid):
                pages += _sheet_pages(job, alike, room)
            pages += _benches(laid, room)
    return tuple(
        _finished(marks, title, width, height, room, n, len(pages))
        for n, (title, marks) in enumerate(pages, 1)
    )


def _alike(laid: GroupLayout) -> list[_Alike]:
    """Return the sheets of a group, those with the same parts and the same cuts together."""
    found: dict[object, list[CutSheet]] = {}
    for sheet in laid.sheets:
        parts = tuple((p.panel.name, p.opposite_hand, p.x, p.y, p.turn) for p in sheet.parts)
        found.setdefault((sheet.stock.name, parts, sheet.cuts), []).append(sheet)
    return [_Alike(laid.group, tuple(sheets)) for sheets in found.values()]


def _sheet_pages(job: Job, alike: _Alike, room: Rect) -> Iterator[tuple[str, list[Mark]]]:
    """Yield the pages of one sheet and its like: what it is, then its cuts, as many a page as fit."""
    sheet = alike.sheets[0]
    title = _title(alike)
    steps = list(saw_steps(sheet, alike.group.way.kerf))
    done: list[SawStep] = []
    flow = _head(job, alike, title, room)
    if not steps:
        flow.text("No cut: the part is the sheet.", _TYPE)
    while steps:
        row = _row(job, sheet, done, steps[0], room)
        if flow.height + row.height > room.height:
            yield title, list(flow.marks(room.left, room.top))
            flow = Flow(room.width)
            flow.title(f"{title} (continued)", 8.0, least=4.0)
            flow.gap(3.0)
        flow.add(row)
        done.append(steps.pop(0))
    yield title, list(flow.marks(room.left, room.top))


def _title(alike: _Alike) -> str:
    numbers = [str(s.number) for s in alike.sheets]
    which = f"sheet {numbers[0]}" if len(numbers) == 1 else f"sheets {', '.join(numbers)}, all alike"
    return f"Saw {alike.sheets[0].stock.name}, {which}"


def _head(job: Job, alike: _Alike, title: str, room: Rect) -> Flow:
    group, stock = alike.group, alike.sheets[0].stock
    flow = Flow(room.width)
    flow.title(title, 9.0, least=4.0)
    facts = f"{size_text(stock, job.unit)}, {group.material}, {with_unit(group.thickness, job.unit)}, kerf "
    date = f" · {job.date.isoformat()}" if job.date else ""
    flow.text(f"{facts}{with_unit(group.way.kerf, job.unit)}{date} · {job.name}", 3.4)
    row = density(group.material)
    kg = 0.0 if row is None else sheet_kg(stock, row)
    if kg > TWO_PEOPLE_KG:
        flow.text(f"Two people: the sheet weighs about {kg:.0f} kg.", _TYPE, bold=True)
    flow.text(
        "Left, right, lower and upper are those of the picture; keep each piece as it lay, and write its "
        "name on it. Measure to the tooth that is nearer the fence or stop.",
        3.6,
    )
    flow.gap(4.0)
    return flow


def _row(job: Job, sheet: CutSheet, done: Sequence[SawStep], step: SawStep, room: Rect) -> Flow:
    """One cut: the picture of all that was cut so far at the left, what to do at the right."""
    picture, words = Flow(_PICTURE), Flow(room.width - _PICTURE - _GAP)
    picture.picture(_picture(sheet, done, step))
    words.text(sentence_of(step, job.unit), _TYPE, bold=True)
    care = care_of(step)
    if care:
        words.text(care, 3.8)
    row = Flow(room.width)
    row.beside(picture, words, _PICTURE + _GAP)
    row.gap(_GAP)
    return row


def _picture(sheet: CutSheet, done: Sequence[SawStep], step: SawStep) -> Drawing:
    """The sheet in small: pieces there are, rests hatched, the piece on the saw heavy, the cut dashed."""
    width, height = float(sheet.stock.width), float(sheet.stock.height)
    scale = min(_PICTURE / width, 0.8 * _PICTURE / height)
    pieces: dict[str, tuple[Box, bool]] = {}
    for past in done:
        pieces.pop(past.cut.piece, None)
        pieces |= {g.name: (g.box, bool(g.parts)) for g in past.gained}
    marks: list[Mark] = []
    for box, has_parts in pieces.values():
        small = _small(box, scale)
        if not has_parts:
            marks += hatch(small, 2.0)
        marks.append(_frame(small, Layer.FINE))
    on_saw = _small(step.piece, scale)
    marks += [Fill(rectangle(on_saw.width, on_saw.height, at=Point(on_saw.left, on_saw.bottom)))]
    for gained in step.gained:
        half = _small(gained.box, scale)
        if not gained.parts:
            marks += hatch(half, 2.0)
        text, size = fitted(gained.name, 0.9 * half.width, min(4.0, 0.8 * half.height), least=1.6)
        if half.width > 4.0 and half.height > 2.4 and "…" not in text:
            middle = Point(half.centre.x, half.centre.y - 0.35 * size)
            marks.append(Text(middle, text, size, anchor="middle", bold=True))
    marks.append(_frame(on_saw, Layer.HEAVY))
    at = float(step.cut.at) * scale
    a, b = float(step.cut.start) * scale, float(step.cut.end) * scale
    ends = (Point(at, a), Point(at, b)) if step.cut.axis == "x" else (Point(a, at), Point(b, at))
    marks.append(line(*ends, Layer.SAW_CUT))
    return Drawing(_PICTURE, height * scale, tuple(marks))


def _small(box: Box, scale: float) -> Rect:
    return Rect(*(float(side) * scale for side in box))


def _frame(box: Rect, layer: Layer) -> Mark:
    return outlined(rectangle(box.width, box.height, at=Point(box.left, box.bottom)), layer)


def _benches(laid: GroupLayout, room: Rect) -> Iterator[tuple[str, list[Mark]]]:
    """Yield a page that says after which sheet each bench has all its parts of this material."""
    last: dict[str, str] = {}
    for sheet in laid.sheets:
        for part in sheet.parts:
            if part.panel.used_for:
                last[part.panel.used_for] = f"{sheet.stock.name}, sheet {sheet.number}"
    if len(laid.sheets) < 2 or not last:
        return
    flow = Flow(room.width)
    title = f"Who can start when: {laid.group.material}"
    flow.title(title, 9.0, least=4.0)
    flow.gap(3.0)
    order = [f"{s.stock.name}, sheet {s.number}" for s in laid.sheets]
    for bench, done in sorted(last.items(), key=lambda item: (order.index(item[1]), item[0])):
        flow.text(f"{bench}: after {done}", 5.0)
    yield title, list(flow.marks(room.left, room.top))


def _finished(
    marks: list[Mark], title: str, width: float, height: float, room: Rect, number: int, count: int
) -> Drawing:
    foot: list[Mark] = []
    for row, caution in enumerate(cautions("saw")[-1:] + cautions("footer")[-1:]):
        text, size = fitted(caution, room.width - 30.0, 3.0, least=1.8)
        foot.append(Text(Point(room.left, _EDGE + 4.2 - 4.2 * row), text, size))
    of = Text(Point(room.right, _EDGE), f"page {number} of {count}", 3.8, anchor="end")
    return Drawing(width, height, (*marks, *foot, of), f"saw plan: {title}")
