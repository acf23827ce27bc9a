"""Texts of the job in HTML."""

from __future__ import annotations

import html

from nestkit.drawing.type import printable

Lines = list[str]


def said(text: str) -> str:
    """Return a text safe to stand in HTML; what cannot be seen or printed stands as its code."""
    return html.escape(printable(text), quote=True)
