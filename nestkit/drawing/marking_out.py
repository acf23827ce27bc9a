"""Marking-out tables: where each hole goes, for a rule, a square and a fine pen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.drawing.model import Drawing, Mark, Text
from nestkit.drawing.template_facts import facts_of, hole_label
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_page import MARGIN
from nestkit.drawing.type import text_width
from nestkit.estimate.estimate import by_hand
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Job
from nestkit.parts.holes import Hole
from nestkit.parts.marking import Dimension, MarkedHole, check_pairs, marked
from nestkit.parts.panel import Panel
from nestkit.trade.cautions import cautions
from nestkit.trade.materials import family
from nestkit.units import MM_PER_INCH, Unit, fraction_text, length_text, with_unit

_TYPE = 4.6
_SMALL = 3.2
_EDGE = MARGIN + 6.0
_SHARES = (0.10, 0.22, 0.14, 0.22, 0.14, 0.18)
_USUAL_LENGTH: dict[Unit, float] = {"in": 279.4, "mm": 297.0}
"""How long a page off a roll is: a letter's or an A4's."""


@dataclass(frozen=True, slots=True)
class _Page:
    width: float
    height: float

    @property
    def room(self) -> Rect:
        return Rect(_EDGE, _EDGE + 2 * _SMALL, self.width - _EDGE, self.height - _EDGE)


def marking_pages(job: Job) -> tuple[Drawing, ...]:
    """Return the tables of all panels with holes to drill by hand, sorted by bench, each hand its own."""
    paper = job.printing.paper
    page = _Page(paper.short, paper.long or _USUAL_LENGTH[job.unit])
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
    rows = list(marked(holes, job.marking_to))
    title = f"{panel.name}, OPPOSITE HAND" if opposite else panel.name
    head = _head(job, panel, opposite, title, page, left_out=len(panel.holes) - len(holes))
    checks = _checks(holes, job.unit, page)
    while True:
        flow = Flow(page.room.width)
        flow.add(head)
        _heading(flow, job.unit)
        while rows and flow.height + _row_height() + checks.height <= page.room.height:
            _row(flow, rows.pop(0), job.unit)
        if not rows:
            flow.add(checks)
        yield title, list(flow.marks(page.room.left, page.room.top))
        if not rows:
            return
        head = _head_again(title, page)


def _head(job: Job, panel: Panel, opposite: bool, title: str, page: _Page, *, left_out: int) -> Flow:
    facts = dict(facts_of(job, panel, opposite=opposite, back=False, corrected=False).facts)
    flow = Flow(page.room.width)
    flow.title(title, 9.0, least=4.0)
    flow.text("MARKING OUT - THIS FACE UP", 6.0, bold=True)
    said = [facts[key] for key in ("Material", "Size", "For", "Date", "Job") if key in facts]
    if left_out:
        flow.text(f"{left_out} of its holes are cut with the part and are not listed here.", 4.0, bold=True)
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
    flow.title(f"{title} (continued)", 9.0, least=4.0)
    flow.gap(3.0)
    return flow


def how_to_mark(material: str) -> str:
    """Return how a place is marked on a material: what marks it, and what must not."""
    kind = family(material)
    if kind == "acrylic":
        return "Mark on the film with a fine pen. No blow: press an awl, or start with a small drill."
    if kind in ("polycarbonate", "hdpe", "pvc"):
        return "Mark on the film with a fine pen, then prick lightly through it. No scriber in the sheet."
    if kind in ("plywood", "mdf"):
        return "Mark with a sharp pencil, then press an awl on the cross."
    if kind in ("aluminium", "steel"):
        return "Scribe fine lines, then centre punch on a solid support."
    return "Mark a fine cross, then prick it lightly; ask before you strike a material that may crack."


def _heading(flow: Flow, unit: Unit) -> None:
    widths = _widths(flow.width)
    flow.row(("Hole", f"right [{unit}]", "out by", f"up [{unit}]", "out by", "Drill"), widths, 4.0, bold=True)
    flow.gap(1.0)


def _widths(width: float) -> list[float]:
    return [share * width for share in _SHARES]


def _row_height() -> float:
    probe = Flow(1000.0)
    probe.row(("1",), (1000.0,), _TYPE)
    return probe.height


def _row(flow: Flow, row: MarkedHole, unit: Unit) -> None:
    drill = hole_label(row.hole, unit).split("  ", 1)[1]
    cells = (
        str(row.hole.number),
        measured_text(row.x, unit),
        error_text(row.x, unit),
        measured_text(row.y, unit),
        error_text(row.y, unit),
        drill,
    )
    widths = _widths(flow.width)
    flow.row(cells, widths, min(_TYPE, *(_fitting(c, w) for c, w in zip(cells, widths, strict=True))))


def _fitting(cell: str, width: float) -> float:
    """Return the type size in which a cell takes one line."""
    return _TYPE * (width - 1.6) / max(text_width(cell, _TYPE), 1e-9)


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


def _checks(holes: Sequence[Hole], unit: Unit, page: _Page) -> Flow:
    """Say which distances prove the marks before the first drill."""
    flow = Flow(page.room.width)
    pairs = check_pairs(holes)
    flow.gap(3.0)
    if pairs:
        flow.text("Before the first drill, measure from mark to mark:", 4.0, bold=True)
    for a, b, away in pairs:
        flow.text(f"{a} to {b}: {with_unit(Fraction(away), unit)}", 4.0)
    return flow


def _finished(marks: list[Mark], title: str, page: _Page, number: int, count: int) -> Drawing:
    # The last of the footers: the first speaks of check rulers, which these pages have not.
    foot = cautions("footer")[-1]
    flow = Flow(page.room.width)
    flow.title(foot, _SMALL, least=2.0)
    at = Point(page.room.right, _EDGE)
    of = Text(at, f"page {number} of {count}", _SMALL + 0.6, anchor="end")
    footer = flow.marks(_EDGE, _EDGE + 2 * _SMALL + 1.0)
    return Drawing(page.width, page.height, (*marks, *footer, of), f"marking out: {title}")
