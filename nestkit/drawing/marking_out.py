"""Marking-out tables: where each hole goes, for a rule, a square and a fine pen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.drawing.marking_words import how_to_mark
from nestkit.drawing.model import Drawing, Mark, Text
from nestkit.drawing.template_checks import PEN_RULE, checks_of
from nestkit.drawing.template_facts import datum_corner, facts_of
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_holes import hole_label
from nestkit.drawing.template_page import MARGIN, USUAL_LENGTH
from nestkit.drawing.type import text_width
from nestkit.drawing.whole import put_whole
from nestkit.estimate.estimate import by_hand
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Job
from nestkit.parts.holes import Hole
from nestkit.parts.marking import Dimension, MarkedHole, marked
from nestkit.parts.panel import Panel
from nestkit.trade.cautions import cautions
from nestkit.units import MM_PER_INCH, Unit, fraction_text, length_text

_TYPE = 4.6
_HEADING = 4.0
_SMALL = 3.2
_EDGE = MARGIN + 6.0
_NUMBER_ROW = 5.0
_FOOT_GAP = 2.0
_SHARES = (0.10, 0.22, 0.14, 0.22, 0.14, 0.18)
_GUTTER = 1.6


@dataclass(frozen=True, slots=True)
class _Page:
    width: float
    height: float

    def foot(self) -> Flow:
        """The foot, above the page's number."""
        flow = Flow(self.width - 2 * _EDGE)
        # The last of the footers: the first speaks of check rulers, which these pages have not.
        put_whole(flow, cautions("footer")[-1], _SMALL, least=2.8, bold=True)
        return flow

    @property
    def room(self) -> Rect:
        low = _EDGE + _NUMBER_ROW + self.foot().height + _FOOT_GAP
        return Rect(_EDGE, low, self.width - _EDGE, self.height - _EDGE)


@dataclass(frozen=True, slots=True)
class _Columns:
    """How wide the columns of a table are, and the type sizes of its heading and rows."""

    widths: tuple[float, ...]
    heading: float
    rows: float


def marking_pages(job: Job) -> tuple[Drawing, ...]:
    """Return the tables of all panels with holes to drill by hand, sorted by bench, each hand its own."""
    paper = job.printing.paper
    page = _Page(paper.short, paper.long or USUAL_LENGTH[job.unit])
    sheets: list[tuple[str, list[Mark]]] = []
    for panel in sorted((p for p in job.panels if drilled(job, p)), key=lambda p: p.used_for):
        for opposite in panel.hands:
            sheets += _panel(job, panel, opposite, page)
    return tuple(_finished(marks, title, page, n, len(sheets)) for n, (title, marks) in enumerate(sheets, 1))


def drilled(job: Job, panel: Panel) -> tuple[Hole, ...]:
    """Return the holes of a panel that are drilled by hand: those that no machine cuts with the part."""
    way = job.way_of(panel)
    return tuple(h for h in panel.holes if by_hand(way, h.dia))


def _panel(job: Job, panel: Panel, opposite: bool, page: _Page) -> Iterator[tuple[str, list[Mark]]]:
    """Yield the pages of one panel and hand: what it is, how to measure, then the table."""
    shown = panel.mirrored() if opposite else panel
    holes = drilled(job, shown)
    rows = [_cells(row, job.unit) for row in marked(holes, job.marking_to)]
    title = f"{panel.name}, OPPOSITE HAND" if opposite else panel.name
    head = _head(job, panel, opposite, title, page, left_out=len(panel.holes) - len(holes))
    checks = _checks(shown, holes, job, page)
    names = ("Hole", f"right [{job.unit}]", "out by", f"up [{job.unit}]", "out by", "Drill")
    room = page.room
    columns = _columns(names, rows, room.width)
    # A continued page takes a row, or the checks, in any case: else there would be no end of pages.
    must = False
    while True:
        flow = Flow(room.width)
        flow.add(head)
        if rows:
            flow.row(names, columns.widths, columns.heading, bold=True)
            flow.gap(1.0)
        while rows:
            then = checks.height if len(rows) == 1 else 0.0
            if not must and flow.height + _row_height() + then > room.height:
                break
            flow.row(rows.pop(0), columns.widths, columns.rows)
            must = False
        done = not rows and (must or flow.height + checks.height <= room.height)
        if done:
            flow.add(checks)
        yield title, list(flow.marks(room.left, room.top))
        if done:
            return
        head, must = _head_again(title, page), True


def _head(job: Job, panel: Panel, opposite: bool, title: str, page: _Page, *, left_out: int) -> Flow:
    facts = dict(facts_of(job, panel, opposite=opposite, back=False, corrected=False).facts)
    flow = Flow(page.room.width)
    put_whole(flow, title, 9.0, least=4.0, bold=True)
    put_whole(flow, "MARKING OUT - THIS FACE UP", 6.0, least=4.0, bold=True)
    said = [facts[key] for key in ("Material", "Size", "For", "Date", "Job") if key in facts]
    if left_out:
        flow.text(f"{left_out} of its holes are cut with the part and are not listed here.", 4.0, bold=True)
    if panel.either_hand:
        flow.text("Faces alike: turned over, it is the opposite hand.", 4.0, bold=True)
    flow.text(f"Make {facts['Make']} · " + " · ".join(said), _SMALL)
    flow.gap(2.0)
    corner = "corner" if panel.shape == "rectangle" else "corner of the box around the part"
    for line in (
        f"DATUM is the lower left {corner}. Measure every hole from it, never from hole to hole.",
        "A mark has width: its edge nearer the DATUM is the size. Always that edge.",
        how_to_mark(panel.material),
    ):
        flow.text(line, 4.0)
    flow.gap(3.0)
    return flow


def _head_again(title: str, page: _Page) -> Flow:
    flow = Flow(page.room.width)
    put_whole(flow, f"{title} (continued)", 9.0, least=4.0, bold=True)
    flow.gap(3.0)
    return flow


def _columns(names: Sequence[str], rows: Sequence[Sequence[str]], width: float) -> _Columns:
    """Return columns in which every cell takes one line, narrower ones and smaller type where need be."""
    needed = [
        max(text_width(name, _HEADING, bold=True), *(text_width(cell, _TYPE) for cell in cells))
        for name, *cells in zip(names, *rows, strict=True)
    ]
    usual = tuple(share * width for share in _SHARES)
    if all(need + _GUTTER <= has for need, has in zip(needed, usual, strict=True)):
        return _Columns(usual, _HEADING, _TYPE)
    room = width - _GUTTER * len(names)
    smaller = min(1.0, room / sum(needed))
    rest = (room - smaller * sum(needed)) / len(names)
    widths = tuple(smaller * need + rest + _GUTTER for need in needed)
    return _Columns(widths, smaller * _HEADING, smaller * _TYPE)


def _row_height() -> float:
    probe = Flow(1000.0)
    probe.row(("1",), (1000.0,), _TYPE)
    return probe.height


def _cells(row: MarkedHole, unit: Unit) -> tuple[str, ...]:
    drill = hole_label(row.hole, unit).split("  ", 1)[1]
    return (
        str(row.hole.number),
        measured_text(row.x, unit),
        error_text(row.x, unit),
        measured_text(row.y, unit),
        error_text(row.y, unit),
        drill,
    )


def measured_text(dimension: Dimension, unit: Unit) -> str:
    """Return what is measured, in the job's unit: ``14 3/4``, ``152.5``."""
    if unit == "mm":
        return length_text(dimension.measured, "mm")
    inches = dimension.measured / MM_PER_INCH
    return fraction_text(inches) if inches.denominator <= 128 else length_text(dimension.measured, "in")


def error_text(dimension: Dimension, unit: Unit) -> str:
    """Return the rounding error: ``+.008`` in, ``-0.12`` mm; in words where it is less than that shows."""
    if dimension.error == 0:
        return "exact"
    if unit == "mm":
        return f"{float(dimension.error):+.2f}" if abs(dimension.error) >= Fraction(1, 200) else "under 0.01"
    inches = float(dimension.error / MM_PER_INCH)
    return f"{inches:+.3f}".replace("0.", ".", 1) if abs(inches) >= 0.0005 else "under .001"


def _checks(shown: Panel, holes: Sequence[Hole], job: Job, page: _Page) -> Flow:
    """Say which distances prove the marks before the first drill."""
    flow = Flow(page.room.width)
    corner = datum_corner(shown, job.way_of(shown).how, back=False)
    checks = checks_of(shown, holes, job.unit, corner=corner, by_rule=PEN_RULE)
    flow.gap(3.0)
    if checks:
        flow.text("Before the first drill, measure:", 4.0, bold=True)
    for check in checks:
        flow.text(f"{check.between}: {check.says}", 4.0)
    return flow


def _finished(marks: list[Mark], title: str, page: _Page, number: int, count: int) -> Drawing:
    at = Point(page.room.right, _EDGE)
    of = Text(at, f"page {number} of {count}", _SMALL + 0.6, anchor="end")
    foot = page.foot().marks(_EDGE, page.room.bottom - _FOOT_GAP)
    return Drawing(page.width, page.height, (*marks, *foot, of), f"marking out: {title}")
