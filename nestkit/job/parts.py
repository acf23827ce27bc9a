"""All parts of a job, made and bought, of the job file and of its spreadsheets; what they must not share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from nestkit.job.bought import read_bought
from nestkit.job.entry import Entry
from nestkit.job.matching import Asked
from nestkit.job.named import AnyPart
from nestkit.job.panels import read_panel
from nestkit.job.shown import shown
from nestkit.job.spreadsheets import read_imports
from nestkit.job.tubes import TubeRead, read_tube
from nestkit.job.twins import note_unmatched
from nestkit.job.values import MOST_PIECES
from nestkit.parts.bought import Bought
from nestkit.parts.copies import Copies
from nestkit.parts.tube import Tube


@dataclass(frozen=True, slots=True)
class PartsRead:
    """The panels of a job, still to be matched with stock, its tubes, and what it buys ready made.

    ``entries`` are all of them where they were read, None for a part that has a mistake; not ``all_there``
    where a spreadsheet could not be read whole.
    """

    panels: tuple[Asked, ...]
    tubes: tuple[Tube, ...]
    bought: tuple[Bought, ...]
    entries: tuple[tuple[Entry, AnyPart | None], ...]
    all_there: bool


def read_parts(top: Entry, folder: Path, fold: float | None) -> PartsRead:
    """Return all parts, of the job file first, then of its spreadsheets; names and pieces are checked.

    ``fold`` is what the paper of a template adds at a corner, None where the rules decide.
    """
    panels: list[Asked] = []
    tubes: list[TubeRead] = []
    entries: list[tuple[Entry, AnyPart | None]] = []
    names: set[str] = set()
    before, twice = len(top.notes), 0
    source = _Source(top, folder)
    for entry in source:
        part: AnyPart | None
        if entry.level == "bought":
            part = read_bought(entry)
        elif _is_tube(entry):
            tubes.append(read_tube(entry, fold))
            part = tubes[-1].tube
        else:
            part = panel = read_panel(entry, folder)
            if panel is not None:
                panels.append(Asked(panel, entry.path, entry.place, entry.in_file))
        entries.append((entry, part))
        name = entry.data.get("name")
        if isinstance(name, str) and name.strip():
            if name.strip() in names:
                entry.wrong("name", f"two parts are called {shown(name.strip())}", "Give each its own name")
                twice += 1
            names.add(name.strip())
    note_unmatched(tubes)
    made = tuple(t.tube for t in tubes if t.tube is not None)
    bought = tuple(part for _, part in entries if isinstance(part, Bought))
    read = PartsRead(tuple(panels), made, bought, tuple(entries), source.all_there)
    # A part that could not be read may be the one that is to be made.
    _check_counts(top, read, all_read=len(top.notes) == before + twice)
    return read


class _Source:
    """Where parts come from, one entry each; not ``all_there`` where a spreadsheet was not read whole."""

    def __init__(self, top: Entry, folder: Path) -> None:
        self.top, self.folder, self.all_there = top, folder, True

    def __iter__(self) -> Iterator[Entry]:
        yield from self.top.children("panel", "panel")
        yield from self.top.children("tube", "tube")
        rows = read_imports(self.top, self.folder)
        while True:
            before = len(self.top.notes)
            row = next(rows, None)
            if len(self.top.notes) > before:
                self.all_there = False
            if row is None:
                break
            yield row
        yield from self.top.children("bought", "bought")


def _is_tube(entry: Entry) -> bool:
    """Say whether a table is a tube; of a row of a spreadsheet its section says so, or a length alone."""
    if entry.level != "row of a spreadsheet":
        return entry.level == "tube"
    flat = any(key in entry for key in ("thickness", "width", "height", "disc"))
    return "section" in entry or ("length" in entry and not flat)


def _check_counts(top: Entry, read: PartsRead, *, all_read: bool) -> None:
    """Note a job that makes nothing, or more than a job may."""
    parts: list[Copies] = [*(asked.panel for asked in read.panels), *read.tubes]
    if all_read and not any(part.needed for part in parts):
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
