"""The cut plan: sticks to scale, how each is cut by hand, then how all are cut at a stop block."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.drawing.cut_plan_blocks import paged
from nestkit.drawing.cut_plan_hand import hand_blocks, hand_head, mitre_blocks, unplaced_blocks
from nestkit.drawing.cut_plan_stop import at_a_glance, stop_blocks, stop_head
from nestkit.drawing.model import Drawing
from nestkit.drawing.plan_pages import PlanPaper, Section
from nestkit.estimate.cut_steps import mitred, sticks_alike, stop_settings
from nestkit.estimate.cut_words import StockNames
from nestkit.geometry.points import Rect
from nestkit.job.model import Job
from nestkit.layout.bars.result import BarsLayout
from nestkit.layout.result import JobLayout
from nestkit.stock.section import section_text
from nestkit.trade.cautions import cautions


def cut_plan_pages(job: Job, layout: JobLayout) -> tuple[Drawing, ...]:
    """Return the cut plan of all sticks; empty where the job has none.

    A group takes pages stick by stick, with each kind of stick once and its mitres at the end, then pages by
    settings of a stop block. Goods off a roll are cut with scissors, in one way.
    """
    paper = PlanPaper(job.printing.paper)
    return paper.pages((s for laid in layout.bars for s in _sections(job, laid, paper.column)), "cut plan")


def _sections(job: Job, laid: BarsLayout, room: Rect) -> Iterator[Section]:
    group, unit = laid.group, job.unit
    if not laid.sticks and not laid.unplaced:
        return
    what = f"{group.material}, {section_text(group.section, unit)} {unit}"
    kinds = sticks_alike(laid)
    names = StockNames(kinds, unit)
    foot = cautions("footer")[-1:] if group.off_a_roll else (cautions("cover")[7], cautions("footer")[-1])
    way = "with scissors" if group.off_a_roll else "by hand saw"
    title = f"Cut {way}: {what}"
    head = hand_head(job, laid, kinds, title, room)
    mitres = mitred(laid)
    blocks = [*unplaced_blocks(laid, room), *hand_blocks(kinds, names, unit, room)]
    blocks += mitre_blocks(mitres, room)
    yield Section(title, list(paged(title, head, blocks, room)), foot)
    if group.off_a_roll or not kinds:
        return
    title = f"Cut at a stop block: {what}"
    settings = stop_settings(kinds)
    head = stop_head(settings, title, room, mitres=bool(mitres))
    blocks = [*stop_blocks(settings, names, unit, room), *at_a_glance(settings, names, unit, room)]
    yield Section(title, list(paged(title, head, blocks, room)), foot)
