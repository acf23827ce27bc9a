"""1:1 drilling templates of tubes: all on one page of its own size, or on the job's paper."""

from __future__ import annotations

from functools import partial

from nestkit.drawing.model import Drawing
from nestkit.drawing.template_paper import Ways, printed_pages
from nestkit.drawing.template_single import Draw, own_page
from nestkit.drawing.tube_facts import TubeFacts, tube_facts
from nestkit.drawing.tube_joined import fewest_joined, joined_tube
from nestkit.drawing.tube_placed import placed_tube
from nestkit.drawing.tube_words import stack_marks
from nestkit.errors import UserError
from nestkit.job.model import Job
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
    return own_page(facts, _draw(facts))


def tube_template_pages(job: Job, tube: Tube, *, opposite: bool = False) -> tuple[Drawing, ...]:
    """Return the template on the job's paper, the printer's scale taken out of all that is 1:1.

    One page where all finds room on it; else a cover and, whichever is fewer, pages to join or (unless the
    job asks for all pages) those alone that have something to mark.

    Raises :class:`~nestkit.errors.UserError` where there is nothing to mark, or the paper is too small.
    """
    _check(tube)
    facts = tube_facts(job, tube, opposite=opposite, corrected=True)
    return printed_pages(facts, job.printing, _WAYS)


def _check(tube: Tube) -> None:
    if not has_template(tube):
        raise UserError(f"{tube.place} has nothing to mark, so it has no template; give it holes or a mitre")


def _draw(facts: TubeFacts) -> Draw:
    return partial(stack_marks, facts.stack, facts.unit)


_WAYS = Ways(_draw, placed_tube, fewest_joined, joined_tube)
