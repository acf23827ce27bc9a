"""From a group of panels and sheets to a problem of boxes, and from its answer back to copies."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.job.model import Group
from nestkit.layout.bounding.hulls import hull_of, least_side_of
from nestkit.layout.problem import Box, Hull, Problem, Stock
from nestkit.parts.panel import Panel, allowed_turns
from nestkit.stock.sheet import Sheet
from nestkit.units import grid_down, grid_mm, grid_up


@dataclass(frozen=True, slots=True)
class Copy:
    """One copy of a panel: its number counts from 1 per panel and hand."""

    panel: Panel
    number: int
    opposite_hand: bool


@dataclass(frozen=True, slots=True)
class Supply:
    """Where a stock of the problem comes from: a sheet of the job, on hand or to be bought."""

    sheet: Sheet
    on_hand: bool


@dataclass(frozen=True, slots=True)
class Built:
    """A problem and what its numbers mean.

    ``copies[b]`` are the copies that box ``b`` stands for, the needed ones first in the order in
    which they are to find a place; the last ``problem.extra[b]`` are those laid only if there is room.
    """

    problem: Problem
    supplies: tuple[Supply, ...]
    copies: tuple[tuple[Copy, ...], ...]
    cost_in: Literal["price", "m2"]


def copies_of(panel: Panel) -> tuple[list[Copy], ...]:
    """Return a panel's copies: asked for, spares, spares only if there is room.

    With faces alike all copies lie as drawn and are numbered over both hands.
    """
    rows = panel.numbered(one_hand=panel.faces == "alike")
    return tuple([Copy(panel, number, opposite) for number, opposite in row] for row in rows)


def cost_unit(group: Group) -> Literal["price", "m2"]:
    """Return what the group's sheets are counted in: their price, or square metres without prices."""
    return "price" if any(s.price is not None for s in group.sheets) else "m2"


def supplies_of(group: Group) -> tuple[Supply, ...]:
    """Return the stocks of a group: of each sheet first what is on hand, then what can be bought."""
    found = []
    for sheet in group.sheets:
        if sheet.on_hand:
            found.append(Supply(sheet, True))
        if sheet.buy:
            found.append(Supply(sheet, False))
    return tuple(found)


def cost_of(supply: Supply, cost_in: Literal["price", "m2"]) -> Fraction:
    """Return what one sheet costs here: nothing on hand, else its price or its square metres.

    Of a roll it is what a grid step of its length costs.
    """
    if supply.on_hand:
        return Fraction(0)
    sheet = supply.sheet.cut_off(grid_mm(1)) if supply.sheet.roll else supply.sheet
    return sheet.area_m2 if cost_in == "m2" else sheet.full_price or Fraction(0)


def problem_of(group: Group) -> Built:
    """Return the layout problem of a group, in grid steps: parts and gaps rounded up, sheets down."""
    supplies = supplies_of(group)
    cost_in = cost_unit(group)
    margin = group.margin
    stocks = tuple(
        Stock(
            grid_down(s.sheet.width),
            grid_down(s.sheet.height),
            left=grid_up(margin.left),
            right=grid_up(margin.right),
            bottom=grid_up(margin.bottom),
            top=grid_up(margin.top),
            count=s.sheet.on_hand if s.on_hand else 1 if s.sheet.roll else None,
            cost=cost_of(s, cost_in),
            roll=s.sheet.roll,
            name=s.sheet.name,
        )
        for s in supplies
    )
    least_side = 0.0 if group.way.edge_to_edge else least_side_of(group.panels)
    kinds: dict[tuple[int, int, tuple[tuple[int, ...], ...], Hull | None], list[list[Copy]]] = {}
    for panel in group.panels:
        turns = tuple(allowed_turns(panel.turn, panel.grain, s.sheet.grain) for s in supplies)
        hull = None if group.way.edge_to_edge else hull_of(panel, least_side)
        key = (grid_up(panel.width), grid_up(panel.height), turns, hull)
        # Equal boxes are one kind to a solver, whatever panel and hand they are.
        rows = kinds.setdefault(key, [[], [], []])
        for row, more in zip(rows, copies_of(panel), strict=True):
            row += more
    way = group.way
    problem = Problem(
        boxes=tuple(
            Box(w, h, len(asked) + len(spares), turns, hull)
            for (w, h, turns, hull), (asked, spares, _) in kinds.items()
        ),
        stocks=stocks,
        kerf=grid_up(way.kerf),
        gap=grid_up(group.gap),
        edge_to_edge=way.edge_to_edge,
        stages=way.stages if way.edge_to_edge else 0,
        first=way.first if way.edge_to_edge else "any",
        prefer=way.prefer,
        extra=tuple(len(extras) for _, _, extras in kinds.values()),
    )
    copies = tuple((*asked, *spares, *extras) for asked, spares, extras in kinds.values())
    return Built(problem, supplies, copies, cost_in)
