"""The print of drilling together: a page for each clamping, its picture, its steps to tick."""

from __future__ import annotations

from functools import partial

from nestkit.drawing.bench_drills import Step
from nestkit.drawing.bench_layout import (
    BODY,
    LEAST_TITLE,
    Card,
    card_paper,
    cautions_words,
    facts_words,
    smaller_if_long,
)
from nestkit.drawing.joint_key import LETTERS
from nestkit.drawing.later_words import hand_said, holes_word
from nestkit.drawing.model import Drawing
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.together_picture import key_line, together_picture
from nestkit.drawing.together_plan import Setup, Stuck, follower_names, setups_of
from nestkit.drawing.together_steps import pair_word, together_steps
from nestkit.drawing.whole import put_whole
from nestkit.fit.assembly import Layer
from nestkit.geometry.points import Rect
from nestkit.job.model import Job
from nestkit.text import counted, number_list, sentence
from nestkit.trade.cautions import cautions, for_materials
from nestkit.units import with_unit

_SAMPLE = 12.0
_LINE = 1.3
_LEAST_PICTURE = 42.0
_HERE = ("Safety glasses", "under a drill", "Sharp drill", "climbs the drill", "Backing board", "cutting oil")
"""Cautions that speak of these are for drilling; the cards of the parts have more."""


def together_pages(job: Job, only: frozenset[str] | None = None) -> tuple[Drawing, ...]:
    """Return the pages of a job, in the order of its joints; empty where nothing is drilled together.

    With ``only`` those on which one of these parts is drilled, or is drilled through.
    """
    paper = card_paper(job)
    cards = [_card(job, setup, paper.room) for setup in setups_of(job, only)]
    return paper.pages(cards, kind="drill together")


def _card(job: Job, setup: Setup | Stuck, room: Rect) -> Card:
    if isinstance(setup, Stuck):
        return _stuck(job, setup, room)
    materials = list(dict.fromkeys(layer.part.material for layer in setup.layers if layer.part.material))
    return Card(
        title=setup.pair.joint.name,
        head=_head(setup, room),
        picture=partial(_picture, setup),
        words=partial(_words, job, setup),
        steps=together_steps(job, setup),
        tail=cautions_words(_cautions(materials), room),
        least=_LEAST_PICTURE,
    )


def _head(setup: Setup | Stuck, room: Rect) -> Flow:
    """The joint, how often, and what is drilled through what."""
    joint = setup.pair.joint
    word = pair_word(setup) if isinstance(setup, Setup) else "pair"
    flow = Flow(room.width)
    put_whole(flow, joint.name, 9.0, least=smaller_if_long(joint.name, room.width, LEAST_TITLE), bold=True)
    put_whole(flow, f"DRILL TOGETHER · {counted(joint.quantity, word).upper()}", 6.0, least=4.0, bold=True)
    names = " and ".join(hand_said(mate) for mate in follower_names(setup))
    said = f"{names} through {hand_said(setup.pair.leader)}"
    flow.text(said, smaller_if_long(said, room.width, 4.6), bold=True)
    flow.gap(2.0)
    return flow


def _picture(setup: Setup, width: float, most: float) -> Flow:
    """The stack, seen from the drill, what it is above, what its signs mean below."""
    flow = Flow(width)
    seen = "Seen from the far side" if setup.turned else "Seen from the heads"
    flow.text(f"{seen}, as you drill. Not to scale.", BODY, bold=True)
    flow.gap(1.0)
    made = together_picture(setup, width, most - flow.height - _LINE * 3 * BODY - 2.0)
    flow.picture(made.drawing)
    said = ["Heavy rings: the first hole, then the far one."] if len(setup.places) > 1 else []
    said += ["Parts go on beyond the picture."] if made.clipped else []
    said += [] if made.numbered else ["Numbers missing here are on the part."]
    flow.gap(1.0)
    if said:
        flow.text(" ".join(said), BODY)
    return flow


def _words(job: Job, setup: Setup, width: float) -> list[Flow]:
    """The parts from the top down, which holes become which, what they are bolted with."""
    blocks = []
    for index, layer in enumerate(setup.layers):
        row, words = Flow(_SAMPLE), Flow(width - _SAMPLE)
        row.picture(key_line(index, _SAMPLE))
        name = f"{LETTERS[index]}  {_layer_said(setup, index, layer)}"
        words.text(name, smaller_if_long(name, words.width, 4.2), bold=index == 0)
        blocks.append(Flow(width))
        blocks[-1].beside(row, words, _SAMPLE)
    fastener = setup.pair.joint.fastener
    size = f"{fastener.size} {fastener.kind}s"
    if fastener.kind == "rivet":
        size = f"{with_unit(fastener.dia, job.unit)} blind rivets"
    said = [(f"{size}, {len(setup.places)} a {pair_word(setup)}", 4.2, False)]
    said += [(job.date.isoformat(), BODY, False)] if job.date is not None else []
    said.append((job.name, BODY, False))
    return [*blocks, *facts_words(said, width)]


def _layer_said(setup: Setup, index: int, layer: Layer) -> str:
    """Say a part's place in the stack and its holes; a follower's by those they are drilled through."""
    name = hand_said(layer.plane.mate)
    own = [place.number for place in setup.places]
    if index == 0:
        there = "is" if len(own) == 1 else "are"
        return f"{name}, on top: {holes_word(own)} {number_list(own)} {there} there"
    numbers = [place.numbers[index - 1] for place in setup.places]
    if numbers == own:
        return f"{name}, below: {holes_word(own)} {number_list(own)} to drill"
    pairs = ", ".join(f"{a} makes {b}" for a, b in sorted(zip(own, numbers, strict=True)))
    return f"{name}, below: {pairs}"


def _cautions(materials: list[str]) -> list[str]:
    found = dict.fromkeys((*cautions("cover"), *for_materials(materials, [])))
    return [text for text in found if any(word in text for word in _HERE)]


def _stuck(job: Job, setup: Stuck, room: Rect) -> Card:
    """The page of a joint that cannot meet as drawn: until it is mended nothing of it may be drilled."""
    names = [f"{holes_word(m.holes)} {number_list(m.holes)} of {hand_said(m)}" for m in follower_names(setup)]
    steps = [Step(f"DO NOT DRILL {' and '.join(names)}: the parts cannot meet as drawn.", large=True)]
    for fault in setup.assembly.faults:
        steps.append(Step(f"{sentence(fault.text)} {sentence(fault.remedy)}"))
    steps.append(Step("Mend the job, print again."))
    said = [(job.name, BODY, False)]
    return Card(
        title=setup.pair.joint.name,
        head=_head(setup, room),
        picture=lambda width, _: Flow(width),
        words=lambda width: facts_words(said, width),
        steps=tuple(steps),
        tail=cautions_words([], room),
    )
