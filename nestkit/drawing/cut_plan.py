"""The cut plan: sticks to scale, how each is cut by hand, then how all are cut at a stop block."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nestkit.drawing.cut_plan_blocks import paged
from nestkit.drawing.cut_plan_hand import hand_blocks, hand_head, mitre_blocks, unplaced_blocks
from nestkit.drawing.cut_plan_stop import at_a_glance, said_shortly, short_block, stop_blocks, stop_head
from nestkit.drawing.model import Drawing
from nestkit.drawing.plan_pages import PlanPaper, Section
from nestkit.drawing.template_flow import Flow, ruled
from nestkit.estimate.cut_steps import mitred, sticks_alike, stop_settings
from nestkit.estimate.cut_words import StockNames
from nestkit.geometry.points import Rect
from nestkit.job.model import Job
from nestkit.layout.bars.result import BarsLayout
from nestkit.layout.result import JobLayout
from nestkit.stock.section import section_text
from nestkit.trade.cautions import cautions

_BETWEEN = 5.0
"""Room around the line between both ways; what stands above ends with some of its own."""


def cut_plan_pages(job: Job, layout: JobLayout) -> tuple[Drawing, ...]:
    """Return the cut plan of all sticks; empty where the job has none.

    A group takes pages stick by stick, with each kind of stick once and its mitres at the end, then what a
    stop block asks for: on the same page where all of it has room there. Goods off a roll are cut with
    scissors, in one way.
    """
    paper = PlanPaper(job.printing.paper)
    return paper.pages((s for laid in layout.bars for s in _sections(job, laid, paper.column)), "cut plan")


def _sections(job: Job, laid: BarsLayout, room: Rect) -> Iterator[Section]:
    group, unit = laid.group, job.unit
    if not laid.sticks and not laid.unplaced:
        return
    kinds = sticks_alike(laid)
    names = StockNames(kinds, unit)
    settings = () if group.off_a_roll else stop_settings(kinds)
    foot = cautions("footer")[-1:] if group.off_a_roll else (cautions("cover")[7], cautions("footer")[-1])
    what = f"{group.material}, {section_text(group.section, unit)} {unit}"
    title = f"Cut {'with scissors' if group.off_a_roll else 'by hand saw'}: {what}"
    blocks = [*unplaced_blocks(laid, room), *hand_blocks(kinds, names, unit, room)]
    if said_shortly(settings):
        blocks += short_block(settings[0], names, unit, room)
    mitres = mitred(laid)
    blocks += mitre_blocks(mitres, room)
    by_hand = Section(title, list(paged(title, hand_head(job, laid, kinds, title, room), blocks, room)), foot)
    if not settings or said_shortly(settings):
        yield by_hand
        return
    title = f"Cut at a stop block: {what}"
    rows = list(stop_blocks(settings, names, unit, room))
    head = stop_head(settings, title, room, mitres=bool(mitres), below=True)
    below = _goes_below(by_hand.columns[-1], list(paged(title, head, rows, room)), room)
    yield by_hand
    if below:
        return
    head = stop_head(settings, title, room, mitres=bool(mitres), below=False)
    blocks = [*rows, *at_a_glance(settings, names, unit, room)]
    yield Section(title, list(paged(title, head, blocks, room)), foot)


def _goes_below(last: Flow, at_stop: Sequence[Flow], room: Rect) -> bool:
    """Put the second way of cutting below the first where all of it has room there; say whether it had."""
    if len(at_stop) > 1 or last.height + _BETWEEN + at_stop[0].height > room.height:
        return False
    last.add(ruled(room.width, _BETWEEN))
    last.add(at_stop[0])
    return True
