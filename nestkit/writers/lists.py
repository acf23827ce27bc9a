"""buy.csv and parts.csv: lists that open in any spreadsheet, where no cell can become a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from nestkit.estimate.bars import BarRow
from nestkit.estimate.estimate import BoughtRow, Estimate, StockRow
from nestkit.job.model import Job
from nestkit.layout.bars.result import PlacedTube, UnplacedTube
from nestkit.layout.result import JobLayout, PlacedPart, Unplaced
from nestkit.stock.section import section_text
from nestkit.units import MM_PER_INCH, Unit, decimal_text
from nestkit.writers.plan import sheet_files, stick_files

BUY_COLUMNS = ("stock", "material", "thickness", "size", "buy", "on_hand", "price", "cost")
PARTS_COLUMNS = ("part", "copy", "hand", "for", "material", "thickness", "sheet", "x", "y", "turn")

Row = list[str | int | float | None]
_Copy = PlacedPart | Unplaced | PlacedTube | UnplacedTube

_FORMULA = "=+-@\t\r\n＝＋－＠"
"""A cell that begins with one of these, also after blanks, may be taken for a formula."""


def buy_rows(job: Job, estimate: Estimate) -> list[dict[str, Any]]:
    """Return the rows of the buy list by their columns; lengths as decimal text in the job's unit."""
    return [dict(zip(BUY_COLUMNS, row, strict=True)) for row in _buy_list(job, estimate)]


def buy_csv(job: Job, estimate: Estimate) -> bytes:
    """Return buy.csv: a row for each stock that is bought or is on hand, then the bought-in parts."""
    return csv_bytes(BUY_COLUMNS, _buy_list(job, estimate))


def _buy_list(job: Job, estimate: Estimate) -> list[Row]:
    sheets = [_sheet_to_buy(row, job.unit) for row in estimate.rows]
    bars = [_bar_to_buy(row, job.unit) for row in estimate.bar_rows]
    return sheets + bars + [_bought_to_buy(row, job.unit) for row in estimate.bought]


def parts_csv(job: Job, layout: JobLayout) -> bytes:
    """Return parts.csv: a row for each copy, by what it is for, then in the job's order, panels first.

    A copy without a place has no sheet or stick, and no place on it.
    """
    rows: list[tuple[_Copy, Row]] = []
    for _, sheet, stem in sheet_files(job, layout):
        rows += [(p, [*_about_panel(p, job.unit), stem, *_at(p, job.unit)]) for p in sheet.parts]
    for _, stick, stem in stick_files(job, layout):
        rows += [(p, [*_about_tube(p, job.unit), stem, length_cell(p.start, job.unit), None, None])
                 for p in stick.parts]  # fmt: skip
    nowhere: Row = [None, None, None, None]
    for laid in layout.groups:
        rows += [(u, [*_about_panel(u, job.unit), *nowhere]) for u in laid.unplaced]
    for cut in layout.bars:
        rows += [(u, [*_about_tube(u, job.unit), *nowhere]) for u in cut.unplaced]
    order = {part.name: i for i, part in enumerate(job.parts)}

    def place(row: tuple[_Copy, Row]) -> tuple[bool, str, int, bool, int]:
        copy = row[0]
        part = copy.panel if isinstance(copy, PlacedPart | Unplaced) else copy.tube
        return not part.used_for, part.used_for, order[part.name], _is_opposite(copy), copy.copy

    return csv_bytes(PARTS_COLUMNS, [row for _, row in sorted(rows, key=place)])


def _sheet_to_buy(row: StockRow, unit: Unit) -> Row:
    stock = row.stock
    size = f"{length_cell(stock.width, unit)} x {length_cell(stock.height, unit)}"
    name, thickness = stock.name, length_cell(stock.thickness, unit)
    counts = (row.buy, row.on_hand)
    return [name, stock.material, thickness, size, *counts, _money(row.price), _money(row.cost)]


def _bar_to_buy(row: BarRow, unit: Unit) -> Row:
    bar = row.stock
    section, length = section_text(bar.section, unit), length_cell(bar.length, unit)
    counts = (row.buy, row.on_hand)
    return [bar.name, bar.material, section, length, *counts, _money(row.price), _money(row.cost)]


def _bought_to_buy(row: BoughtRow, unit: Unit) -> Row:
    part = row.part
    thickness = None if part.thickness is None else length_cell(part.thickness, unit)
    return [part.name, part.material, thickness, None, row.buy, 0, _money(part.price), _money(row.cost)]


def _about_panel(copy: PlacedPart | Unplaced, unit: Unit) -> Row:
    panel = copy.panel
    hand = _hand(panel.either_hand, _is_opposite(copy))
    return [panel.name, copy.copy, hand, panel.used_for, panel.material, length_cell(panel.thickness, unit)]


def _about_tube(copy: PlacedTube | UnplacedTube, unit: Unit) -> Row:
    tube = copy.tube
    hand = _hand(tube.either_hand, copy.opposite_hand)
    return [tube.name, copy.copy, hand, tube.used_for, tube.material, section_text(tube.section, unit)]


def _is_opposite(copy: _Copy) -> bool:
    """Say whether a copy is the opposite hand, and not only turned over."""
    return copy.opposite_hand and not (isinstance(copy, PlacedPart) and copy.turned_over)


def _hand(either: bool, opposite: bool) -> str:
    return "either" if either else "opposite" if opposite else "as drawn"


def _at(part: PlacedPart, unit: Unit) -> Row:
    return [length_cell(part.x, unit), length_cell(part.y, unit), decimal_text(part.turn % 360, 9)]


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


def csv_bytes(columns: Sequence[str], rows: Sequence[Sequence[str | int | float | None]]) -> bytes:
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
