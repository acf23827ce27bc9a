"""Files that a job names: they lie in its folder, links resolved, and have one of some endings."""

from __future__ import annotations

from pathlib import Path

from nestkit.job.entry import Entry
from nestkit.job.shown import shown

_KINDS: dict[tuple[str, ...], tuple[str, str]] = {
    (".csv", ".xlsx"): ("neither CSV nor XLSX", "Save the spreadsheet as .xlsx or .csv"),
    (".dxf", ".svg"): ("neither DXF nor SVG", "Save the outline as .dxf or .svg"),
}


def file_beside(entry: Entry, key: str, name: str, folder: Path, endings: tuple[str, ...]) -> Path | None:
    """Return the path of a file in the job's folder, links resolved; None where it leads out.

    What is not there is a mistake too. ``endings`` are those of spreadsheets or of outline files.
    """
    try:
        root = folder.resolve()
        path = (root / name).resolve()
    except (OSError, RuntimeError):
        # RuntimeError: links that lead round in a circle.
        entry.wrong(key, f"{shown(name)} leads nowhere", "Copy the file itself beside the job file")
        return None
    if not path.is_relative_to(root):
        entry.wrong(key, f"{shown(name)} is outside the job's folder", "Copy the file beside the job file")
        return None
    if path.suffix.lower() not in endings:
        what, remedy = _KINDS[endings]
        entry.wrong(key, f"{shown(name)} is {what}", remedy)
        return None
    if not path.is_file():
        there = "is not a file" if path.exists() else "is not there"
        entry.wrong(key, f"{shown(name)} {there}", "Put the file beside the job file, or mend its name")
        return None
    return path
