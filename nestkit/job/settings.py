"""What stands once in a job: its name, unit and date, and how it is printed and written."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, cast

from nestkit.job.entry import Entry
from nestkit.job.model import DxfOptions, Paper, Printing
from nestkit.job.shown import shown
from nestkit.job.values import choice, flag, length, number, pair, text
from nestkit.trade.papers import UnknownPaper, paper
from nestkit.units import MM_PER_INCH, Unit, decimal_text, length_text

LONGEST_JOB_NAME = 120

_SCALE = Fraction(9, 10), Fraction(11, 10)
_LONGEST_PAPER = Fraction(5000)
_THICKEST_FOLD = Fraction(2)
_FINEST, _COARSEST = Fraction(1, 100), MM_PER_INCH


@dataclass(frozen=True, slots=True)
class LeastPaper:
    """The smallest paper that will do, its sides in mm, and what a mistake says of smaller ones."""

    short: Fraction
    long: Fraction
    why: str


LEAST_PRINT = LeastPaper(
    Fraction(139),
    Fraction(210),
    ": on less than half a letter or A5 the pictures of sheets and the tables cannot be read",
)
"""For prints: tests hold them against it."""
LEAST_LABELS = LeastPaper(Fraction(100), Fraction(100), "")
"""For sheets of labels, which come smaller."""


def read_unit(top: Entry) -> Unit:
    """Return the job's unit; where it is missing or wrong, mm, so that reading can go on."""
    return cast(Unit, choice(top, "unit", ("in", "mm")) or "mm")


def read_name(top: Entry) -> str:
    """Return the job's name."""
    return text(top, "job", required=True, longest=LONGEST_JOB_NAME) or ""


def read_date(top: Entry) -> datetime.date | None:
    """Return the job's date, a TOML date or its text."""
    value = top.data.get("date")
    if value is None:
        return None
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value
    if isinstance(value, str) and re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value.strip()):
        try:
            return datetime.date.fromisoformat(value.strip())
        except ValueError:
            top.wrong("date", f"the calendar has no {shown(value)}", "Write a day such as 2026-03-01")
            return None
    wanted = "a day without a time" if isinstance(value, datetime.datetime) else "a day"
    top.wrong("date", f"{wanted} is wanted, not {shown(value)}", "Write it as 2026-03-01")
    return None


def read_printing(top: Entry) -> Printing:
    """Return paper, the printer's scale, whether large templates take all their pages, what a fold takes."""
    usual = known_paper("letter" if top.notes.unit == "in" else "A4")
    entry = top.child("printing", "printing", named=True)
    if entry is None:
        return Printing(usual)
    remedy = "Write measured / nominal, a number from 0.9 to 1.1 such as 0.998"
    x, y = (
        number(entry, k, 1, least=_SCALE[0], most=_SCALE[1], remedy=remedy) for k in ("scale_x", "scale_y")
    )
    pages = choice(entry, "pages", ("needed", "all"), "needed")
    paper = read_paper(entry, LEAST_PRINT) or usual
    fold = _fold(entry)
    return Printing(paper, float(x or 1), float(y or 1), all_pages=pages == "all", fold=fold)


def _fold(entry: Entry) -> float | None:
    """Return what the paper adds at each corner that it is folded over; None leaves that to the rules."""
    fold = length(entry, "fold", "amount")
    if fold is None:
        return None
    if fold > _THICKEST_FOLD:
        entry.wrong("fold", f"{shown(entry.data['fold'])} is more than any paper takes", "Write 0 to 2 mm")
    return float(fold)


def read_paper(entry: Entry, least: LeastPaper = LEAST_LABELS) -> Paper | None:
    """Return the paper that a table names, by its name or its size; None where it names none that will do."""
    found = _named_paper(entry) if "paper" in entry else None
    if found is None:
        return None
    too_small = found.short < least.short or (found.long is not None and found.long < least.long)
    if too_small or (found.long is not None and found.long > _LONGEST_PAPER):
        why = least.why if too_small else ""
        short, long = decimal_text(least.short), decimal_text(least.long)
        wanted = f"{short} x {long} mm or more, 5 m a side at most"
        if found.long is None:
            wanted = f"a roll {short} mm wide or wider"
        entry.wrong("paper", f"{shown(entry.data['paper'])} is none to print on{why}", f"Write {wanted}")
        return None
    return found


def _named_paper(entry: Entry) -> Paper | None:
    if isinstance(entry.data["paper"], list):
        size = pair(entry, "paper")
        if size is None:
            return None
        short, long = sorted(size)
        unit = entry.notes.unit
        name = f"{length_text(short, unit)} x {length_text(long, unit)} {unit}"
        return Paper(name, float(short), float(long))
    name = text(entry, "paper") or ""
    if not name:
        return None
    try:
        return known_paper(name)
    except UnknownPaper as fault:
        reason, _, remedy = str(fault).partition("; ")
        entry.wrong("paper", reason, remedy[:1].upper() + remedy[1:])
        return None


def known_paper(name: str) -> Paper:
    """Return a paper of the table. Raises ``UnknownPaper`` with the names it has."""
    row = paper(name)
    return Paper(row.name, float(row.short), None if row.long is None else float(row.long))


def read_marking(top: Entry) -> Fraction:
    """Return the step of marking-out tables in mm: 1/32 in or 0.5 mm where the job does not say."""
    usual = MM_PER_INCH / 32 if top.notes.unit == "in" else Fraction(1, 2)
    entry = top.child("marking", "marking", named=True)
    if entry is None or "to" not in entry:
        return usual
    step = length(entry, "to", "amount")
    if step is None:
        return usual
    if not _FINEST <= step <= _COARSEST:
        entry.wrong("to", f"{shown(entry.data['to'])} is out of range", "Write a step from 0.01 mm to 1 in")
    return step


def read_dxf(top: Entry) -> DxfOptions:
    """Return how DXF files are written."""
    entry = top.child("dxf", "dxf", named=True)
    if entry is None:
        return DxfOptions()
    versions: tuple[Literal["R2010", "R2000", "R12"], ...] = ("R2010", "R2000", "R12")
    version = choice(entry, "version", versions, "R2010")
    return DxfOptions(version or "R2010", flag(entry, "single_layer", False))
