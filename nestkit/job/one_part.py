"""One part or stock of a job read by itself: only it, and what it needs of the rest, so that it is quick."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Literal

from nestkit.errors import Mistake
from nestkit.job.bar_matching import bar_groups_of
from nestkit.job.bars import read_bars
from nestkit.job.bought import read_bought
from nestkit.job.cutting import read_ways
from nestkit.job.entry import Entry, Notes
from nestkit.job.matching import Asked, groups_of
from nestkit.job.model import DxfOptions, Job
from nestkit.job.panels import read_panel
from nestkit.job.settings import read_marking, read_printing, read_unit
from nestkit.job.sheets import read_sheets
from nestkit.job.tubes import read_tube
from nestkit.parts.bought import Bought
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Way

PartKind = Literal["panel", "tube", "bought", "sheet", "bar"]

_UNKNOWN = Way("", "saw", Fraction(0))
"""Stands for a way of cutting that has a mistake, which is not this part's."""


@dataclass(frozen=True, slots=True)
class OnePart:
    """A part or stock read by itself, None where it cannot be, in a job that has nothing else.

    The job has no joints: what a part owes to them is not known here. ``mistakes`` are its own alone.
    """

    job: Job
    part: Panel | Tube | Bought | Sheet | Bar | None
    mistakes: tuple[Mistake, ...]


def read_one_part(
    head: Mapping[str, object], item: Mapping[str, object], kind: PartKind, index: int, folder: Path
) -> OnePart:
    """Return one part of a job: ``item`` is its table, the one at ``index`` of its kind in the job file.

    ``head`` is the job without its parts; what is wrong there is not told. Outline files are looked for in
    ``folder``.
    """
    top = Entry(Notes({}), _known(head), (), "", "top")
    unit = read_unit(top)
    top.notes.unit = unit
    ways = read_ways(top)
    usual = ways.get("") or _UNKNOWN
    ways = {name: way or usual for name, way in ways.items()}
    printing, marking = read_printing(top), read_marking(top)
    own = Notes({}, unit)
    alone = Entry(own, {kind: [item]}, (), "", "top")
    sheets = read_sheets(alone if kind == "sheet" else top, ways)
    bars = read_bars(alone if kind == "bar" else top, ways)
    job = Job(
        "", unit, None, tuple(w for w in ways.values() if w), printing, DxfOptions(), marking, sheets, (), ()
    )
    job = replace(job, bars=bars)
    part: Panel | Tube | Bought | Sheet | Bar | None = None
    if kind == "sheet":
        part = next(iter(sheets), None)
    elif kind == "bar":
        part = next(iter(bars), None)
    else:
        job, part = _made(job, next(alone.children(kind, kind)), folder, ways)
    return OnePart(job, part, tuple(_at(mistake, kind, index) for mistake in own.mistakes()))


def _known(head: Mapping[str, object]) -> dict[str, object]:
    """Return what parts need of the rest of a job."""
    return {
        key: head[key] for key in ("unit", "cutting", "printing", "marking", "sheet", "bar") if key in head
    }


def _made(
    job: Job, entry: Entry, folder: Path, ways: Mapping[str, Way | None]
) -> tuple[Job, Panel | Tube | Bought | None]:
    if entry.level == "bought":
        bought = read_bought(entry)
        return replace(job, bought=(bought,) if bought else ()), bought
    if entry.level == "tube":
        tube = read_tube(entry, job.printing.fold).tube
        if tube is None:
            return job, None
        groups = bar_groups_of((tube,), job.bars, ways)
        return replace(job, tubes=(tube,), bar_groups=groups), tube
    panel = read_panel(entry, folder)
    if panel is None:
        return job, None
    before = len(entry.notes)
    found = groups_of((Asked(panel, entry.path, entry.place, True),), job.sheets, ways, entry.notes)
    panel = next((p for group in found for p in group.panels), panel)
    whole = replace(job, panels=(panel,), groups=found)
    return whole, panel if len(entry.notes) == before else None


def _at(mistake: Mistake, kind: str, index: int) -> Mistake:
    """Return a mistake with the place that its part has in the whole job."""
    path = (kind, index, *mistake.path[2:]) if mistake.path[:1] == (kind,) else mistake.path
    place = mistake.place
    if place == f"{kind} 1" or place.startswith(f"{kind} 1,"):
        # A part without a name is told by its number.
        place = f"{kind} {index + 1}{place[len(kind) + 2 :]}"
    return replace(mistake, path=path, place=place)
