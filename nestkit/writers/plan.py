"""The names of all files that are one a sheet or one a part: computed here and nowhere else."""

from __future__ import annotations

from nestkit.job.model import Job
from nestkit.layout.bars.result import BarsLayout, CutStick
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout
from nestkit.writers.names import file_stems

OPPOSITE = "-opposite-hand"
BACK = "-back"


def sheet_files(job: Job, layout: JobLayout) -> tuple[tuple[GroupLayout, CutSheet, str], ...]:
    """Return every sheet with its group and its file name without folder and ending, in layout order."""
    stems = dict(zip((s.name for s in job.sheets), file_stems(s.name for s in job.sheets), strict=True))
    return tuple(
        (group, sheet, f"{stems[sheet.stock.name]}-{sheet.number:02d}")
        for group in layout.groups
        for sheet in group.sheets
    )


def stick_files(job: Job, layout: JobLayout) -> tuple[tuple[BarsLayout, CutStick, str], ...]:
    """Return every stick with its group and its name in lists, made as those of sheets are, in layout order.

    There is no file for a stick; its name is that of no sheet.
    """
    stocks = [s.name for s in job.sheets] + [b.name for b in job.bars]
    stems = dict(zip(stocks, file_stems(stocks), strict=True))
    return tuple(
        (laid, stick, f"{stems[stick.stock.name]}-{stick.number:02d}")
        for laid in layout.bars
        for stick in laid.sticks
    )


def part_files(job: Job, *, back: bool = False) -> dict[tuple[str, bool], str]:
    """Return a file name without folder and ending for each part and hand that is to be made.

    The key is the part's name and whether it is the opposite hand; panels come before tubes. With ``back``
    they are the names of the back-face templates, which never meet those of the front.
    """
    names: dict[tuple[str, bool], str] = {}
    made = [(p, hand) for hand in (False, True) for p in job.parts if hand in p.hands]
    bases = dict(zip((p.name for p in job.parts), file_stems(p.name for p in job.parts), strict=True))
    used = set(bases.values())
    for part, opposite in made:
        stem = bases[part.name]
        names[part.name, opposite] = _unused(f"{stem}{OPPOSITE}", used) if opposite else stem
    if not back:
        return names
    return {key: _unused(f"{stem}{BACK}", used) for key, stem in names.items()}


def _unused(stem: str, used: set[str]) -> str:
    """Return the stem, or with the first number that makes it new; and count it as used."""
    plain, count = stem, 1
    while stem in used:
        count += 1
        stem = f"{plain}-{count}"
    used.add(stem)
    return stem
