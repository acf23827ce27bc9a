"""From a job file to a job, or to every mistake in it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal, InvalidOperation
from pathlib import Path

from nestkit.errors import JobError, Mistake
from nestkit.job.cutting import read_ways
from nestkit.job.entry import Entry, Notes
from nestkit.job.lines import key_lines
from nestkit.job.matching import Asked, groups_of
from nestkit.job.model import Group, Job
from nestkit.job.panels import read_panel
from nestkit.job.schema import LATER
from nestkit.job.settings import read_date, read_dxf, read_marking, read_name, read_printing, read_unit
from nestkit.job.sheets import read_sheets
from nestkit.job.shown import shown
from nestkit.job.slips import slip
from nestkit.job.spreadsheets import read_imports
from nestkit.job.text import decoded, file_bytes
from nestkit.job.values import MOST_PIECES
from nestkit.parts.panel import Panel


def read_job(path: Path) -> Job:
    """Return the job that a file describes, everything resolved, in millimetres.

    Raises :class:`~nestkit.errors.JobError` with all mistakes in file order, and
    :class:`~nestkit.errors.UserError` when the file cannot be read at all.
    """
    text = decoded(file_bytes(path), "job file")
    if isinstance(text, Mistake):
        raise JobError((text,))
    return read_text(text, path.parent)


def read_text(text: str, folder: Path) -> Job:
    """Return the job that a text describes; spreadsheets are looked for in ``folder``.

    Raises :class:`~nestkit.errors.JobError` with all mistakes.
    """
    text = text.replace("\r\n", "\n")
    try:
        data = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as fault:
        raise JobError((slip(text, str(fault)),)) from None
    except (ValueError, InvalidOperation, RecursionError) as fault:
        # A number of thousands of digits, or lists in lists without end: TOML, but no job.
        mistake = Mistake(
            "job file", f"a value cannot be read ({type(fault).__name__})", "Write it plainly", None
        )
        raise JobError((mistake,)) from None
    notes = Notes(key_lines(text))
    job = _job(Entry(notes, data, (), "", "top"), notes, folder)
    mistakes = notes.mistakes()
    if mistakes:
        raise JobError(mistakes)
    return job


def _job(top: Entry, notes: Notes, folder: Path) -> Job:
    unit = read_unit(top)
    notes.unit = unit
    name, date = read_name(top), read_date(top)
    for key in LATER:
        if key in top:
            notes.add((key,), f"[[{key}]]", "not available in this version", "Take it out for now")
    ways = read_ways(top)
    printing, marking, dxf = read_printing(top), read_marking(top), read_dxf(top)
    sheets = read_sheets(top, ways)
    asked = _asked(top, folder)
    groups = groups_of(asked, sheets, ways, notes)
    return Job(
        name=name,
        unit=unit,
        date=date,
        ways=tuple(way for way in ways.values() if way is not None),
        printing=printing,
        dxf=dxf,
        marking_to=marking,
        sheets=sheets,
        panels=_in_order(asked, groups),
        groups=groups,
    )


def _asked(top: Entry, folder: Path) -> list[Asked]:
    """Return all panels, of the job file first, then of its spreadsheets; names and pieces are checked."""
    found: list[Asked] = []
    names: set[str] = set()
    for entry in _entries(top, folder):
        panel = read_panel(entry)
        name = entry.data.get("name")
        if isinstance(name, str) and name.strip():
            if name.strip() in names:
                entry.wrong("name", f"two parts are called {shown(name.strip())}", "Give each its own name")
            names.add(name.strip())
        if panel is not None:
            found.append(Asked(panel, entry.path, entry.place, entry.in_file))
    if not names and "panel" not in top and "import" not in top:
        top.notes.add((), "job file", "there is nothing to make", "Add a [[panel]]")
    pieces = sum(a.panel.needed + a.panel.spare_if_room for a in found)
    if pieces > MOST_PIECES:
        text = f"{pieces:,} pieces are more than a job may have"
        top.notes.add(("panel",), "panel", text, f"Make at most {MOST_PIECES:,} in one job")
    if top.notes.holes > MOST_PIECES:
        text = f"{top.notes.holes:,} holes are more than a job may have"
        top.notes.add(("panel",), "panel", text, f"Write at most {MOST_PIECES:,} in one job")
    return found


def _entries(top: Entry, folder: Path) -> Iterator[Entry]:
    yield from top.children("panel", "panel")
    yield from read_imports(top, folder)


def _in_order(asked: list[Asked], groups: tuple[Group, ...]) -> tuple[Panel, ...]:
    """Return the panels in the order as read, each with the thickness that it was matched to."""
    real = {p.name: p for g in groups for p in g.panels}
    return tuple(replace(real.get(a.panel.name, a.panel)) for a in asked)
