"""Parts from a spreadsheet: one row a part, headings are keys of a panel or, with a section, of a tube."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from nestkit.errors import Mistake, UserError
from nestkit.job.beside import file_beside
from nestkit.job.cells import (
    MOST_COLUMNS,
    MOST_ROWS,
    Cell,
    CellFault,
    date_fault,
    text_cell,
)
from nestkit.job.entry import Entry
from nestkit.job.schema import LEVELS, LevelName, unknown_key
from nestkit.job.shown import escaped, shown
from nestkit.job.text import decoded, file_bytes
from nestkit.job.values import text

COUNTS = frozenset({"quantity", "opposite_hand", "spare", "spare_if_room"})
_ROW: LevelName = "row of a spreadsheet"
_NAMES = frozenset({"name", "for", "material", "revision", "section"})
_LENGTHS = frozenset({"thickness", "width", "height", "disc", "corner_radius", "chamfer", "length"})
# The two signs of a date are alike; 18-3/16 has two and is a length.
_DATE = re.compile(
    r"[0-9]{1,4}([-/.])[0-9]{1,2}\1[0-9]{2,4}|[0-9]{1,2}[- .][A-Za-z]{3,9}|[A-Za-z]{3,9}[- .][0-9]{1,4}"
)


@dataclass(frozen=True, slots=True)
class Row:
    """A row with something in it: its number as the spreadsheet shows it, and its cells."""

    number: int
    cells: tuple[Cell, ...]


def read_imports(top: Entry, folder: Path) -> Iterator[Entry]:
    """Yield one entry a part, for every row of every spreadsheet that the job imports."""
    for entry in top.children("import", "import"):
        name = text(entry, "file", required=True, longest=255)
        if not name:
            continue
        path = file_beside(entry, "file", name, folder, (".csv", ".xlsx"))
        if path is None:
            continue
        rows = _rows(entry, name, path)
        if rows is not None:
            yield from _parts(entry, name, rows)


def _rows(entry: Entry, name: str, path: Path) -> list[Row] | None:
    """Return the rows that hold something, or None where the file cannot be read."""
    try:
        data = file_bytes(path, name)
        if path.suffix.lower() == ".xlsx":
            from nestkit.job.workbook import workbook_rows

            return [Row(number, cells) for number, cells in workbook_rows(data)]
    except CellFault as fault:
        entry.wrong("file", f"{shown(name)}: {fault.reason}", fault.remedy)
        return None
    except UserError as fault:
        reason, _, remedy = str(fault).partition("; ")
        entry.wrong("file", reason, remedy[:1].upper() + remedy[1:])
        return None
    plain = decoded(data, name)
    if isinstance(plain, Mistake):
        entry.wrong("file", f"{shown(name)}: {plain.text}", plain.remedy)
        return None
    return _csv_rows(entry, name, plain)


def _csv_rows(entry: Entry, name: str, plain: str) -> list[Row] | None:
    """Return the rows of a CSV text; its separator is told by the first line."""
    if "\0" in plain:
        entry.wrong("file", f"{shown(name)} is not text", "Save the spreadsheet as CSV once more")
        return None
    head = plain.split("\n", 1)[0]
    separator = max(";\t,", key=lambda s: (head.count(s), s == ","))
    reader = csv.reader(io.StringIO(plain, newline=""), delimiter=separator, strict=True)
    rows = []
    try:
        for number, texts in enumerate(reader, 1):
            cells = tuple(text_cell(t) for t in texts)
            if any(cell is not None for cell in cells):
                rows.append(Row(number, cells))
    except csv.Error as fault:
        entry.wrong(
            "file", f"{shown(name)}, line {reader.line_num}: {fault}", "Save the spreadsheet once more"
        )
        return None
    return rows


def _parts(entry: Entry, name: str, rows: list[Row]) -> Iterator[Entry]:
    if not rows:
        entry.wrong("file", f"{shown(name)} is empty", "Write headings in the first row, then one row a part")
        return
    if len(rows) > MOST_ROWS or max(len(r.cells) for r in rows) > MOST_COLUMNS:
        entry.wrong(
            "file", f"{shown(name)} is too large", f"Keep {MOST_ROWS:,} rows and {MOST_COLUMNS} columns"
        )
        return
    headings = _headings(entry, name, rows[0])
    if headings is None:
        return
    meant = _known(entry, f"{name}, row {rows[0].number}", headings)
    if len(rows) == 1:
        entry.wrong("file", f"{shown(name)} has headings but no parts", "Write one row a part below them")
    for row in rows[1:]:
        part = _part(entry, name, headings, row, meant)
        if part is not None:
            yield part


def _headings(entry: Entry, name: str, row: Row) -> list[str] | None:
    """Return the headings as keys; the first must be name, and none may come twice."""
    keys = [re.sub(r"[\s-]+", "_", str(c).strip().lower()) if c is not None else "" for c in row.cells]
    while keys and not keys[-1]:
        keys.pop()
    place = f"{shown(name)}, row {row.number}"
    if not keys or keys[0] != "name":
        entry.wrong("file", f"{place}: the first column must be headed name", "Put the part's name first")
        return None
    if "" in keys:
        entry.wrong(
            "file", f"{place}: a column without a heading", "Head it with a key of a part, or delete it"
        )
        return None
    twice = next((k for i, k in enumerate(keys) if k in keys[:i]), None)
    if twice:
        entry.wrong("file", f"{place}: two columns are headed {shown(twice)}", "Keep one of them")
        return None
    return keys


def _known(entry: Entry, place: str, headings: list[str]) -> frozenset[str]:
    """Note headings that a part does not have, once for all rows; return the keys that they seem to mean."""
    seem = set()
    for key in headings:
        if key not in LEVELS[_ROW].keys:
            reason, remedy, meant = unknown_key(key, _ROW, frozenset(headings))
            entry.notes.add(entry.path, f"{place}, {escaped(key[:60])}", reason, remedy, in_file=False)
            seem |= {meant} if meant else set()
    return frozenset(seem)


def _part(entry: Entry, name: str, headings: list[str], row: Row, meant: frozenset[str]) -> Entry | None:
    place = f"{name}, row {row.number}"
    data: dict[str, object] = {}
    for i, value in enumerate(row.cells):
        if value is None:
            continue
        key = headings[i] if i < len(headings) else ""
        if not key:
            text_ = f"{shown(value)} stands in a column without a heading"
            entry.notes.add(entry.path, place, text_, "Head the column, or empty the cell", in_file=False)
            return None
        if key in LEVELS[_ROW].keys:
            data[key] = _typed(key, value)
    return Entry(entry.notes, data, entry.path, place, _ROW, in_file=False, meant=meant)


def _typed(key: str, value: object) -> object:
    """Return a cell as the panel's readers take it: counts as whole numbers, names as text."""
    if key in COUNTS and isinstance(value, str | Decimal) and re.fullmatch(r"[0-9]{1,9}", str(value)):
        return int(value)
    if key in _NAMES and isinstance(value, int | Decimal) and not isinstance(value, bool):
        return str(value)
    if key in _LENGTHS and isinstance(value, str) and _DATE.fullmatch(value):
        return date_fault(value)
    return value
