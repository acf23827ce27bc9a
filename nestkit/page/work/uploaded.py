"""A file brought in: what it adds to the job."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from nestkit.errors import JobError
from nestkit.job.entry import Entry, Notes
from nestkit.job.one_part import read_one_part
from nestkit.job.parts import read_parts
from nestkit.page.bench import Line
from nestkit.page.objects import Object, json_bytes
from nestkit.parts.panel import Panel
from nestkit.text import counted
from nestkit.units import Unit, sides_text

_NO_STOCK = {"cutting": {"how": "saw", "kerf": 0}}


def work(line: Line, name: str, folder: Path, unit: Unit) -> bytes:
    """Return what a file adds to the job beside it, as JSON. Raises :class:`JobError` for its mistakes."""
    if name.endswith((".csv", ".xlsx")):
        return json_bytes(_spreadsheet(name, folder, unit))
    return json_bytes(_outline(name, folder, unit))


def _spreadsheet(name: str, folder: Path, unit: Unit) -> Object:
    notes = Notes({}, unit)
    data: dict[str, Any] = {"import": [{"file": name}]}
    read = read_parts(Entry(notes, data, (), "", "top"), folder, None)
    if len(notes):
        raise JobError(notes.mistakes())
    return {
        "file": name,
        "kind": "import",
        "add": [["import", {"file": name}]],
        "say": f"{counted(len(read.entries), 'row')} read",
    }


def _outline(name: str, folder: Path, unit: Unit) -> Object:
    stem = name.rpartition(".")[0]
    item: dict[str, Any] = {"name": stem, "material": "-", "thickness": "1 mm", "outline": name}
    read = read_one_part({**_NO_STOCK, "unit": unit}, item, "panel", 0, folder)
    if read.mistakes:
        raise JobError(read.mistakes)
    assert isinstance(read.part, Panel)
    panel = read.part
    size = sides_text(panel.width, panel.height, unit)
    said = [size, *([counted(len(panel.holes), "hole")] if panel.holes else [])]
    if panel.openings:
        said.append(counted(len(panel.openings), "opening"))
    notes = panel.drawn.notes if panel.drawn is not None else ()
    return {
        "file": name,
        "kind": "outline",
        "add": [["panel", {"name": stem, "outline": name}]],
        "say": "; ".join((", ".join(said), *notes)),
    }
