"""1:1 drilling templates: the whole part on one page of its own size, or on the job's paper."""

from __future__ import annotations

from nestkit.drawing.model import Drawing
from nestkit.drawing.template_facts import Facts, facts_of
from nestkit.drawing.template_page import PageShape, page_shapes
from nestkit.drawing.template_single import Pages, own_page, single_page
from nestkit.drawing.template_tiles import tiled_pages
from nestkit.job.model import Job
from nestkit.parts.panel import Panel


def template(job: Job, panel: Panel, *, opposite: bool = False, back: bool = False) -> Drawing:
    """Return the template of one hand and face on one page of its own size, nominal.

    ``opposite`` is the mirrored hand; ``back`` shows the part from behind, so that its other face
    can be marked.
    """
    facts = facts_of(job, panel, opposite=opposite, back=back, corrected=False)
    return own_page(facts)


def template_pages(
    job: Job, panel: Panel, *, opposite: bool = False, back: bool = False
) -> tuple[Drawing, ...]:
    """Return the template on the job's paper, the printer's scale taken out of all that is 1:1.

    One page where part, words and rulers find room on it; else a cover and tiles to join.

    Raises :class:`~nestkit.errors.UserError` where the paper is too small to join pages of it.
    """
    facts = facts_of(job, panel, opposite=opposite, back=back, corrected=True)
    shapes, paper = page_shapes(job.printing), job.printing.paper.name
    pages = _on_paper(facts, shapes, paper)
    if pages.unlabelled:
        pages = _on_paper(facts.with_places(), shapes, paper)
    return pages.drawings


def _on_paper(facts: Facts, shapes: tuple[PageShape, ...], paper: str) -> Pages:
    return single_page(facts, shapes) or tiled_pages(facts, shapes, paper)
