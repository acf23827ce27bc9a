"""Holding tabs: what a way of cutting leaves standing so that parts stay where they are."""

from __future__ import annotations

from fractions import Fraction

from nestkit.job.entry import Entry
from nestkit.job.values import count, length
from nestkit.stock.ways import MACHINES, How, Tabs
from nestkit.text import counted
from nestkit.units import Unit, with_unit

MOST = 100
"""Tabs a part at most."""
WIDEST = Fraction(100)
"""Millimetres that a tab is wide at most."""

_REMEDY = 'Write tabs = { width = "1/4", count = 3 }, or every = 8 in place of count'


def read_tabs(entry: Entry, how: How | None, usual: Tabs | None) -> Tabs | None:
    """Return the holding tabs of a way of cutting, ``usual`` where it does not say; count 0 is none."""
    if "tabs" not in entry:
        return usual
    if how is not None and how not in MACHINES:
        entry.wrong(
            "tabs", f"a {how} leaves no tabs", "Leave tabs out: they are for a router, laser or waterjet"
        )
        return None
    table = entry.child("tabs", "tabs", named=True)
    if table is None:
        return None
    which = table.one_of(("count", "every"), _REMEDY)
    number = count(table, "count", 0, most=MOST) if which == "count" else None
    every = length(table, "every") if which == "every" else None
    if number == 0:
        return None
    width = length(table, "width", required=True)
    if width is not None and width > WIDEST:
        unit = entry.notes.unit
        table.wrong(
            "width", f"{with_unit(width, unit)} is out of range", f"Write {with_unit(WIDEST, unit)} or less"
        )
    if width is None or (number is None and every is None):
        return None
    return Tabs(width, number, every)


def tabs_said(tabs: Tabs, unit: Unit) -> str:
    """Return what was asked for: ``3 holding tabs a part, 1/4 in wide``."""
    wide = f"{with_unit(tabs.width, unit)} wide"
    if tabs.count is not None:
        return f"{counted(tabs.count, 'holding tab')} a part, {wide}"
    return f"a holding tab every {with_unit(tabs.every or 0, unit)} of edge, {wide}"
