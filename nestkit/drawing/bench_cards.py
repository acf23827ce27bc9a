"""Bench cards: one page a part and hand, with its picture, its steps, and room to sign and to measure."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from nestkit.drawing.bench_layout import (
    BODY,
    LEAST_TITLE,
    Card,
    card_paper,
    cautions_words,
    facts_words,
    sizes_words,
    smaller_if_long,
)
from nestkit.drawing.bench_picture import part_picture
from nestkit.drawing.bench_steps import copies, sizes, steps_of
from nestkit.drawing.model import Drawing
from nestkit.drawing.template_facts import Facts, facts_of
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.whole import put_whole
from nestkit.geometry.points import Rect
from nestkit.job.model import Job
from nestkit.job.pairs import to_mark
from nestkit.parts.panel import Panel
from nestkit.trade.cautions import cautions, for_materials

_NOT_HERE = ("laser", "snap", "tighten")
"""Cautions that speak of these are for other work than this."""


def bench_pages(job: Job, panels: Iterable[Panel] | None = None) -> tuple[Drawing, ...]:
    """Return the cards of all panels and hands, or of some, sorted by bench, then in the order of the job.

    Parts that are for no bench come last.
    """
    paper = card_paper(job)
    panels = sorted(job.panels if panels is None else panels, key=lambda p: (not p.used_for, p.used_for))
    # Where one hand serves as the other there is one card for all copies.
    return paper.pages(_card(job, panel, hand, paper.room) for panel in panels for hand in panel.hands)


def _card(job: Job, panel: Panel, opposite: bool, room: Rect) -> Card:
    """Return the card of one part and hand."""
    hand = "OPPOSITE HAND" if opposite else "AS DRAWN"
    if panel.either_hand:
        hand = "EITHER HAND, FACES ALIKE"
    facts = facts_of(job, panel, opposite=opposite, back=False, corrected=False)
    return Card(
        title=f"{panel.name}, OPPOSITE HAND" if opposite else panel.name,
        head=_head(facts, hand, room),
        picture=partial(_picture, facts),
        words=partial(_words, job, panel, facts, opposite),
        steps=steps_of(job, panel, opposite),
        tail=cautions_words(_cautions(panel), room),
    )


def _head(facts: Facts, hand: str, room: Rect) -> Flow:
    flow = Flow(room.width)
    least = smaller_if_long(facts.title, room.width, LEAST_TITLE)
    put_whole(flow, facts.title, 9.0, least=least, bold=True)
    make = dict(facts.facts)["Make"]
    put_whole(flow, f"{hand} · MAKE {make}", 6.0, least=4.0, bold=True)
    flow.gap(2.0)
    return flow


def _picture(facts: Facts, width: float, most: float) -> Flow:
    """The part's picture, what it is above, what its signs mean below; at most ``most`` mm high."""
    flow = Flow(width)
    flow.text(f"{facts.face}. Not to scale: use the template.", BODY, bold=True)
    flow.gap(1.0)
    legend = ["Dashed: do not drill, see the steps."] if facts.later else []
    most -= flow.height + 1.3 * (2 + len(legend)) * BODY + 1.0
    made = part_picture(facts.view, facts.cut, facts.unit, width, most, facts.later)
    flow.picture(made.drawing)
    if facts.cut and facts.drilled:
        legend.append("With a cross: drill. Without: cut already.")
    if not made.numbered:
        legend.append("Numbers missing here are on the template.")
    if legend:
        flow.gap(1.0)
        flow.text(" ".join(legend), BODY)
    return flow


def _words(job: Job, panel: Panel, facts: Facts, opposite: bool, width: float) -> list[Flow]:
    """The facts in words, and the sizes to measure, in blocks that stay whole."""
    facts_said = dict(facts.facts)
    said = []
    if panel.used_for:
        bench = f"For {panel.used_for}"
        said.append((bench, smaller_if_long(bench, width, 4.6), True))
    said.append((facts_said["Material"], 4.2, False))
    dated = [f"Revision {panel.revision}"] if panel.revision else []
    dated += [facts_said[key] for key in ("Date",) if key in facts_said]
    if dated:
        said.append((" · ".join(dated), BODY, False))
    said.append((job.name, BODY, False))
    many = copies(panel, opposite) > 1
    measured = sizes(to_mark(job, panel, opposite), job.unit)
    return [*facts_words(said, width), *sizes_words(measured, many, width)]


def _cautions(panel: Panel) -> list[str]:
    """The cautions of the material for this work; the footer of every page defers to the shop."""
    return [
        text
        for text in for_materials([panel.material], [])
        if text not in cautions("defer") and not any(word in text for word in _NOT_HERE)
    ]
