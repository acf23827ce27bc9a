"""layout.json: the result for programs."""

from __future__ import annotations

import json
from typing import Any

from nestkit import __version__
from nestkit.estimate.estimate import Estimate
from nestkit.job.model import Job
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout
from nestkit.units import grid_down, grid_mm
from nestkit.writers.bars_json import bars_object
from nestkit.writers.lists import buy_rows
from nestkit.writers.numbers import number, up
from nestkit.writers.plan import sheet_files

Object = dict[str, Any]

M2_PLACES = 9
"""Decimals of a cost in square metres: a sheet in whole tenths of a millimetre is exact with eight.

Also of the cost of a length off a roll.
"""


def result_object(job: Job, layout: JobLayout, estimate: Estimate) -> Object:
    """Return what ``nest`` and ``estimate`` print as JSON: the layout and the rows of the buy list."""
    return {**layout_object(job, layout), "buy": buy_rows(job, estimate)}


def layout_json(job: Job, layout: JobLayout) -> str:
    """Return the text of layout.json."""
    return json.dumps(layout_object(job, layout), ensure_ascii=False, indent=1) + "\n"


def layout_object(job: Job, layout: JobLayout) -> Object:
    """Return a laid out job as plain objects: millimetres, at most six decimals, whole numbers whole."""
    files = {
        (sheet.stock.name, sheet.number): f"sheets/{stem}" for _, sheet, stem in sheet_files(job, layout)
    }
    compiled = any(g.engine == "compiled" for g in layout.groups)
    return {
        "nestkit": __version__,
        "job": job.name,
        "seed": layout.seed,
        "effort": layout.effort,
        "engine": "compiled" if compiled else "plain",
        "stopped": layout.stopped,
        "groups": [_group(g, files) for g in layout.groups],
        "bars": [bars_object(b) for b in layout.bars],
    }


def _group(laid: GroupLayout, files: dict[tuple[str, int], str]) -> Object:
    group = laid.group
    places = M2_PLACES if laid.cost_in == "m2" or group.off_a_roll else 6
    sides = {side: number(up(getattr(group.margin, side))) for side in ("left", "right", "bottom", "top")}
    least_sheets, least_cost = laid.least_sheets, laid.least_cost
    return {
        "material": group.material,
        "thickness_mm": number(group.thickness),
        "how": group.way.how,
        "kerf_mm": number(up(group.way.kerf)),
        "gap_mm": number(up(group.gap)),
        "margin_mm": sides,
        "cost_in": laid.cost_in,
        "sheets": [_sheet(s, files[s.stock.name, s.number], places) for s in laid.sheets],
        "unplaced": [
            {"part": u.panel.name, "copy": u.copy, "opposite_hand": u.opposite_hand, "why": u.why}
            for u in laid.unplaced
        ],
        "sheets_used": len(laid.sheets),
        "cost": number(laid.cost, places),
        "least_sheets": None if least_sheets is None else number(least_sheets.value),
        "least_cost": None if least_cost is None else number(least_cost.value, places),
        "proved": laid.proved,
        "yield": number(laid.yield_share),
    }


def _sheet(sheet: CutSheet, files: str, places: int) -> Object:
    return {
        "stock": sheet.stock.name,
        "files": files,
        # As the layout sees it: what is finer than its grid is cut off a sheet.
        "width_mm": number(grid_mm(grid_down(sheet.stock.width))),
        "height_mm": number(grid_mm(grid_down(sheet.stock.height))),
        "price": number(sheet.cost, places),
        "on_hand": sheet.on_hand,
        "parts": [
            {
                "part": p.panel.name,
                "copy": p.copy,
                "opposite_hand": p.opposite_hand,
                "x_mm": number(p.x),
                "y_mm": number(p.y),
                "turn_deg": number(p.turn % 360, 9),
            }
            for p in sheet.parts
        ],
        "offcuts": [
            {
                "x_mm": number(o.x),
                "y_mm": number(o.y),
                "width_mm": number(o.width),
                "height_mm": number(o.height),
            }
            for o in sheet.offcuts
        ],
        "cuts": [
            {
                "step": c.step,
                "piece": c.piece,
                "axis": c.axis,
                "at_mm": number(c.at),
                "from_mm": number(c.start),
                "to_mm": number(c.end),
            }
            for c in sheet.cuts
        ],
    }
