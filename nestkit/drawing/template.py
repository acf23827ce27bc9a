"""1:1 drilling templates: the whole part on one page of its own size, or on the job's paper."""

from __future__ import annotations

from functools import partial

from nestkit.drawing.model import Drawing
from nestkit.drawing.template_facts import Facts, facts_of
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_page import MARGIN
from nestkit.drawing.template_paper import Ways, printed_pages
from nestkit.drawing.template_part import part_marks
from nestkit.drawing.template_placed import placed_pages
from nestkit.drawing.template_single import Draw, own_page
from nestkit.drawing.template_tiles import fewest_tiles, joined_pages
from nestkit.job.model import Job
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.text import sentence


def template(job: Job, panel: Panel, *, opposite: bool = False, back: bool = False) -> Drawing:
    """Return the template of one hand and face on one page of its own size, nominal.

    ``opposite`` is the mirrored hand; ``back`` shows the part from behind, so that its other face
    can be marked.
    """
    facts = facts_of(job, panel, opposite=opposite, back=back, corrected=False)
    return own_page(facts, _draw(facts))


def template_pages(
    job: Job, panel: Panel, *, opposite: bool = False, back: bool = False
) -> tuple[Drawing, ...]:
    """Return the template on the job's paper, the printer's scale taken out of all that is 1:1.

    One page where part, words and rulers find room on it; else a cover and, whichever is fewer,
    pages to join or (unless the job asks for all pages) those alone that have something to mark.

    Raises :class:`~nestkit.errors.UserError` where the paper is too small to join pages of it.
    """
    facts = facts_of(job, panel, opposite=opposite, back=back, corrected=True)
    return printed_pages(facts, job.printing, _WAYS)


def instead_of_pages(job: Job, part: Panel | Tube, reason: str) -> Drawing:
    """Return a page that says why a template is not on the job's paper, and where it is whole."""
    paper = job.printing.paper
    width, height = paper.short, paper.long or paper.short
    flow = Flow(width - 4 * MARGIN)
    flow.text(part.name, 9.0, bold=True)
    flow.gap(4.0)
    flow.text("This template is not printed here.", 6.0, bold=True)
    flow.gap(4.0)
    flow.text(sentence(reason), 4.6)
    flow.gap(4.0)
    flow.text("The SVG file of the same name has the whole part at full size.", 4.6)
    return Drawing(width, height, flow.marks(2 * MARGIN, height - 2 * MARGIN), part.name)


def _draw(facts: Facts) -> Draw:
    return partial(part_marks, facts)


_WAYS = Ways(_draw, placed_pages, fewest_tiles, joined_pages)
