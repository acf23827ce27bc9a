"""Panels as the cutting files have them: without holes that are drilled later, inner corners relieved."""

from __future__ import annotations

from dataclasses import replace

from nestkit.job.model import Job
from nestkit.job.pairs import to_mark
from nestkit.layout.result import CutSheet
from nestkit.parts.panel import Panel
from nestkit.stock.relief import as_relieved
from nestkit.stock.ways import Way


def as_cut(job: Job, sheet: CutSheet, way: Way) -> CutSheet:
    """Return a sheet whose parts have only the holes that are made before the part is bolted to others.

    A hole that a router had cut already could not be drilled through its partner. Inner corners are
    relieved where the way of cutting says so.
    """
    if way.relief != "none":
        sheet = replace(sheet, parts=tuple(replace(p, panel=routed(p.panel, way)) for p in sheet.parts))
    if not job.joints:
        return sheet
    # One that is turned over is no opposite hand: its holes are those of the part as drawn.
    parts = (
        replace(part, panel=to_mark(job, part.panel, part.opposite_hand and not part.turned_over))
        for part in sheet.parts
    )
    return replace(sheet, parts=tuple(parts))


def routed(panel: Panel, way: Way) -> Panel:
    """Return a panel with its inner corners relieved where its way of cutting says so."""
    if way.relief == "none":
        return panel
    openings = (replace(o, outline=as_relieved(o.outline, way, opening=True).outline) for o in panel.openings)
    edge = as_relieved(panel.outline, way, opening=False).outline
    return replace(panel, outline=edge, openings=tuple(openings))
