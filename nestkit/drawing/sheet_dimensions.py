"""The dimensions beside the picture of a sheet."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Text, line
from nestkit.drawing.sheet_offcuts import TYPE
from nestkit.drawing.type import fitted, text_width
from nestkit.geometry.points import Point, Rect
from nestkit.layout.result import CutSheet
from nestkit.units import MM_PER_INCH, Unit, length_text, with_unit

APART = 22.0
"""Running lengths stand at least so far apart on paper."""
_STEPS: dict[Unit, tuple[Fraction, ...]] = {
    "in": tuple(n * MM_PER_INCH for n in (6, 12, 24, 48, 120, 240, 600)),
    "mm": tuple(Fraction(n) for n in (100, 200, 500, 1000, 2000, 5000, 10000)),
}


def dimensions(
    sheet: Rect, stock_sheet: CutSheet, unit: Unit, stretch: tuple[float, float] | None
) -> list[Mark]:
    """Return a sheet's size, below and at its left; of a stretch, from and to, its running length there."""
    stock = stock_sheet.stock
    y, x = sheet.bottom - 8.2, sheet.left - 4.5
    across, up = with_unit(stock.width, unit), with_unit(stock.height, unit)
    marks = _dimension_line(Point(sheet.left, y), Point(sheet.right, y))
    marks += _dimension_line(Point(x, sheet.bottom), Point(x, sheet.top))
    if text_width(across, TYPE) > sheet.width + 20:
        across = length_text(stock.width, unit)
    marks.append(Text(Point(sheet.centre.x, y - 4.2), across, TYPE, Layer.LABEL, "middle"))
    if stretch is not None:
        return [*marks, *_running(sheet, stretch, unit)]
    said, size = fitted(up, sheet.height + 8, TYPE, least=2.2)
    marks.append(Text(Point(x - 1.4, sheet.centre.y), said, size, Layer.LABEL, "middle", 90.0))
    return marks


def _running(sheet: Rect, stretch: tuple[float, float], unit: Unit) -> Iterator[Mark]:
    """Ticks at whole lengths from the lower end of the piece, as close as their figures allow."""
    low, high = stretch
    scale = (high - low) / sheet.height
    step = next((s for s in _STEPS[unit] if s / scale >= _apart(s, high, unit)), _STEPS[unit][-1])
    x = sheet.left - 4.5
    for n in range(ceil(low / step), int(high / step) + 1):
        at = Point(x, sheet.bottom + float(n * step - low) / scale)
        yield line(at.moved(-1.3, 0.0), at.moved(4.5, 0.0), Layer.FINE)
        text = _tick_text(n * step, unit)
        half = text_width(text, TYPE) / 2
        foot = Point(x - 2.2, max(min(at.y, sheet.top - half), sheet.bottom + half))
        yield Text(foot, text, TYPE, Layer.LABEL, "middle", 90.0)


def _apart(step: Fraction, high: float, unit: Unit) -> float:
    """Return how far apart on paper the ticks of a step must be for figures up to ``high`` mm."""
    last = int(high / step) * step
    return max(APART, 1.5 * text_width(_tick_text(last, unit), TYPE))


def _tick_text(mm: Fraction, unit: Unit) -> str:
    """Return the figure at a tick, in an inch job with the feet of a long tape where they are whole."""
    feet, over = divmod(mm, 12 * MM_PER_INCH)
    return with_unit(mm, unit) + (f" ({feet} ft)" if unit == "in" and feet and not over else "")


def _dimension_line(a: Point, b: Point) -> list[Mark]:
    """A thin line with a tick across each end."""
    across = Point(0.0, 1.3) if a.y == b.y else Point(1.3, 0.0)
    ticks = [line(p.moved(-across.x, -across.y), p.moved(*across), Layer.FINE) for p in (a, b)]
    return [line(a, b, Layer.FINE), *ticks]
