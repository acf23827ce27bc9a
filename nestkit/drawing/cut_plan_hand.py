"""The cut plan stick by stick: each kind of stick to scale, its rows in the order in which they are cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nestkit.drawing.cut_plan_blocks import BODY, Block, pictured, space, titled
from nestkit.drawing.cut_plan_rows import LARGE, SMALL, Sizes, piece_row, tick_boxes, word_row
from nestkit.drawing.stick_picture import SIGNS, stick_drawing, stick_scale
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.whole import put_whole
from nestkit.estimate.cut_steps import Mitred, SticksAlike
from nestkit.estimate.cut_words import (
    MITRES,
    SCISSORS,
    TOTAL,
    StockNames,
    become_texts,
    first_text,
    hand_steps,
    last_text,
    left_text,
    mitred_text,
    sticks_title,
    stock_text,
    tight_text,
    unplaced_texts,
    used_text,
)
from nestkit.estimate.saw_steps import as_set
from nestkit.geometry.points import Rect
from nestkit.job.model import BarGroup, Job
from nestkit.layout.bars.result import BarsLayout
from nestkit.text import counted, sentence
from nestkit.trade.cautions import cautions
from nestkit.units import Unit, length_text, with_unit

_MANY = 24
"""With more kinds of sticks than this their rows are smaller."""


def hand_head(job: Job, laid: BarsLayout, kinds: Sequence[SticksAlike], title: str, room: Rect) -> Flow:
    """What is cut with what, what to do, what to mind, and parts that are not in the plan."""
    group, unit = laid.group, job.unit
    flow = titled(title, room)
    pieces = sum(alike.count * alike.pieces for alike in kinds)
    flow.text(" · ".join(_facts(job, group, kinds)), 3.4)
    count = counted(sum(alike.count for alike in kinds), "roll" if group.off_a_roll else "stick")
    flow.text(f"{count}, {counted(pieces, 'piece')}.", 5.2, bold=True)
    if laid.unplaced:
        missing = counted(len(laid.unplaced), "piece")
        flow.text(f"NOT IN THIS PLAN, no stick found: {missing}, below.", 5.2, bold=True)
    if not kinds:
        flow.gap(3.0)
        return flow
    flow.gap(1.5)
    if group.off_a_roll:
        flow.text(SCISSORS, BODY, bold=True)
    else:
        for number, step in enumerate(hand_steps(group.kerf, unit), 1):
            flow.row((str(number), step), (6.0, room.width - 6.0), BODY, bold=True)
        flow.text(TOTAL, BODY)
        flow.text(" ".join(_minded(group)), 3.4)
    flow.text(SIGNS, 3.4)
    flow.gap(3.0)
    return flow


def _facts(job: Job, group: BarGroup, kinds: Sequence[SticksAlike]) -> list[str]:
    facts = [group.section.words]
    if group.way is not None and not group.off_a_roll:
        named = f"{group.way.name}, " if group.way.name else ""
        facts.append(f"{named}kerf {with_unit(group.kerf, job.unit)}")
        trims = {alike.stock.trim for alike in kinds}
        # Where sticks differ each says it for itself.
        facts += (
            [f"trim {with_unit(max(trims), job.unit)} at each end"] if len(trims) == 1 and any(trims) else []
        )
    facts += [job.date.isoformat()] if job.date else []
    return [*facts, job.name]


def _minded(group: BarGroup) -> tuple[str, ...]:
    """Return what to mind when sawing: the shop's own rules first."""
    hollow = group.section.kind in {"tube", "round"}
    return (cautions("defer")[0], *(cautions("tube")[:2] if hollow else cautions("tube")[1:2]))


def unplaced_blocks(laid: BarsLayout, room: Rect) -> Iterator[Block]:
    """Yield the parts that found no stick, one a row, with why."""
    said = unplaced_texts(laid.unplaced)
    for n, text in enumerate(said):
        flow = Flow(room.width)
        if n == 0:
            put_whole(flow, "No stick found", 6.0, least=4.6, bold=True)
        flow.text(text, BODY)
        flow.gap(5.0 if n == len(said) - 1 else 1.0)
        yield Block("", [flow])


def hand_blocks(kinds: Sequence[SticksAlike], names: StockNames, unit: Unit, room: Rect) -> Iterator[Block]:
    """Yield each kind of stick: its picture, then its rows in the order in which they are cut."""
    scale = stick_scale(kinds, room.width - 0.7)
    sizes = SMALL if len(kinds) > _MANY else LARGE
    for alike in kinds:
        rows = _hand_block(alike, names, unit, scale, sizes, room)
        yield Block(sticks_title(alike, names), rows)


def _hand_block(
    alike: SticksAlike, names: StockNames, unit: Unit, scale: float, sizes: Sizes, room: Rect
) -> list[Flow]:
    width = room.width
    top = Flow(width)
    put_whole(top, sticks_title(alike, names), 6.0, least=4.6, bold=True)
    put_whole(top, stock_text(alike, unit), 3.6, least=3.0)
    top.gap(0.8)
    top.picture(stick_drawing(alike, unit, scale=scale))
    top.gap(1.0)
    if alike.count > 1:
        top.picture(tick_boxes(alike.numbers, width))
    alone = alike.count == 1
    rows = []
    if not alike.stock.roll:
        gone = f"gone {length_text(alike.stock.trim, unit)}" if alike.stock.trim else ""
        rows.append(word_row(f"{first_text(alike, unit)}.", gone, width, sizes, box=alone))
    for row, total in zip(alike.rows, alike.totals, strict=True):
        size, out = as_set(row.length, unit)
        said, *more = become_texts(row, alike)
        said += f" ({out})" if out else ""
        gone = f"gone {length_text(min(total, alike.stock.length), unit)}"
        rows.append(piece_row(f"{row.each} x", size, said, gone, width, sizes, box=alone))
        rows += [word_row(parts, "", width, sizes, box=False) for parts in more]
    if mind := tight_text(alike, unit):
        rows.insert(0, word_row(mind, "", width, sizes, box=False, bold=True))
    if mind := last_text(alike, unit):
        rows.append(word_row(mind, "", width, sizes, box=False, bold=True))
    ends = " with the far trim" if alike.stock.trim else ""
    said = f"{used_text(alike, unit)}{ends}. {sentence(left_text(alike, unit))}"
    rows.append(word_row(said, "", width, sizes, box=False, bold=alike.kept))
    top.picture(rows[0])
    return [top, *(pictured(row, width) for row in rows[1:]), space(width, 6.0 if sizes is LARGE else 4.0)]


def mitre_blocks(mitres: Sequence[Mitred], room: Rect) -> Iterator[Block]:
    """Yield the parts that get mitres, one a row."""
    for n, row in enumerate(mitres):
        flow = Flow(room.width)
        if n == 0:
            put_whole(flow, "Mitres: sawn last", 6.0, least=4.6, bold=True)
            flow.text(MITRES, BODY)
            flow.gap(1.0)
        flow.picture(word_row(mitred_text(row), "", room.width, LARGE, box=True))
        yield Block("", [flow])
