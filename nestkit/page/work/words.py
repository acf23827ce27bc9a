"""What may be chosen from: lists of the trade tables and of the job file's own words."""

from __future__ import annotations

from typing import get_args

from nestkit.job.schema import LEVELS
from nestkit.page.objects import Object
from nestkit.parts.methods import METHODS
from nestkit.parts.panel import Grain, Turn
from nestkit.stock.ways import First, How, Prefer
from nestkit.trade.drills import all_drills
from nestkit.trade.papers import all_papers
from nestkit.trade.screws import all_clearances, all_taps
from nestkit.trade.tables import read


def _size(name: str) -> str:
    """Return the size of a screw that is called by its thread: that of ``10-32`` is ``#10``."""
    size = name.partition("x")[0].rpartition("-")[0] or name.partition("x")[0]
    return f"#{size}" if size.isdigit() else size


def words_object() -> Object:
    """Return every list, and the keys that each table of a job file may have."""
    by_size: dict[str, list[str]] = {}
    for row in all_clearances():
        by_size.setdefault(row.screw, []).append(row.fit)
    threads = [row.thread for row in all_taps()]
    # A screw is called by its thread, or by its size alone.
    fits = {name: by_size[size] for name in (*threads, *by_size) if (size := _size(name)) in by_size}
    return {
        "units": ["in", "mm"],
        "materials": [row["material"] for row in read("materials")],
        "screws": list(fits),
        "fits": fits,
        "taps": threads,
        "drills": [row.name for row in all_drills()],
        "papers": [row.name for row in all_papers()],
        "methods": list(METHODS),
        "ways": list(get_args(How)),
        "first": list(get_args(First)),
        "prefer": list(get_args(Prefer)),
        "turns": list(get_args(Turn)),
        "grains": list(get_args(Grain)),
        "faces": ["differ", "alike"],
        "efforts": ["quick", "normal", "thorough"],
        "keys": {name: list(level.keys) for name, level in LEVELS.items()},
    }
