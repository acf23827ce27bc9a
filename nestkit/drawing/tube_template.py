"""1:1 drilling templates of tubes: all on one page of its own size, or on the job's paper."""

from __future__ import annotations

from functools import partial

from nestkit.drawing.model import Drawing
from nestkit.drawing.template_cover import cover_pages
from nestkit.drawing.template_page import page_shapes
from nestkit.drawing.template_single import own_page, single_page
from nestkit.drawing.tube_facts import TubeFacts, tube_facts
from nestkit.drawing.tube_joined import fewest_joined, joined_tube
from nestkit.drawing.tube_placed import placed_tube
from nestkit.drawing.tube_words import stack_marks
from nestkit.errors import UserError
from nestkit.job.model import Job, Printing
from nestkit.parts.tube import Tube


def has_template(tube: Tube) -> bool:
    """Say whether a tube has something to mark: a hole or a mitre."""
    return tube.section.kind != "roll" and (bool(tube.holes) or any(tube.mitres))


def tube_template(job: Job, tube: Tube, *, opposite: bool = False) -> Drawing:
    """Return the template of one hand of a tube on one page of its own size, nominal.

    Raises :class:`~nestkit.errors.UserError` where there is nothing to mark.
    """
    _check(tube)
    facts = tube_facts(job, tube, opposite=opposite, corrected=False)
    return own_page(facts, partial(stack_marks, facts.stack, job.unit))


def tube_template_pages(job: Job, tube: Tube, *, opposite: bool = False) -> tuple[Drawing, ...]:
    """Return the template on the job's paper, the printer's scale taken out of all that is 1:1.

    One page where all finds room on it; else a cover and, whichever is fewer, pages to join or (unless the
    job asks for all pages) those alone that have something to mark.

    Raises :class:`~nestkit.errors.UserError` where there is nothing to mark, or the paper is too small.
    """
    _check(tube)
    facts = tube_facts(job, tube, opposite=opposite, corrected=True)
    drawings, unlabelled = _on_paper(facts, job.printing)
    if unlabelled:
        drawings, _ = _on_paper(facts.with_places(), job.printing)
    return drawings


def _check(tube: Tube) -> None:
    if not has_template(tube):
        raise UserError(f"{tube.place} has nothing to mark, so it has no template; give it holes or a mitre")


def _on_paper(facts: TubeFacts, printing: Printing) -> tuple[tuple[Drawing, ...], tuple[int, ...]]:
    shapes, paper = page_shapes(printing), printing.paper.name
    single = single_page(facts, shapes, partial(stack_marks, facts.stack, facts.unit))
    if single is not None:
        return single.drawings, single.unlabelled
    placed = None if printing.all_pages else placed_tube(facts, shapes)
    least = fewest_joined(facts, shapes)
    pages = (
        placed if placed and (least is None or placed.count < least) else joined_tube(facts, shapes, paper)
    )
    covers = cover_pages(pages.facts, pages, pages.shape, paper)
    drawn, unlabelled = pages.pages(before=len(covers))
    return (*covers, *drawn), unlabelled
