"""Cards on any paper, and what must hold of the texts on a page: none over another, none cut short."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from nestkit.drawing.model import Drawing, Inset, Text
from nestkit.drawing.template_page import MARGIN
from nestkit.geometry.points import Rect
from nestkit.job.model import Job, Paper
from nestkit.job.settings import known_paper


def on_paper(job: Job, name: str) -> Job:
    """The job on another paper: one of the table, or a small one of ISO 216."""
    small = {"A5": Paper("A5", 148.0, 210.0), "A6": Paper("A6", 105.0, 148.0)}
    return replace(job, printing=replace(job.printing, paper=small.get(name) or known_paper(name)))


def texts(drawing: Drawing, dx: float = 0.0, dy: float = 0.0) -> Iterator[tuple[str, Rect]]:
    """Every text of a page with its box, those in its pictures too."""
    for mark in drawing.marks:
        if isinstance(mark, Inset):
            assert mark.scale_x == mark.scale_y == 1
            yield from texts(mark.drawing, dx + mark.at.x, dy + mark.at.y)
        elif isinstance(mark, Text):
            box = mark.bounds
            yield mark.text, Rect(box.left + dx, box.bottom + dy, box.right + dx, box.top + dy)


def continued(text: str) -> bool:
    """Say whether a text is the title of a second page."""
    return text.endswith(("(continued)", "…"))


def check_legible(page: Drawing) -> None:
    """No text meets another or leaves the page's margin."""
    found = list(texts(page))
    room = Rect(MARGIN, MARGIN, page.width - MARGIN, page.height - MARGIN)
    for i, (text, box) in enumerate(found):
        assert box.left >= room.left - 1e-6, text
        assert box.bottom >= room.bottom - 1e-6, text
        assert box.right <= room.right + 1e-6, text
        assert box.top <= room.top + 1e-6, text
        for other, its in found[:i]:
            assert not box.meets(its), (text, other)
