"""How wide a text is: the metrics of the type that every PDF carries (Bitstream Vera Sans)."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from nestkit.drawing.pen import Anchor
from nestkit.geometry.points import Point, Rect

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

PLAIN = "Vera"
BOLD = "VeraBd"

ASCENT = 0.76
DESCENT = 0.24
"""Shares of the type size above and below the baseline."""


@cache
def typeface(name: str) -> TTFont:
    """Return the typeface, registered with reportlab under its name."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(name, f"{name}.ttf")
    pdfmetrics.registerFont(font)
    return font


@cache
def _widths(name: str) -> dict[str, float]:
    """The widths of a typeface's letters, in thousandths of its size."""
    return {chr(code): float(width) for code, width in typeface(name).face.charWidths.items()}


@lru_cache(maxsize=20_000)
def thousandths(text: str, *, bold: bool = False) -> float:
    """Return the width of a text, as a print shows it, in thousandths of the size of its type.

    No letters are set closer than others: the widths of the pieces of a text add up, and exactly, since
    all are whole multiples of 1000/2048.
    """
    return sum(map(_widths(BOLD if bold else PLAIN).__getitem__, shown(text)))


def text_width(text: str, height: float, *, bold: bool = False) -> float:
    """Return the width in mm of a text, as a print shows it, in type of ``height`` mm."""
    return 0.001 * height * thousandths(text, bold=bold)


def printable(text: str) -> str:
    """Return the text with every character that no file may carry, or that is not seen, as its code.

    These are control, bidirectional, private and unassigned characters.

    >>> printable("lid" + chr(0x202E) + chr(0))
    'lidU+202EU+0000'
    """
    if text.isprintable():
        return text
    return "".join(c if unicodedata.category(c)[0] != "C" else _code(c) for c in text)


def shown(text: str) -> str:
    """Return the text with every letter that the type cannot show as its code, ``U+4E2D``."""
    if text.isascii() and text.isprintable():
        return text
    known = _widths(PLAIN)
    if text.isprintable() and known.keys() >= set(text):
        return text
    return "".join(c if c in known else _code(c) for c in printable(text))


def _code(letter: str) -> str:
    return f"U+{ord(letter):04X}"


def fitted(text: str, room: float, height: float, *, least: float, bold: bool = False) -> tuple[str, float]:
    """Return a text and type size that fit ``room`` mm.

    The type gets smaller down to ``least``; then the text is cut and ends with an ellipsis.
    """
    width = text_width(text, height, bold=bold)
    if width <= room:
        return text, height
    size = max(least, height * room / width)
    if text_width(text, size, bold=bold) <= room * (1 + 1e-9):
        return text, size
    cut = text
    while cut and text_width(cut + "…", size, bold=bold) > room:
        cut = cut[:-1]
    return (cut.rstrip() + "…" if cut else ""), size


def text_box(at: Point, text: str, height: float, anchor: Anchor, turn_deg: float, bold: bool) -> Rect:
    """Return the upright box around a text as it stands."""
    width = text_width(text, height, bold=bold)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[anchor]
    if not turn_deg:
        # Most texts stand upright, and of these a template asks for boxes by the hundred.
        left, right = at.x + start, at.x + (start + width)
        return Rect(left, at.y - DESCENT * height, right, at.y + ASCENT * height)
    corners = [
        Point(x, y).turned(turn_deg).moved(*at)
        for x in (start, start + width)
        for y in (-DESCENT * height, ASCENT * height)
    ]
    xs, ys = [c.x for c in corners], [c.y for c in corners]
    return Rect(min(xs), min(ys), max(xs), max(ys))
