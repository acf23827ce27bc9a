"""The cells of an XLSX workbook's first sheet, each refused where its meaning is not certain."""

from __future__ import annotations

import datetime
import io
import zipfile
from collections.abc import Iterator
from decimal import Decimal
from xml.etree.ElementTree import ParseError

MOST_UNPACKED = 100_000_000
"""Bytes of a workbook when unpacked at most."""

_OLD_FORMAT = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How files of the older container begin: old workbooks, and new ones with a password."""


class CellFault(Exception):
    """What is wrong with a cell or a workbook; yielded in a cell's place, raised for a workbook."""

    def __init__(self, reason: str, remedy: str) -> None:
        self.reason, self.remedy = reason, remedy
        super().__init__(f"{reason}; {remedy}")


Cell = str | int | Decimal | bool | CellFault | None


def workbook_rows(data: bytes) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    """Yield the number and cells of each row of the first sheet.

    Raises :class:`CellFault` when the workbook cannot be read.
    """
    _check(data)
    import openpyxl
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        # Once for what formulas have come to, once to tell formulas from values.
        book = openpyxl.load_workbook(io.BytesIO(data), data_only=True)
        written = openpyxl.load_workbook(io.BytesIO(data))
    except (
        InvalidFileException,
        zipfile.BadZipFile,
        KeyError,
        ValueError,
        ParseError,
        TypeError,
        OSError,
    ) as fault:
        raise CellFault("the workbook cannot be read", "Open it and save it once more as .xlsx") from fault
    if not book.worksheets:
        raise CellFault("the workbook has no sheet with cells", "Put the parts on its first sheet")
    sheet, formulas = book.worksheets[0], written.worksheets[0]
    if sheet.merged_cells.ranges:
        where = sorted(str(r) for r in sheet.merged_cells.ranges)[0]
        raise CellFault(f"cells {where} are merged", "Undo the merging: each part needs its own row")
    for row, raw in zip(sheet.iter_rows(), formulas.iter_rows(), strict=True):
        yield int(row[0].row or 0), tuple(_cell(v.value, f.value) for v, f in zip(row, raw, strict=True))


def _check(data: bytes) -> None:
    """Raise :class:`CellFault` for what is no workbook, or would unpack to too much."""
    if data.startswith(_OLD_FORMAT):
        raise CellFault(
            "an older workbook, or one with a password", "Save it as .xlsx without a password, or as CSV"
        )
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            total = sum(info.file_size for info in archive.infolist())
            if total > MOST_UNPACKED:
                raise CellFault("it unpacks to more than 100 MB", "Keep only the list of parts in it")
            # The sizes in the directory are only claims: unpack under the same limit.
            left = MOST_UNPACKED
            for info in archive.infolist():
                with archive.open(info) as stream:
                    while chunk := stream.read(1 << 20):
                        left -= len(chunk)
                        if left < 0:
                            raise CellFault(
                                "it unpacks to more than 100 MB", "Keep only the list of parts in it"
                            )
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, OSError, EOFError, ValueError) as fault:
        raise CellFault("this is no .xlsx workbook", "Open it and save it as .xlsx or .csv") from fault


def _cell(value: object, written: object) -> Cell:
    """Return a cell's value, or the fault that keeps it from being one."""
    formula = isinstance(written, str) and written.startswith("=")
    if value is None:
        if formula or (written is not None and not isinstance(written, str | int | float)):
            remedy = "Open the workbook, let it calculate, save it; or write the value itself"
            return CellFault("a formula without a value", remedy)
        return None
    if isinstance(value, bool):
        return value
    if isinstance(value, int):
        return value
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, datetime.date | datetime.time | datetime.timedelta):
        remedy = "Format the column as text, then write the fraction again: the spreadsheet made 3/4 a date"
        return CellFault(
            f"a date, {value.isoformat() if not isinstance(value, datetime.timedelta) else value}", remedy
        )
    text = str(value).strip()
    if text.startswith("#") and text.rstrip("!?").isupper() and not text[1:2].isdigit() and len(text) > 2:
        return CellFault(
            f"the cell holds the error {text[:20]}", "Mend the formula, or write the value itself"
        )
    return text or None


def _number(value: float) -> Decimal | CellFault:
    """Return a number as the 15 digits that the spreadsheet itself shows at most."""
    if value != value or value in (float("inf"), float("-inf")):
        return CellFault("not a number", "Write the value itself")
    return Decimal(f"{value:.15g}")
