"""How the holes of a part are marked and made, as a job names it."""

from __future__ import annotations

from nestkit.job.entry import Entry
from nestkit.job.values import choice
from nestkit.parts.methods import METHODS, Method


def read_method(entry: Entry, *, required: bool = False) -> Method | None:
    """Return the method that a table names; None where it names none, or none that is known."""
    if "method" not in entry and not required:
        return None
    return choice(entry, "method", METHODS)
