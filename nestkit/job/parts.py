"""All parts of a job, panels and tubes, of the job file and of its spreadsheets; what they must not share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from nestkit.job.entry import Entry
from nestkit.job.matching import Asked
from nestkit.job.panels import read_panel
from nestkit.job.schema import LATER
from nestkit.job.shown import shown
from nestkit.job.spreadsheets import read_imports
from nestkit.job.tubes import TubeRead, read_tube
from nestkit.job.twins import note_unmatched
from nestkit.job.values import MOST_PIECES
from nestkit.parts.copies import Copies
from nestkit.parts.tube import Tube


@dataclass(frozen=True, slots=True)
class PartsRead:
    """The panels of a job, still to be matched with stock, and its tubes."""

    panels: tuple[Asked, ...]
    tubes: tuple[Tube, ...]


def read_parts(top: Entry, folder: Path, fold: float | None) -> PartsRead:
    """Return all parts, of the job file first, then of its spreadsheets; names and pieces are checked.

    ``fold`` is what the paper of a template adds at a corner, None where the rules decide.
    """
    panels: list[Asked] = []
    tubes: list[TubeRead] = []
    names: set[str] = set()
    before, twice = len(top.notes), 0
    for entry in _entries(top, folder):
        if _is_tube(entry):
            tubes.append(read_tube(entry, fold))
        else:
            panel = read_panel(entry)
            if panel is not None:
                panels.append(Asked(panel, entry.path, entry.place, entry.in_file))
        name = entry.data.get("name")
        if isinstance(name, str) and name.strip():
            if name.strip() in names:
                entry.wrong("name", f"two parts are called {shown(name.strip())}", "Give each its own name")
                twice += 1
            names.add(name.strip())
    note_unmatched(tubes)
    read = PartsRead(tuple(panels), tuple(t.tube for t in tubes if t.tube is not None))
    # A part that could not be read may be the one that is to be made.
    _check_counts(top, read, all_read=len(top.notes) == before + twice)
    return read


def _entries(top: Entry, folder: Path) -> Iterator[Entry]:
    yield from top.children("panel", "panel")
    yield from top.children("tube", "tube")
    yield from read_imports(top, folder)


def _is_tube(entry: Entry) -> bool:
    """Say whether a table is a tube; of a row of a spreadsheet its section says so, or a length alone."""
    if entry.level != "row of a spreadsheet":
        return entry.level == "tube"
    flat = any(key in entry for key in ("thickness", "width", "height", "disc"))
    return "section" in entry or ("length" in entry and not flat)


def _check_counts(top: Entry, read: PartsRead, *, all_read: bool) -> None:
    """Note a job that makes nothing, or more than a job may."""
    parts: list[Copies] = [*(asked.panel for asked in read.panels), *read.tubes]
    if all_read and not any(part.needed for part in parts) and not any(key in top for key in LATER):
        _note_nothing(top, parts)
    key = "panel" if read.panels or not read.tubes else "tube"
    pieces = sum(part.needed + part.spare_if_room for part in parts)
    if pieces > MOST_PIECES:
        text = f"{pieces:,} pieces are more than a job may have"
        top.notes.add((key,), key, text, f"Make at most {MOST_PIECES:,} in one job")
    if top.notes.holes > MOST_PIECES:
        text = f"{top.notes.holes:,} holes are more than a job may have"
        top.notes.add((key,), key, text, f"Write at most {MOST_PIECES:,} in one job")


def _note_nothing(top: Entry, parts: list[Copies]) -> None:
    """Note that a job makes nothing: copies that are laid only if there is room lie beside others."""
    if not parts:
        top.notes.add((), "job file", "there is nothing to make", "Add a [[panel]] or a [[tube]]")
        return
    key = next((key for key in ("panel", "tube") if key in top), "import")
    text = "there is nothing to make: quantity, opposite_hand and spare are 0 in every part"
    top.notes.add((key,), key, text, "Give a part that is to be made its quantity")
