"""Lines of text and tables that flow down a column of a page."""

from __future__ import annotations

from collections.abc import Sequence

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Inset, Path, Text, line, outlined
from nestkit.drawing.type import ASCENT, fitted, text_width, thousandths
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import rectangle

LEADING = 1.3
"""From baseline to baseline, as a share of the type size."""
GUTTER = 1.5
"""Room in mm between the columns of a table."""


def wrapped(text: str, room: float, height: float, *, bold: bool = False) -> list[str]:
    """Return a text in lines of at most ``room`` mm; a word that is too long is broken."""
    lines: list[str] = []
    now, wide = "", 0.0
    space, size = thousandths(" ", bold=bold), 0.001 * height
    for word in text.split(" "):
        # Word by word: to measure all of a growing line again costs as much as to place it.
        more = thousandths(word, bold=bold)
        longer = wide + space + more if now else more
        if size * longer <= room:
            now, wide = f"{now} {word}" if now else word, longer
            continue
        if now:
            lines.append(now)
        now, wide = word, more
        while size * wide > room and len(now) > 1:
            cut = len(now) - 1
            while cut > 1 and text_width(now[:cut], height, bold=bold) > room:
                cut -= 1
            lines.append(now[:cut])
            now = now[cut:]
            wide = thousandths(now, bold=bold)
    return [*lines, now] if now else lines


class Flow:
    """Gathers marks from the top of a column down; y is 0 at the top and falls."""

    def __init__(self, width: float) -> None:
        self.width = width
        self._y = 0.0
        self._marks: list[Text | Inset | Path] = []

    @property
    def height(self) -> float:
        """How far down the column reaches."""
        return -self._y

    def gap(self, size: float) -> None:
        """Leave some room."""
        self._y -= size

    def title(self, text: str, height: float, *, least: float) -> None:
        """Add one bold line, made smaller and then cut so that it fits."""
        line_text, size = fitted(text, self.width, height, least=least, bold=True)
        self._put(0.0, line_text, size, bold=True)

    def text(self, text: str, height: float, *, bold: bool = False) -> None:
        """Add a text in as many lines as it takes."""
        for part in wrapped(text, self.width, height, bold=bold):
            self._put(0.0, part, height, bold=bold)

    def picture(self, drawing: Drawing) -> None:
        """Add a picture at the left of the column."""
        self._y -= drawing.height
        clip = Rect(0.0, 0.0, drawing.width, drawing.height).grown(0.35)
        self._marks.append(Inset(drawing, Point(0.0, self._y), clip=clip))

    def add(self, other: Flow) -> None:
        """Add another column below what is there."""
        self._marks += other.marks(0.0, self._y)
        self._y -= other.height

    def framed(self, other: Flow, inset: float) -> None:
        """Add another column in a frame, ``inset`` mm in from its sides."""
        box = rectangle(other.width + 2 * inset, other.height, at=Point(0.0, self._y - other.height))
        self._marks.append(outlined(box, Layer.FINE))
        self._marks += other.marks(inset, self._y)
        self._y -= other.height

    def beside(self, left: Flow, right: Flow, at: float) -> None:
        """Add two columns side by side, the second ``at`` mm from the left."""
        self._marks += left.marks(0.0, self._y)
        self._marks += right.marks(at, self._y)
        self._y -= max(left.height, right.height)

    def row(
        self, cells: Sequence[str], widths: Sequence[float], height: float, *, bold: bool = False
    ) -> None:
        """Add a row of a table; a cell that is too long takes more lines."""
        left, lowest, top = 0.0, self._y, self._y
        for cell, width in zip(cells, widths, strict=True):
            self._y = top
            for part in wrapped(cell, width - GUTTER, height, bold=bold):
                self._put(left, part, height, bold=bold)
            lowest = min(lowest, self._y)
            left += width
        self._y = lowest

    def _put(self, left: float, text: str, height: float, *, bold: bool) -> None:
        baseline = self._y - ASCENT * height - (LEADING - 1) * height / 2
        self._marks.append(Text(Point(left, baseline), text, height, Layer.LABEL, bold=bold))
        self._y -= LEADING * height

    def marks(self, left: float, top: float) -> tuple[Text | Inset | Path, ...]:
        """Return everything, the column's upper left at a place on the page."""
        return tuple(_moved(mark, left, top) for mark in self._marks)


def ruled(width: float, room: float) -> Flow:
    """Return a heavy line across a column, with ``room`` mm in all above and below: something else begins."""
    flow = Flow(width)
    flow.gap(room / 2)
    flow.picture(Drawing(width, 0.0, (line(Point(0.0, 0.0), Point(width, 0.0), Layer.HEAVY),)))
    flow.gap(room / 2)
    return flow


def _moved(mark: Text | Inset | Path, dx: float, dy: float) -> Text | Inset | Path:
    if isinstance(mark, Path):
        vertices = tuple(Vertex(v.x + dx, v.y + dy, v.bulge) for v in mark.vertices)
        return Path(vertices, mark.closed, mark.layer)
    at = mark.at.moved(dx, dy)
    if isinstance(mark, Inset):
        return Inset(mark.drawing, at, mark.scale_x, mark.scale_y, mark.clip)
    # Most marks of most prints are moved texts: spelled out, this takes a third of the time.
    return Text(at, mark.text, mark.height, mark.layer, mark.anchor, mark.turn_deg, mark.bold)
