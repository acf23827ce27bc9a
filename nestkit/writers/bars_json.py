"""The bars of layout.json: sticks with what is cut from them."""

from __future__ import annotations

from typing import Any

from nestkit.geometry.section import Section
from nestkit.layout.bars.result import BarsLayout, CutStick
from nestkit.units import decimal_text, grid_down, grid_mm
from nestkit.writers.numbers import number, up

Object = dict[str, Any]


def bars_object(laid: BarsLayout) -> Object:
    """Return one group of sticks as plain objects, in millimetres.

    ``section`` is as a job writes it, in mm. ``trim_mm`` is that of all sticks used, null where they differ:
    each stick has its own beside it.
    """
    group = laid.group
    trims = {up(stick.stock.trim) for stick in laid.sticks} or {up(bar.trim) for bar in group.bars}
    least_sticks, least_cost = laid.least_sticks, laid.least_cost
    return {
        "material": group.material,
        "section": _section(group.section),
        "kerf_mm": number(up(group.kerf)),
        "trim_mm": number(trims.pop()) if len(trims) == 1 else None,
        "cost_in": laid.cost_in,
        "sticks": [_stick(stick) for stick in laid.sticks],
        "unplaced": [
            {"part": u.tube.name, "copy": u.copy, "opposite_hand": u.opposite_hand, "why": u.why}
            for u in laid.unplaced
        ],
        "sticks_used": len(laid.sticks),
        "cost": number(laid.cost),
        "least_sticks": None if least_sticks is None else number(least_sticks.value),
        "least_cost": None if least_cost is None else number(least_cost.value),
        "proved": laid.proved,
    }


def _section(section: Section) -> str:
    word = "" if section.kind == "tube" else f"{section.kind} "
    return f"{word}{' x '.join(decimal_text(size) for size in section.sizes)} mm"


def _stick(stick: CutStick) -> Object:
    return {
        "stock": stick.stock.name,
        # As the layout sees it: what is finer than its grid is cut off.
        "length_mm": number(grid_mm(grid_down(stick.stock.length))),
        "trim_mm": number(up(stick.stock.trim)),
        "price": number(stick.cost),
        "on_hand": stick.on_hand,
        "left_mm": number(stick.left),
        "parts": [
            {
                "part": p.tube.name,
                "copy": p.copy,
                "opposite_hand": p.opposite_hand,
                "start_mm": number(p.start),
                "length_mm": number(p.length),
            }
            for p in stick.parts
        ],
    }
