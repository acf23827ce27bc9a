"""Texts of a page that are never cut short: one line, smaller where it must be, or else several lines."""

from __future__ import annotations

from nestkit.drawing.template_flow import Flow
from nestkit.drawing.type import fitted


def one_line(text: str, room: float, height: float, *, least: float, bold: bool = False) -> float | None:
    """Return the type size, ``height`` or less, at which a text takes one line of ``room`` mm.

    None where it would have to be smaller than ``least``.
    """
    line, size = fitted(text, room, height, least=least, bold=bold)
    if line != text:
        return None
    # What just fits by a reckoned size must not be wrapped for the last digit of a sum.
    return size if size == height else size * (1 - 1e-9)


def put_whole(flow: Flow, text: str, height: float, *, least: float, bold: bool = False) -> None:
    """Add a text in one line, its type made smaller down to ``least``; what is longer takes more lines."""
    size = one_line(text, flow.width, height, least=least, bold=bold)
    flow.text(text, least if size is None else size, bold=bold)
