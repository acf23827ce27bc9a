"""The cut plan by settings of a stop block: all pieces of one length together, the longest first.

Where all are of one length that is said in a few lines below the sticks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nestkit.drawing.cut_plan_blocks import BODY, Block, space, table_row, text_row, titled
from nestkit.drawing.cut_plan_rows import setting_row
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.whole import put_whole
from nestkit.estimate.cut_steps import StopSetting
from nestkit.estimate.cut_words import (
    STOP_SHORT,
    StockNames,
    parts_texts,
    stop_steps,
    stop_texts,
    take_texts,
)
from nestkit.estimate.saw_steps import as_set
from nestkit.geometry.points import Rect
from nestkit.text import counted
from nestkit.trade.cautions import cautions
from nestkit.units import Unit

_TAKES = (0.27, 0.19, 0.18, 0.36)
_SETTINGS = (0.1, 0.2, 0.13, 0.57)
"""Columns of the tables, as shares of their width."""
_MANY_RUNS = 5
"""With more runs of numbers than this they do not stand in a column of a table."""
_NAMES = 4.6
_FEW = 4
"""With more kinds of sticks than this a single setting has its table."""


def stop_head(settings: Sequence[StopSetting], title: str, room: Rect, *, mitres: bool, below: bool) -> Flow:
    """What to do, how many settings, and what comes after; ``below``: the first way stands on the page."""
    flow = titled(title, room)
    pieces = sum(setting.pieces for setting in settings)
    if not below:
        flow.text("The other way: instead of stick by stick, all pieces of one length together.", 3.6)
        flow.text(f"{counted(len(settings), 'setting')}, {counted(pieces, 'piece')}.", 5.2, bold=True)
    if pieces == len(settings) > 1:
        flow.text("Every length comes once: by hand saw, stick by stick, is as quick.", BODY)
    flow.gap(1.5)
    for number, step in enumerate(stop_steps(), 1):
        flow.row((str(number), step), (6.0, room.width - 6.0), BODY, bold=True)
    if mitres:
        flow.text("Mitred parts are sawn square too, at full length: for their mitres see the sticks.", BODY)
    if not below:
        flow.text(cautions("defer")[0], 3.4)
    flow.gap(3.0)
    return flow


def said_shortly(settings: Sequence[StopSetting]) -> bool:
    """Say whether a stop block is set once and for all, for few kinds of sticks."""
    return len(settings) == 1 and len(settings[0].takes) <= _FEW


def short_block(setting: StopSetting, names: StockNames, unit: Unit, room: Rect) -> Iterator[Block]:
    """Yield the only setting, with what to do at it; a single piece needs no stop."""
    if setting.pieces == 1:
        return
    size, out = as_set(setting.length, unit)
    heading, *rest = stop_texts(setting, names, size)
    flow = Flow(room.width)
    put_whole(flow, heading, 6.6, least=4.6, bold=True)
    for said in (*rest, f"The stop is {out}." if out else "", STOP_SHORT):
        flow.text(said, BODY)
    flow.gap(6.0)
    yield Block("", [flow])


def stop_blocks(
    settings: Sequence[StopSetting], names: StockNames, unit: Unit, room: Rect
) -> Iterator[Block]:
    """Yield each setting with the sticks that are cut at it, where they are and where they go."""
    for setting in settings:
        size, out = as_set(setting.length, unit)
        top = Flow(room.width)
        pieces = counted(setting.pieces, "piece")
        top.picture(setting_row(f"Setting {setting.number}", f"Stop {size}", pieces, room.width))
        named, *more = parts_texts(setting.parts)
        top.text(f"{named} (the stop is {out})" if out else named, _NAMES, bold=True)
        rows = [text_row(parts, _NAMES, room, bold=True) for parts in more]
        for take in setting.takes:
            which, *cells = take_texts(take, names, unit)
            if which.count(",") > _MANY_RUNS:
                rows.append(text_row(which, BODY, room))
                which = ""
            rows.append(table_row((which, *cells), _TAKES, BODY, room))
        top.add(rows[0])
        rows = [top, *rows[1:], space(room.width, 4.0)]
        yield Block(f"Setting {setting.number}, stop {size}", rows)


def at_a_glance(
    settings: Sequence[StopSetting], names: StockNames, unit: Unit, room: Rect
) -> Iterator[Block]:
    """Yield a table of all settings, where there are several: length, pieces, sticks."""
    if len(settings) < 2:
        return
    widths = [share * room.width for share in _SETTINGS]
    top = Flow(room.width)
    top.gap(2.0)
    top.text("All settings", 6.0, bold=True)
    top.row(("no.", "stop", "pieces", "from"), widths, BODY, bold=True)
    for setting in settings:
        sticks = "; ".join(names.which(take.sticks) for take in setting.takes)
        size = as_set(setting.length, unit)[0]
        row = table_row((str(setting.number), size, str(setting.pieces), sticks), _SETTINGS, BODY, room)
        if setting.number > 1:
            yield Block("", [row])
        else:
            top.add(row)
            yield Block("", [top])
