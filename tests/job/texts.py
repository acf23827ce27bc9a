"""Job texts for the tests: a sound one, made of blocks that a test can change, and how to read them."""

from __future__ import annotations

from pathlib import Path

import pytest

from nestkit.errors import JobError, Mistake
from nestkit.job.model import Job
from nestkit.job.reader import read_job

TOP = """\
job = "Solar boat"
unit = "in"
"""
CUTTING = """\
[cutting]
how = "saw"
kerf = "1/8"
"""
SHEET = """\
[[sheet]]
name = "PC 1/8 2x4"
material = "polycarbonate"
thickness = ".118"
sold_as = "1/8"
size = [24, 48]
price = 38.50
"""
PANEL = """\
[[panel]]
name = "lid"
material = "polycarbonate"
thickness = "1/8"
size = ["14 1/2", "9 3/4"]
"""
SOUND = TOP + CUTTING + SHEET + PANEL


def with_panel(more: str) -> str:
    """Return the sound job with more keys or tables in its panel."""
    return SOUND + more


def with_holes(more: str) -> str:
    """Return the sound job with one group of holes."""
    return SOUND + '[[panel.holes]]\nname = "vent"\n' + more


def read(text: str | bytes, folder: Path) -> Job:
    """Read a job from a file with this text."""
    path = folder / "job.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_job(path)


def mistakes(text: str | bytes, folder: Path) -> tuple[Mistake, ...]:
    """Return the mistakes of a job that must have some."""
    with pytest.raises(JobError) as caught:
        read(text, folder)
    return caught.value.mistakes


def only(text: str | bytes, folder: Path) -> Mistake:
    """Return the one mistake that a job must have."""
    found = mistakes(text, folder)
    assert len(found) == 1, "\n".join(map(str, found))
    return found[0]


def marked_line(text: str) -> int | None:
    """Return the number of the line that a test has marked with ``#<``."""
    return next((i for i, line in enumerate(text.split("\n"), 1) if "#<" in line), None)
