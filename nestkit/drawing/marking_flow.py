"""Tables that flow over pages: what has no room on one goes on the next, under the part's name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nestkit.drawing.marking_table import HEADING, Columns, MarkingPage, row_height
from nestkit.drawing.model import Mark
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.whole import put_whole

_BEFORE = 4.0
_AROUND_NAMES = 0.6
_BEFORE_END = 1.2
_CONTINUED = 12.0
"""About what a part's name takes at the top of a page that goes on with it."""


@dataclass(frozen=True, slots=True)
class Table:
    """A table: what stands over it or nothing, the names of its columns, its rows, lines that close it."""

    heading: str
    names: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    end: tuple[str, ...] = ()


class Pages:
    """Pages being filled."""

    def __init__(self, page: MarkingPage) -> None:
        self._room = page.room
        self._done: list[tuple[str, list[Mark]]] = []
        self._title, self._flow = "", Flow(self.width)

    @property
    def width(self) -> float:
        """How wide the pages are inside."""
        return self._room.width

    @property
    def left(self) -> float:
        """How much of the page is left."""
        return self._room.height - self._flow.height

    @property
    def begun(self) -> bool:
        """Say whether anything stands on the page."""
        return self._flow.height > 0

    def holds(self, table: Table, columns: Columns) -> bool:
        """Say whether a table may begin here: all of it has room, or no page has room for all of it."""
        whole = height_of(table, columns, self.width)
        if whole <= self.left:
            return True
        first = height_of(replace(table, rows=table.rows[:1]), columns, self.width)
        return whole > self._room.height - _CONTINUED and first <= self.left

    def turn(self) -> None:
        """Go on to a new page, if anything stands on this one."""
        if self.begun:
            self._done.append((self._title, list(self._flow.marks(self._room.left, self._room.top))))
            self._title, self._flow = "", Flow(self.width)

    def add(self, flow: Flow, title: str) -> None:
        """Add something of a part; the first part of a page names it."""
        self._title = self._title or title
        self._flow.add(flow)

    def closed(self) -> list[tuple[str, list[Mark]]]:
        """Return all pages: the title of each and its marks."""
        self.turn()
        return self._done


def height_of(table: Table, columns: Columns, width: float) -> float:
    """Return how high a table is on one page."""
    top = _top(table, columns, width, continued=False)
    return top.height + len(table.rows) * row_height() + _end(table, width).height


def put_table(table: Table, columns: Columns, title: str, pages: Pages) -> None:
    """Put a table of a part on pages, parted only where one page cannot hold it.

    Its heading goes with a row at least, its end with the last row.
    """
    rows, continued = list(table.rows), False
    end = _end(table, pages.width)
    while rows:
        top = _top(table, columns, pages.width, continued=continued)
        if not continued and pages.begun and not pages.holds(table, columns):
            _turn(title, pages)
        pages.add(top, title)
        # A page takes a row in any case: else there would be no end of pages.
        must = True
        while rows and (must or _next(rows, end) <= pages.left):
            row = Flow(pages.width)
            row.row(rows.pop(0), columns.widths, columns.rows)
            pages.add(row, title)
            must = False
        if rows:
            _turn(title, pages)
            continued = True
    pages.add(end, title)


def _next(rows: Sequence[tuple[str, ...]], end: Flow) -> float:
    """Return how much the next row takes, the last one with what closes the table."""
    return row_height() + (end.height if len(rows) == 1 else 0.0)


def _turn(title: str, pages: Pages) -> None:
    pages.turn()
    again = Flow(pages.width)
    put_whole(again, f"{title} (continued)", 9.0, least=4.0, bold=True)
    pages.add(again, title)


def _top(table: Table, columns: Columns, width: float, *, continued: bool) -> Flow:
    flow = Flow(width)
    flow.gap(_BEFORE)
    if table.heading:
        heading = f"{table.heading}{' (continued)' if continued else ''}"
        put_whole(flow, heading, 5.0, least=HEADING, bold=True)
    flow.gap(_AROUND_NAMES)
    flow.row(table.names, columns.widths, columns.heading, bold=True)
    flow.gap(_AROUND_NAMES)
    return flow


def _end(table: Table, width: float) -> Flow:
    flow = Flow(width)
    flow.gap(_BEFORE_END)
    for text in table.end:
        flow.text(text, HEADING)
    return flow
