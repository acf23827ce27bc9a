"""buy.csv and parts.csv: lists that open in any spreadsheet, where no cell can become a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from nestkit.estimate.estimate import Estimate, StockRow
from nestkit.job.model import Job
from nestkit.layout.result import JobLayout, PlacedPart, Unplaced
from nestkit.units import MM_PER_INCH, Unit, decimal_text
from nestkit.writers.plan import sheet_files

BUY_COLUMNS = ("stock", "material", "thickness", "size", "buy", "on_hand", "price", "cost")
PARTS_COLUMNS = ("part", "copy", "hand", "for", "material", "thickness", "sheet", "x", "y", "turn")

_FORMULA = "=+-@\t\r\n＝＋－＠"
"""A cell that begins with one of these, also after blanks, may be taken for a formula."""


def buy_rows(job: Job, estimate: Estimate) -> list[dict[str, Any]]:
    """Return the rows of the buy list by their columns; lengths as decimal text in the job's unit."""
    return [dict(zip(BUY_COLUMNS, _buy_row(row, job.unit), strict=True)) for row in estimate.rows]


def buy_csv(job: Job, estimate: Estimate) -> bytes:
    """Return buy.csv: a row for each stock that is bought or taken from what is on hand."""
    rows = [_buy_row(row, job.unit) for row in estimate.rows]
    return _csv_bytes(BUY_COLUMNS, rows)


def parts_csv(job: Job, layout: JobLayout) -> bytes:
    """Return parts.csv: a row for each copy, by what it is for, then in the job's order.

    A copy without a place has no sheet, x, y and turn.
    """
    copies: list[tuple[PlacedPart | Unplaced, str]] = []
    for _, sheet, stem in sheet_files(job, layout):
        copies.extend((part, stem) for part in sheet.parts)
    copies.extend((part, "") for group in layout.groups for part in group.unplaced)
    order = {panel.name: index for index, panel in enumerate(job.panels)}

    def place(copy: tuple[PlacedPart | Unplaced, str]) -> tuple[bool, str, int, bool, int]:
        part = copy[0]
        used_for = part.panel.used_for
        return not used_for, used_for, order[part.panel.name], part.opposite_hand, part.copy

    return _csv_bytes(
        PARTS_COLUMNS, [_part_row(part, stem, job.unit) for part, stem in sorted(copies, key=place)]
    )


def _buy_row(row: StockRow, unit: Unit) -> list[str | int | float | None]:
    stock = row.stock
    size = f"{length_cell(stock.width, unit)} x {length_cell(stock.height, unit)}"
    name, thickness = stock.name, length_cell(stock.thickness, unit)
    counts = (row.buy, row.on_hand)
    return [name, stock.material, thickness, size, *counts, _money(row.price), _money(row.cost)]


def _part_row(part: PlacedPart | Unplaced, stem: str, unit: Unit) -> list[str | int | float | None]:
    panel = part.panel
    hand = "either" if panel.either_hand else "opposite" if part.opposite_hand else "as drawn"
    row: list[str | int | float | None] = [panel.name, part.copy, hand, panel.used_for, panel.material]
    row.append(length_cell(panel.thickness, unit))
    if isinstance(part, PlacedPart):
        return [*row, stem, length_cell(part.x, unit), length_cell(part.y, unit), part.turn]
    return [*row, None, None, None, None]


def length_cell(mm: Fraction, unit: Unit) -> str:
    """Return a length as decimal text in the job's unit, without the unit.

    >>> length_cell(Fraction(254), "in"), length_cell(Fraction("2.9972"), "in")
    ('10', '0.118')
    """
    return decimal_text(mm / MM_PER_INCH if unit == "in" else mm)


def safe_cell(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula: an apostrophe goes before it if need be.

    >>> safe_cell("=1+1"), safe_cell("  @x"), safe_cell("lid - left")
    ("'=1+1", "'  @x", 'lid - left')
    """
    bare = text.lstrip(" \u00a0\u3000")
    return f"'{text}" if bare[:1] and bare[0] in _FORMULA else text


def _money(value: Fraction | None) -> int | float | None:
    if value is None:
        return None
    rounded = round(value, 6)
    return int(rounded) if rounded.denominator == 1 else float(rounded)


def _csv_bytes(columns: Sequence[str], rows: Sequence[Sequence[str | int | float | None]]) -> bytes:
    """Return a list as RFC 4180 has it, UTF-8 with a byte order mark so that spreadsheets see the letters."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_cell(value) for value in row])
    return text.getvalue().encode("utf-8-sig")


def _cell(value: str | int | float | None) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return safe_cell(value)
    return decimal_text(value)
