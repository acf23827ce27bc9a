"""Bench cards of tubes: one page a tube and hand, with its faces, its steps, room to sign and measure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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
from nestkit.drawing.end_view import WIDTH, end_view
from nestkit.drawing.model import Drawing
from nestkit.drawing.template_flow import LEADING, Flow
from nestkit.drawing.tube_card_picture import tube_picture
from nestkit.drawing.tube_card_steps import tube_copies, tube_sizes, tube_steps
from nestkit.drawing.tube_facts import TubeFacts, tube_facts
from nestkit.drawing.tube_template import has_template
from nestkit.drawing.whole import put_whole
from nestkit.geometry.points import Rect
from nestkit.job.model import Job
from nestkit.job.pairs import gangs_to_mark
from nestkit.parts.gangs import Gang
from nestkit.parts.tube import Tube
from nestkit.trade.cautions import cautions, for_materials

_NOT_HERE = ("laser", "snap", "Do not over-tighten", "Clamp thin sheet", "bearings", "eburr", "each wall")
"""Cautions that speak of these are for other work than this, or are a step of the card."""

_PICTURE_SHARE = 0.6
"""About what of the card's width the picture has where the facts stand beside it."""


def tube_card_pages(job: Job, tubes: Iterable[Tube] | None = None) -> tuple[Drawing, ...]:
    """Return the cards of all tubes and hands with a hole or a mitre, sorted by bench, then as in the job.

    With ``tubes`` only theirs. What is only cut to length has its row in the cut plan, and no card. Tubes of
    no bench come last.
    """
    wanted = tuple(job.tubes if tubes is None else tubes)
    paper, gangs = card_paper(job), gangs_to_mark(job, wanted)
    tubes = sorted((t for t in wanted if has_template(t)), key=lambda t: (not t.used_for, t.used_for))
    cards = (_card(job, tube, hand, gangs, paper.room) for tube in tubes for hand in tube.hands)
    return paper.pages(cards, of="tubes: ")


def _card(job: Job, tube: Tube, opposite: bool, gangs: Sequence[Gang], room: Rect) -> Card:
    """Return the card of one tube and hand."""
    facts = tube_facts(job, tube, opposite=opposite, corrected=False)
    return Card(
        title=f"{tube.name}, OPPOSITE HAND" if opposite else tube.name,
        head=_head(tube, facts, opposite, room),
        picture=partial(_picture, facts),
        words=partial(_words, job, tube, facts, opposite),
        steps=tube_steps(job, tube, facts, opposite, gangs),
        tail=cautions_words(_cautions(tube), room),
        least=_picture(facts, _PICTURE_SHARE * room.width, 0.0).height,
    )


def _head(tube: Tube, facts: TubeFacts, opposite: bool, room: Rect) -> Flow:
    """What it is and how many, beside a picture of its end."""
    words = Flow(room.width - WIDTH - 3.0)
    least = smaller_if_long(tube.name, words.width, LEAST_TITLE)
    put_whole(words, tube.name, 9.0, least=least, bold=True)
    hand = "OPPOSITE HAND" if opposite else "AS DRAWN"
    if tube.either_hand:
        hand = "EITHER HAND, BOTH ALIKE"
    said = dict(facts.facts)
    put_whole(words, f"{hand} · MAKE {said['Make']}", 6.0, least=4.0, bold=True)
    if tube.used_for:
        bench = f"For {tube.used_for}"
        words.text(bench, smaller_if_long(bench, words.width, 4.6), bold=True)
    words.text(said["Material"], 4.2)
    picture = Flow(WIDTH)
    picture.picture(end_view(tube.section))
    flow = Flow(room.width)
    flow.beside(words, picture, room.width - WIDTH)
    flow.gap(2.0)
    return flow


def _picture(facts: TubeFacts, width: float, most: float) -> Flow:
    """The tube's faces, what lies where above, what its signs mean below; at most ``most`` mm high."""
    flow = Flow(width)
    flow.text(f"{facts.face}. Not to scale: use the template.", BODY, bold=True)
    if facts.later:
        flow.text("Dashed: do not drill, see the steps.", BODY)
    flow.gap(1.0)
    # A hair less: what just fits must not go on the next page for the last digit of a sum.
    left = most - flow.height - 1.01
    made = tube_picture(facts, width, left)
    if made.numbered:
        flow.picture(made.drawing)
    else:
        flow.picture(tube_picture(facts, width, left - LEADING * BODY - 1.0).drawing)
        flow.gap(1.0)
        flow.text("Numbers missing here are on the template.", BODY)
    flow.gap(1.0)
    return flow


def _words(job: Job, tube: Tube, facts: TubeFacts, opposite: bool, width: float) -> list[Flow]:
    """The other facts in words, and the sizes to measure, in blocks that stay whole."""
    dated = [f"Revision {tube.revision}"] if tube.revision else []
    dated += [job.date.isoformat()] if job.date is not None else []
    said = [(" · ".join(dated), BODY, False)] if dated else []
    said.append((job.name, BODY, False))
    many = tube_copies(tube, opposite) > 1
    return [*facts_words(said, width), *sizes_words(tube_sizes(facts), many, width)]


def _cautions(tube: Tube) -> list[str]:
    """The cautions of the material and of tube for this work; the footer of every page defers to the shop."""
    hollow = tube.section.kind in {"tube", "round"}
    found = (*(cautions("tube") if hollow else ()), *for_materials([tube.material], []))
    return [
        text
        for text in found
        if text not in cautions("defer") and not any(word in text for word in _NOT_HERE)
    ]
