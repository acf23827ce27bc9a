"""Names that are printed and have letters that the type of the prints does not have."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from nestkit.checks.findings import Finding, listed
from nestkit.job.model import Job
from nestkit.job.shown import shown
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.text import not_in_type

SOURCE = "the type that every PDF carries, Bitstream Vera Sans"


def letters_not_in_type(job: Job) -> Iterator[Finding]:
    """Every name that is printed has only letters that the prints' type has; others come out as their codes.

    A name is told once, where it stands first, however many sheets and parts share it.
    """
    told: set[tuple[str, str]] = set()
    for place, name in _names(job):
        key = (place.rpartition(", ")[2], name)
        missing = not_in_type(name)
        if missing and key not in told:
            told.add(key)
            letters = [f"{c} ({_code(c)})" if _seen_alone(c) else _code(c) for c in missing]
            yield Finding(
                "advice",
                "",
                place,
                f"the type of the prints has no {listed(letters)}",
                f"write it in plain Latin letters, or expect {_code(missing[0])} on prints",
                SOURCE,
            )


def _names(job: Job) -> Iterator[tuple[str, str]]:
    """Yield everything of a job that its prints repeat, with its place."""
    yield "job", job.name
    for sheet in job.sheets:
        yield f"{sheet.place}, name", sheet.name
        yield f"{sheet.place}, material", sheet.material
    for bar in job.bars:
        yield f"{bar.place}, name", bar.name
        yield f"{bar.place}, material", bar.material
    parts: tuple[Panel | Tube, ...] = (*job.panels, *job.tubes)
    for part in parts:
        yield from _of_part(part)


def _of_part(part: Panel | Tube) -> Iterator[tuple[str, str]]:
    yield f"{part.place}, name", part.name
    yield f"{part.place}, material", part.material
    yield f"{part.place}, for", part.used_for
    yield f"{part.place}, revision", part.revision
    for group in dict.fromkeys(hole.group for hole in part.holes):
        yield f"{part.place}, holes {shown(group)}, name", group
    for number, mark in enumerate(part.marks if isinstance(part, Panel) else (), start=1):
        yield f"{part.place}, marks {number}, text", mark.text


def _seen_alone(letter: str) -> bool:
    """Say whether a letter can stand by itself in a message: no accent without its letter, nothing unseen."""
    return letter.isprintable() and not unicodedata.category(letter).startswith("M")


def _code(letter: str) -> str:
    return f"U+{ord(letter):04X}"
