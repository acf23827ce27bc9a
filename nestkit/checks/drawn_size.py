"""Outlines from files that look as if their unit was mistaken: inches for millimetres, or the other way."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from nestkit.checks.findings import AS_DRAWN, Finding, panels_with_group
from nestkit.job.model import Group, Job
from nestkit.parts.panel import DrawnFrom, Panel
from nestkit.units import MM_PER_INCH, Unit, length_text, with_unit

SMALL = Fraction(5)
"""Millimetres: a part that is smaller both ways is hardly meant."""


def unit_mistaken(job: Job) -> Iterator[Finding]:
    """An outline from a file is not 25.4 times too large for every sheet, and not below 5 mm both ways."""
    for panel, group in panels_with_group(job):
        if panel.drawn is None:
            continue
        if max(panel.width, panel.height) < SMALL:
            yield _finding(panel, panel.drawn, job.unit, MM_PER_INCH)
        elif _too_large(panel, group) and _fits(panel, group, 1 / MM_PER_INCH):
            yield _finding(panel, panel.drawn, job.unit, 1 / MM_PER_INCH)


def _too_large(panel: Panel, group: Group) -> bool:
    return bool(group.sheets) and not _fits(panel, group, Fraction(1))


def _fits(panel: Panel, group: Group, scale: Fraction) -> bool:
    short, long = sorted((panel.width * scale, panel.height * scale))
    rooms = [sorted((sheet.width, sheet.height)) for sheet in group.sheets]
    return any(short <= low and long <= high for low, high in rooms)


def _finding(panel: Panel, drawn: DrawnFrom, unit: Unit, scale: Fraction) -> Finding:
    taken, other = _size(panel, Fraction(1), unit), _size(panel, scale, unit)
    times = "more" if scale > 1 else "less"
    text = f"drawn as {taken}; if its unit was mistaken, it is {other} (25.4 times {times})"
    meant: Unit = "in" if scale > 1 else "mm"
    remedy = f'measure one side of the drawing; outline_unit = "{meant}" reads it so'
    if abs(drawn.unit_mm * float(scale) - (25.4 if meant == "in" else 1.0)) > 1e-6:
        remedy = "measure one side of the drawing, and save it once more in its real unit"
    return Finding("advice", "", panel.place, text, remedy, AS_DRAWN)


def _size(panel: Panel, scale: Fraction, unit: Unit) -> str:
    return f"{length_text(panel.width * scale, unit)} x {with_unit(panel.height * scale, unit)}"
