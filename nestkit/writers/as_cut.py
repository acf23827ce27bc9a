"""Panels as the cutting files have them: without the holes that are drilled through another part later."""

from __future__ import annotations

from dataclasses import replace

from nestkit.job.model import Job
from nestkit.job.pairs import to_mark
from nestkit.layout.result import CutSheet


def as_cut(job: Job, sheet: CutSheet) -> CutSheet:
    """Return a sheet whose parts have only the holes that are made before the part is bolted to others.

    A hole that a router had cut already could not be drilled through its partner.
    """
    if not job.joints:
        return sheet
    parts = (replace(part, panel=to_mark(job, part.panel, part.opposite_hand)) for part in sheet.parts)
    return replace(sheet, parts=tuple(parts))
