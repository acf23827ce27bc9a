"""One picture of all sticks of a group, for a screen: each kind once, to scale, and what it gives."""

from __future__ import annotations

from nestkit.drawing.model import Drawing
from nestkit.drawing.stick_picture import stick_drawing, stick_scale
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.whole import put_whole
from nestkit.estimate.cut_steps import sticks_alike
from nestkit.estimate.cut_words import (
    StockNames,
    left_text,
    pieces_text,
    sticks_title,
    stock_text,
    used_text,
)
from nestkit.layout.bars.result import BarsLayout
from nestkit.text import counted
from nestkit.units import Unit

WIDTH = 150.0
"""Narrow, so that its words can be read on a phone."""
MOST = 12
"""Kinds of sticks that are drawn; of more it says how many there are."""
_EDGE = 0.5


def sticks_picture(laid: BarsLayout, unit: Unit) -> Drawing | None:
    """Return the sticks of a group in one picture, the first kinds of very many; None without a stick."""
    kinds = sticks_alike(laid)
    if not kinds:
        return None
    names, scale = StockNames(kinds, unit), stick_scale(kinds, WIDTH)
    flow = Flow(WIDTH)
    for alike in kinds[:MOST]:
        put_whole(flow, sticks_title(alike, names), 5.0, least=3.6, bold=True)
        flow.text(stock_text(alike, unit), 3.4)
        flow.gap(1.0)
        flow.picture(stick_drawing(alike, unit, scale=scale))
        flow.gap(1.0)
        for row in alike.rows:
            flow.text(pieces_text(row, alike, unit), 3.8)
        flow.text(f"{used_text(alike, unit)}; {left_text(alike, unit)}.", 3.4)
        flow.gap(5.0)
    more = kinds[MOST:]
    if more:
        sticks = counted(sum(alike.count for alike in more), "roll" if more[0].stock.roll else "stick")
        flow.text(f"And {counted(len(more), 'more kind')}, {sticks}: see the cut plan.", 4.4, bold=True)
    height = flow.height + 2 * _EDGE
    title = f"sticks of {laid.group.material}, drawn to scale"
    return Drawing(WIDTH + 2 * _EDGE, height, flow.marks(_EDGE, height - _EDGE), title)
