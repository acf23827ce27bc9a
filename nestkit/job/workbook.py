"""The cells of an XLSX workbook."""

from __future__ import annotations

import datetime
import io
import re
import warnings
import zipfile
from collections.abc import Iterator
from decimal import Decimal
from typing import Any
from xml.etree.ElementTree import ParseError

from nestkit.job.cells import MOST_COLUMNS, MOST_ROWS, Cell, CellFault, date_fault, text_cell

MOST_UNPACKED = 100_000_000
"""Bytes of a workbook when unpacked at most."""

_OLD_FORMAT = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How files of the older container begin: old workbooks, and new ones with a password."""

_MERGED = re.compile(rb"<(?:\w+:)?mergeCell\s[^>]*?ref=[\"']([A-Z0-9:]+)")
_UNREADABLE = (
    zipfile.BadZipFile, KeyError, ValueError, IndexError, TypeError, AttributeError, ParseError, OSError,
    EOFError,
)  # fmt: skip
"""What the workbook reader raises on files that are damaged in one way or another."""


_TOO_LARGE = CellFault(
    f"it has more than {MOST_ROWS:,} rows or {MOST_COLUMNS} columns", "Keep only the list of parts in it"
)


def workbook_rows(data: bytes) -> list[tuple[int, tuple[Cell, ...]]]:
    """Return the number and cells of each row of a workbook's only sheet that holds something.

    Raises :class:`CellFault` when the workbook cannot be read, or when it leaves open what is meant.
    """
    _check(data)
    import openpyxl
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        with warnings.catch_warnings():
            # It warns of styles and extensions that it does not read; neither holds a cell's value.
            warnings.simplefilter("ignore")
            # Once for what formulas have come to, once to tell formulas from values.
            book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
            written = openpyxl.load_workbook(io.BytesIO(data), read_only=True)
            return _rows(data, book, written)
    except (InvalidFileException, *_UNREADABLE) as fault:
        raise CellFault("the workbook cannot be read", "Open it and save it once more as .xlsx") from fault


def _rows(data: bytes, book: Any, written: Any) -> list[tuple[int, tuple[Cell, ...]]]:
    if not book.worksheets:
        raise CellFault("the workbook has no sheet with cells", "Put the parts on its first sheet")
    first, *others = book.worksheets
    for sheet in others:
        if any(value is not None for row in _values(sheet) for value in row):
            raise CellFault(
                f"it has a second sheet with cells in it, {sheet.title[:40]!r}",
                "Keep the list of parts in a workbook of its own",
            )
    merged = _MERGED.search(_part_of(data, first))
    if merged:
        where = merged[1].decode("ascii")
        raise CellFault(f"cells {where} are merged", "Undo the merging: each part needs its own row")
    rows = []
    both = zip(_values(first), _values(written.worksheets[0]), strict=True)
    for number, (values, formulas) in enumerate(both, 1):
        cells = tuple(_cell(v, f) for v, f in zip(values, formulas, strict=True))
        if any(cell is not None for cell in cells):
            rows.append((number, cells))
    return rows


def _part_of(data: bytes, sheet: Any) -> bytes:
    """Return a sheet as it lies in the archive: read row by row, it does not tell of merged cells."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return archive.read(sheet._worksheet_path)


def _values(sheet: Any) -> Iterator[tuple[object, ...]]:
    """Yield the values of each row as far as it is written, whatever size the sheet claims to have."""
    sheet.reset_dimensions()
    for number, row in enumerate(sheet.iter_rows(values_only=True), 1):
        cells = row
        while cells and cells[-1] is None:
            cells = cells[:-1]
        if cells and (number > MOST_ROWS or len(cells) > MOST_COLUMNS):
            raise _TOO_LARGE
        yield tuple(row[:MOST_COLUMNS])


def _check(data: bytes) -> None:
    """Raise :class:`CellFault` for what is no workbook, or would unpack to too much."""
    if data.startswith(_OLD_FORMAT):
        raise CellFault(
            "an older workbook, or one with a password", "Save it as .xlsx without a password, or as CSV"
        )
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            # The archive's directory tells the unpacked sizes, and no part is unpacked beyond what it tells.
            if sum(info.file_size for info in archive.infolist()) > MOST_UNPACKED:
                raise CellFault("it unpacks to more than 100 MB", "Keep only the list of parts in it")
            if any(info.flag_bits & 1 for info in archive.infolist()):
                raise CellFault("it has a password", "Save it as .xlsx without a password, or as CSV")
            if "[Content_Types].xml" not in archive.namelist():
                raise CellFault("this is no .xlsx workbook", "Open it and save it as .xlsx or .csv")
    except (zipfile.BadZipFile, NotImplementedError, OSError, EOFError, ValueError) as fault:
        raise CellFault("this is no .xlsx workbook", "Open it and save it as .xlsx or .csv") from fault


def _cell(value: object, written: object) -> Cell:
    """Return a cell's value, or the fault that keeps it from being one."""
    if value is None:
        if written is not None:
            remedy = "Open the workbook, let it calculate, save it; or write the value itself"
            return CellFault("a formula without a value", remedy)
        return None
    if isinstance(value, bool | int):
        return value
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, datetime.date | datetime.time | datetime.timedelta):
        said = value if isinstance(value, datetime.timedelta) else value.isoformat()
        return date_fault(str(said))
    return text_cell(str(value))


def _number(value: float) -> Decimal | CellFault:
    """Return a number as the 15 digits that the spreadsheet itself shows at most."""
    if value != value or value in (float("inf"), float("-inf")):
        return CellFault("not a number", "Write the value itself")
    return Decimal(f"{value:.15g}")
