"""What all marking-out pages share: the page with its foot, the columns of a table, its figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.drawing.model import Drawing, Mark, Text
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_page import MARGIN, USUAL_LENGTH
from nestkit.drawing.type import text_width
from nestkit.drawing.whole import put_whole
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Job
from nestkit.parts.marking import Dimension
from nestkit.trade.cautions import cautions
from nestkit.units import MM_PER_INCH, Unit, fraction_text, length_text

TYPE = 4.6
HEADING = 4.0
SMALL = 3.2
_EDGE = MARGIN + 6.0
_NUMBER_ROW = 5.0
_FOOT_GAP = 2.0
_GUTTER = 1.6


@dataclass(frozen=True, slots=True)
class MarkingPage:
    """A page of tables in mm; ``notes`` stand at its foot, each a line of its own."""

    width: float
    height: float
    notes: tuple[str, ...] = ()

    @property
    def foot(self) -> Flow:
        """The foot, above the page's number."""
        flow = Flow(self.width - 2 * _EDGE)
        for note in self.notes:
            flow.text(note, HEADING, bold=True)
        if self.notes:
            flow.gap(_FOOT_GAP)
        # The last of the footers: the first speaks of check rulers, which these pages have not.
        put_whole(flow, cautions("footer")[-1], SMALL, least=2.8, bold=True)
        return flow

    @property
    def room(self) -> Rect:
        """What is left for tables."""
        low = _EDGE + _NUMBER_ROW + self.foot.height + _FOOT_GAP
        return Rect(_EDGE, low, self.width - _EDGE, self.height - _EDGE)

    def finished(self, marks: Sequence[Mark], title: str, number: str) -> Drawing:
        """Return the page with its foot and its number."""
        room = self.room
        of = Text(Point(room.right, _EDGE), number, SMALL + 0.6, anchor="end")
        foot = self.foot.marks(_EDGE, room.bottom - _FOOT_GAP)
        return Drawing(self.width, self.height, (*marks, *foot, of), f"marking out: {title}")


def marking_page(job: Job, *notes: str) -> MarkingPage:
    """Return the page of a job's tables; off a roll it is as long as usual paper."""
    paper = job.printing.paper
    return MarkingPage(paper.short, paper.long or USUAL_LENGTH[job.unit], notes)


@dataclass(frozen=True, slots=True)
class Columns:
    """How wide the columns of a table are, and the type sizes of its heading and rows."""

    widths: tuple[float, ...]
    heading: float
    rows: float


def columns_of(
    names: Sequence[str], rows: Sequence[Sequence[str]], width: float, shares: Sequence[float]
) -> Columns:
    """Return columns in which every cell takes one line, narrower ones and smaller type where need be.

    ``shares`` of the width are the usual columns.
    """
    needed = [
        max(text_width(name, HEADING, bold=True), *(text_width(cell, TYPE) for cell in cells))
        for name, *cells in zip(names, *rows, strict=True)
    ]
    usual = tuple(share * width for share in shares)
    if all(need + _GUTTER <= has for need, has in zip(needed, usual, strict=True)):
        return Columns(usual, HEADING, TYPE)
    room = width - _GUTTER * len(names)
    smaller = min(1.0, room / sum(needed))
    rest = (room - smaller * sum(needed)) / len(names)
    widths = tuple(smaller * need + rest + _GUTTER for need in needed)
    return Columns(widths, smaller * HEADING, smaller * TYPE)


def row_height() -> float:
    """Return how high a row of a table is at most."""
    probe = Flow(1000.0)
    probe.row(("1",), (1000.0,), TYPE)
    return probe.height


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
