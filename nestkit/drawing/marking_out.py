"""Marking-out tables: where each hole goes, for a rule, a square and a fine pen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from nestkit.drawing.later_words import PRINT, through_said
from nestkit.drawing.marking_table import (
    SMALL,
    MarkingPage,
    columns_of,
    error_text,
    marking_page,
    measured_text,
    row_height,
)
from nestkit.drawing.marking_words import how_to_mark
from nestkit.drawing.model import Drawing, Mark
from nestkit.drawing.template_checks import PEN_RULE, checks_of
from nestkit.drawing.template_facts import datum_corner, facts_of
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_holes import hole_label
from nestkit.drawing.whole import put_whole
from nestkit.job.model import Job
from nestkit.job.pairs import later_of, to_mark
from nestkit.parts.holes import Hole
from nestkit.parts.marking import MarkedHole, marked
from nestkit.parts.panel import Panel
from nestkit.units import Unit

_SHARES = (0.10, 0.22, 0.14, 0.22, 0.14, 0.18)


def marking_pages(job: Job, panels: Iterable[Panel] | None = None) -> tuple[Drawing, ...]:
    """Return the tables of all panels, or of some, with holes to mark, sorted by bench, each hand its own."""
    page = marking_page(job)
    sheets: list[tuple[str, list[Mark]]] = []
    for panel in sorted(job.panels if panels is None else panels, key=lambda p: p.used_for):
        for opposite in panel.hands:
            if drilled(job, to_mark(job, panel, opposite)):
                sheets += _panel(job, panel, opposite, page)
    return tuple(
        page.finished(marks, title, f"page {n} of {len(sheets)}")
        for n, (title, marks) in enumerate(sheets, 1)
    )


def drilled(job: Job, panel: Panel) -> tuple[Hole, ...]:
    """Return the holes of a panel that are drilled by hand: those that no machine cuts with the part."""
    way = job.way_of(panel)
    return tuple(h for h in panel.holes if way.by_hand(h.dia))


def _panel(job: Job, panel: Panel, opposite: bool, page: MarkingPage) -> Iterator[tuple[str, list[Mark]]]:
    """Yield the pages of one panel and hand: what it is, how to measure, then the table."""
    marked_here = to_mark(job, panel, opposite)
    shown = marked_here.mirrored() if opposite else marked_here
    holes = drilled(job, shown)
    rows = [_cells(row, job.unit) for row in marked(holes, job.marking_to)]
    title = f"{panel.name}, OPPOSITE HAND" if opposite else panel.name
    head = _head(job, panel, opposite, title, page, left_out=len(shown.holes) - len(holes))
    checks = _checks(shown, holes, job, page)
    names = ("Hole", f"right [{job.unit}]", "out by", f"up [{job.unit}]", "out by", "Drill")
    room = page.room
    columns = columns_of(names, rows, room.width, _SHARES)
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
            if not must and flow.height + row_height() + then > room.height:
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


def _head(job: Job, panel: Panel, opposite: bool, title: str, page: MarkingPage, *, left_out: int) -> Flow:
    facts = dict(facts_of(job, panel, opposite=opposite, back=False, corrected=False).facts)
    flow = Flow(page.room.width)
    put_whole(flow, title, 9.0, least=4.0, bold=True)
    put_whole(flow, "MARKING OUT - THIS FACE UP", 6.0, least=4.0, bold=True)
    said = [facts[key] for key in ("Material", "Size", "For", "Date", "Job") if key in facts]
    if left_out:
        flow.text(f"{left_out} of its holes are cut with the part and are not listed here.", 4.0, bold=True)
    later = later_of(job, panel, opposite)
    if later:
        flow.text(f"Not here: {through_said(later)}, see {PRINT}.", 4.0, bold=True)
    if panel.either_hand:
        flow.text("Faces alike: turned over, it is the opposite hand.", 4.0, bold=True)
    flow.text(f"Make {facts['Make']} · " + " · ".join(said), SMALL)
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


def _head_again(title: str, page: MarkingPage) -> Flow:
    flow = Flow(page.room.width)
    put_whole(flow, f"{title} (continued)", 9.0, least=4.0, bold=True)
    flow.gap(3.0)
    return flow


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


def _checks(shown: Panel, holes: Sequence[Hole], job: Job, page: MarkingPage) -> Flow:
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
