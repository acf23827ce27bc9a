"""Readings of the print test turned into the printer's scale."""

from __future__ import annotations

from pathlib import Path

from nestkit.drawing.print_readings import Asked, paper_to_test, reckoned, reckoned_lines
from nestkit.drawing.print_test import ruler_lengths
from nestkit.errors import JobError, UserError
from nestkit.job.model import Job
from nestkit.job.reader import read_data
from nestkit.page.bench import Line
from nestkit.page.objects import Object, json_bytes
from nestkit.units import with_unit

_ASKED = Asked("rulers x1 and x2", "rulers y1 and y2", "how closely one end was read")


def work(
    line: Line,
    tree: Object,
    folder: Path,
    paper: str,
    readings: tuple[tuple[str, ...], tuple[str, ...]],
    read_to: str,
) -> bytes:
    """Return both scales, what they leave open, or why they are refused, as JSON."""
    job = job_or_none(tree, folder)
    chosen = paper_to_test(job, paper or None)
    across, up = (with_unit(length, chosen[1]) for length in ruler_lengths(*chosen))
    found: Object = {"scale_x": None, "scale_y": None, "say": [], "refused": None, "x": across, "y": up}
    x, y = (tuple(one for one in texts if one.strip()) for texts in readings)
    if not x or not y:
        found["refused"] = "Readings of both sides are needed"
        return json_bytes(found)
    try:
        scales = reckoned(job, chosen, x, y, read_to.strip() or None, _ASKED)
    except UserError as error:
        found["refused"] = str(error)
        return json_bytes(found)
    found["scale_x"], found["scale_y"] = (round(scale.value, 5) for scale in scales.scales)
    found["say"], found["sound"] = reckoned_lines(scales, chosen[1]), scales.sound
    return json_bytes(found)


def job_or_none(tree: Object, folder: Path) -> Job | None:
    """Return the draft's job, None while it has mistakes: a printer can be measured all the same."""
    try:
        return read_data(tree, folder)
    except JobError:
        return None
