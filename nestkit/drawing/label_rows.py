"""What labels have in common: how a piece is ordered in the heap, and the rows of words."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.drawing.label_text import Item, Words
from nestkit.job.model import Job

Key = tuple[bool, str, int, bool, int]
"""By bench, then as the job has it, then by hand, then by copy; parts for no bench last."""


@dataclass(frozen=True, slots=True)
class Said:
    """A label, and what it is put in order by."""

    key: Key
    words: Words


def places_in_job(job: Job) -> dict[str, int]:
    """Return which part of the job each is, by name: panels first, then tubes."""
    names = [*(panel.name for panel in job.panels), *(tube.name for tube in job.tubes)]
    return {name: place for place, name in enumerate(names)}


def items(*ranked: tuple[int, str]) -> tuple[Item, ...]:
    """Return what is said, without what is empty: of two the one of higher rank is left out first."""
    return tuple(Item(rank, text) for rank, text in ranked if text)


def dated(job: Job) -> str:
    """Return the job's date as labels say it, empty where it has none."""
    return job.date.isoformat() if job.date is not None else ""
