"""From a job file to a job, or to every mistake in it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from nestkit.errors import JobError, Mistake
from nestkit.job.bar_matching import bar_groups_of
from nestkit.job.bars import read_bars
from nestkit.job.cutting import read_ways
from nestkit.job.entry import Entry, Notes
from nestkit.job.fitting import read_fitting, read_shop_drills
from nestkit.job.holds import with_holds
from nestkit.job.joints import read_joints
from nestkit.job.labels import read_labels
from nestkit.job.lines import key_lines
from nestkit.job.matching import Asked, groups_of
from nestkit.job.model import Group, Job
from nestkit.job.named import named_parts
from nestkit.job.parts import read_parts
from nestkit.job.settings import read_date, read_dxf, read_marking, read_name, read_printing, read_unit
from nestkit.job.sheets import read_sheets
from nestkit.job.text import file_bytes, job_text
from nestkit.parts.panel import Panel


def read_job(path: Path) -> Job:
    """Return the job that a file describes, everything resolved, in millimetres.

    Raises :class:`~nestkit.errors.JobError` with all mistakes in file order, and
    :class:`~nestkit.errors.UserError` when the file cannot be read at all.
    """
    return read_text(job_text(file_bytes(path)), path.parent)


def read_text(text: str, folder: Path) -> Job:
    """Return the job that a text describes; spreadsheets are looked for in ``folder``.

    Raises :class:`~nestkit.errors.JobError` with all mistakes.
    """
    return _read(toml_data(text), Notes(key_lines(text.replace("\r\n", "\n"))), folder)


def read_data(data: Mapping[str, object], folder: Path) -> Job:
    """Return the job that a tree of plain values describes: what a job file holds, keys as written there.

    Numbers are whole numbers and decimals, dates may be their text. Mistakes have a path and no line. Files
    are looked for in ``folder``. Raises :class:`~nestkit.errors.JobError` with all mistakes.
    """
    return _read(data, Notes({}), folder)


def toml_data(text: str) -> dict[str, Any]:
    """Return what a text of TOML holds, decimals exactly as written.

    Raises :class:`~nestkit.errors.JobError` with the one mistake for which it is no TOML.
    """
    text = text.replace("\r\n", "\n")
    try:
        return tomllib.loads(text, parse_float=_decimal)
    except tomllib.TOMLDecodeError as fault:
        # Its many patterns are needed only for a file that is not TOML.
        from nestkit.job.slips import slip

        raise JobError((slip(text, str(fault)),)) from None
    except ValueError:
        # The only other one that the TOML reader lets through: a whole number of thousands of digits.
        raise JobError((_endless_number(text),)) from None
    except RecursionError:
        mistake = Mistake("job file", "lists stand in lists without end", "Write points as [[x, y], ...]")
        raise JobError((mistake,)) from None


def _read(data: Mapping[str, object], notes: Notes, folder: Path) -> Job:
    job = _job(Entry(notes, data, (), "", "top"), notes, folder)
    mistakes = notes.mistakes()
    if mistakes:
        raise JobError(mistakes)
    return job


def _decimal(text: str) -> Decimal:
    """Return a decimal exactly as written; one beyond all bounds is infinite, and refused where it stands."""
    try:
        return Decimal(text)
    except InvalidOperation:
        return Decimal("Infinity")


def _endless_number(text: str) -> Mistake:
    found = re.search(r"[0-9_]{1000}", text)
    line = text.count("\n", 0, found.start()) + 1 if found else None
    return Mistake("job file", "a number has thousands of digits", "Write a length in the job's unit", line)


def _job(top: Entry, notes: Notes, folder: Path) -> Job:
    unit = read_unit(top)
    notes.unit = unit
    name, date = read_name(top), read_date(top)
    ways = read_ways(top)
    before = len(notes)
    printing = read_printing(top)
    # Labels are not blamed for not fitting a paper or a scale that is wrong itself.
    labels = read_labels(top, printing if len(notes) == before else None)
    marking, dxf = read_marking(top), read_dxf(top)
    sheets, bars = read_sheets(top, ways), read_bars(top, ways)
    parts = read_parts(top, folder, printing.fold)
    groups = groups_of(parts.panels, sheets, ways, notes)
    named = named_parts(top, parts.entries, all_there=parts.all_there)
    groups = with_holds(top, groups, named, sheets)
    return Job(
        name=name,
        unit=unit,
        date=date,
        ways=tuple(way for way in ways.values() if way is not None),
        printing=printing,
        dxf=dxf,
        marking_to=marking,
        sheets=sheets,
        panels=_in_order(parts.panels, groups),
        groups=groups,
        labels=labels,
        bars=bars,
        tubes=parts.tubes,
        bar_groups=bar_groups_of(parts.tubes, bars, ways),
        bought=parts.bought,
        joints=read_joints(top, parts.entries, all_there=parts.all_there),
        fitting=read_fitting(top),
        shop_drills=read_shop_drills(top),
    )


def _in_order(asked: Sequence[Asked], groups: tuple[Group, ...]) -> tuple[Panel, ...]:
    """Return the panels in the order as read, each as its group has it."""
    real = {p.name: p for g in groups for p in g.panels}
    return tuple(real.get(a.panel.name, a.panel) for a in asked)
