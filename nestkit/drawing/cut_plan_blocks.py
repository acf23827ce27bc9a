"""Blocks of a cut plan: rows that stay together on a page where they can, in columns with titles."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.model import Drawing
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.whole import put_whole
from nestkit.geometry.points import Rect

BODY = 4.0
"""Type of words in mm."""
_CONTINUED = 34.0
"""Room for the titles of a page that goes on."""


@dataclass(frozen=True, slots=True)
class Block:
    """Rows that stand on one page where they fit on one, and what they are called where they do not."""

    title: str
    rows: list[Flow]


def paged(title: str, head: Flow, blocks: Iterable[Block], room: Rect) -> Iterator[Flow]:
    """Yield columns of blocks, each on one page where it fits on one, else its rows wherever they fit."""
    flow = head
    for block in blocks:
        whole = sum(row.height for row in block.rows)
        parted = whole > room.height - _CONTINUED
        for n, row in enumerate(block.rows):
            need = row.height if parted else whole if n == 0 else 0.0
            if flow.height + need > room.height:
                yield flow
                flow = Flow(room.width)
                put_whole(flow, f"{title} (continued)", 6.0, least=4.0, bold=True)
                flow.gap(3.0)
                if n and block.title:
                    put_whole(flow, f"{block.title} (continued)", 5.0, least=4.0, bold=True)
            flow.add(row)
    yield flow


def titled(title: str, room: Rect) -> Flow:
    """Return a column that begins with a title, whole."""
    flow = Flow(room.width)
    put_whole(flow, title, 8.0, least=5.4, bold=True)
    return flow


def table_row(cells: Sequence[str], shares: Sequence[float], size: float, room: Rect) -> Flow:
    """A row of a table."""
    flow = Flow(room.width)
    flow.row(cells, [share * room.width for share in shares], size)
    flow.gap(0.2 * size)
    return flow


def text_row(said: str, size: float, room: Rect, *, bold: bool = False) -> Flow:
    """Return a text as a row of its own."""
    flow = Flow(room.width)
    flow.text(said, size, bold=bold)
    return flow


def pictured(row: Drawing, width: float) -> Flow:
    """Return a drawn row."""
    flow = Flow(width)
    flow.picture(row)
    return flow


def space(width: float, size: float) -> Flow:
    """Return room between blocks."""
    flow = Flow(width)
    flow.gap(size)
    return flow
