"""A job just saved: its mistakes, which are told beside."""

from __future__ import annotations

from pathlib import Path

from nestkit.job.reader import read_text
from nestkit.page.bench import Line


def work(line: Line, text: str, folder: Path) -> None:
    """Read a saved job. Raises :class:`~nestkit.errors.JobError` with its mistakes."""
    read_text(text, folder)
