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
BAR = """\
[[bar]]
name = "square 1"
material = "aluminium 6061"
section = "1 x 1 x 1/16"
length = 96
price = 14
"""
TUBE = """\
[[tube]]
name = "deck frame"
material = "aluminium 6061"
section = "1 x 1 x 1/16"
length = 22
"""
SIDE = """\
[[tube.holes]]
name = "side"
face = "A"
drill = "#7"
at = ["1/2", 4]
"""
SOUND = TOP + CUTTING + SHEET + PANEL
SOUND_TUBE = TOP + CUTTING + BAR + TUBE


def with_panel(more: str) -> str:
    """Return the sound job with more keys or tables in its panel."""
    return SOUND + more


def with_holes(more: str) -> str:
    """Return the sound job with one group of holes."""
    return SOUND + '[[panel.holes]]\nname = "vent"\n' + more


def with_tube(more: str, section: str = "1 x 1 x 1/16") -> str:
    """Return the sound job of a tube with more keys or tables in it, of a section."""
    bar, tube = (t.replace("1 x 1 x 1/16", section) for t in (BAR, TUBE))
    return TOP + CUTTING + bar + tube + more


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
