"""What a job takes: stock to buy, cost, weight, holes to drill, length to cut; of bars apart."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction

from nestkit.estimate.bars import BarRow, BarsEstimate, bar_rows, bars_estimate
from nestkit.job.model import Group, Job
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout, PlacedPart
from nestkit.parts.bought import Bought
from nestkit.parts.panel import Panel
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import How, Way
from nestkit.trade.materials import MaterialRow, density
from nestkit.trade.rules import rule

TWO_PEOPLE_KG = 20.0
"""From this weight a sheet needs two people (cautions: estimates)."""

HOLE_RULE = "R107"
"""Minutes to mark, punch, pilot, drill and deburr a hole by hand."""


@dataclass(frozen=True, slots=True)
class StockRow:
    """One stock: how many to buy, how many are taken from what is on hand, what it costs.

    ``price`` is for one, ``cost`` for those bought; both are None where the job gives no price.
    Off a roll ``stock`` is the piece that is cut off, and one is bought.
    """

    stock: Sheet
    buy: int
    on_hand: int
    price: Fraction | None
    cost: Fraction | None


@dataclass(frozen=True, slots=True)
class BoughtRow:
    """A bought-in part: how many, what they cost; None without a price."""

    part: Bought
    buy: int
    cost: Fraction | None


@dataclass(frozen=True, slots=True)
class Weight:
    """Kilograms of the parts, of the full sheets (or the piece off a roll), of the heaviest; the density."""

    parts: float
    sheets: float
    heaviest: float
    material: MaterialRow


@dataclass(frozen=True, slots=True)
class GroupEstimate:
    """One group: its pieces, and what its sheets take to make.

    ``weight`` is None for a material that the tables do not know. ``drilled`` holes are made by
    hand, ``machined`` ones by the machine that cuts. ``saw_cuts`` and ``saw_mm`` count straight
    cuts; ``contour_mm`` is the way of the cutter's or beam's centre round edges, openings and holes (by
    jigsaw: along edges and openings).
    """

    group: Group
    how: How
    sheets: int
    pieces: int
    yield_share: float
    weight: Weight | None
    drilled: int
    machined: int
    saw_cuts: int
    saw_mm: Fraction
    contour_mm: float


@dataclass(frozen=True, slots=True)
class Estimate:
    """A whole job. ``cost`` is what stock and bought-in parts with prices cost, None where none has a price.

    ``m2`` and ``metres`` are what has to be bought of sheets and bars without prices. ``minutes`` are for all
    holes drilled by hand: least, typical, most.
    """

    rows: tuple[StockRow, ...]
    groups: tuple[GroupEstimate, ...]
    bar_rows: tuple[BarRow, ...]
    bars: tuple[BarsEstimate, ...]
    cost: Fraction | None
    m2: Fraction
    metres: Fraction
    minutes: tuple[Fraction, Fraction, Fraction]
    minutes_said: str
    bought: tuple[BoughtRow, ...] = ()

    @property
    def buys(self) -> bool:
        """Say whether anything has to be bought."""
        stock = any(row.buy for row in self.rows) or any(row.buy for row in self.bar_rows)
        return stock or bool(self.bought)

    @property
    def drilled(self) -> int:
        """Holes that are drilled by hand; one through both walls of a tube counts twice."""
        return sum(g.drilled for g in self.groups) + sum(b.drilled for b in self.bars)


def estimate(job: Job, layout: JobLayout) -> Estimate:
    """Return what a job takes as it is laid out."""
    groups = tuple(_group(g) for g in layout.groups)
    bars = tuple(bars_estimate(b) for b in layout.bars)
    costs: dict[str, list[Fraction]] = {"price": [], "m2": [], "m": []}
    for laid in layout.every:
        costs[laid.cost_in].append(laid.cost)
    hours = rule(HOLE_RULE)
    zero = Fraction(0)
    bought = tuple(_bought(part) for part in job.bought if part.quantity)
    costs["price"] += [row.cost for row in bought if row.cost is not None]
    holes = sum(g.drilled for g in groups) + sum(b.drilled for b in bars)
    least, typical, most = (holes * (m or zero) for m in (hours.least, hours.typical, hours.most))
    return Estimate(
        _rows(job, layout),
        groups,
        bar_rows(job, layout),
        bars,
        sum(costs["price"], zero) if costs["price"] else None,
        sum(costs["m2"], zero),
        sum(costs["m"], zero),
        (least, typical, most),
        hours.said(),
        bought,
    )


def _bought(part: Bought) -> BoughtRow:
    return BoughtRow(part, part.quantity, None if part.price is None else part.quantity * part.price)


def _rows(job: Job, layout: JobLayout) -> tuple[StockRow, ...]:
    """Return a row for each stock that is used, in the job's order."""
    sheets = [s for g in layout.groups for s in g.sheets]
    bought = Counter(s.stock.name for s in sheets if not s.on_hand)
    taken = Counter(s.stock.name for s in sheets if s.on_hand)
    rows = []
    pieces = {s.stock.name: s.stock for s in sheets if s.stock.roll}
    for kind in job.sheets:
        buy, on_hand = bought[kind.name], taken[kind.name]
        if not buy and not on_hand:
            continue
        stock = pieces.get(kind.name, kind)
        price = stock.full_price
        cost = None if price is None and buy else buy * (price or Fraction(0))
        rows.append(StockRow(stock, buy, on_hand, price, cost))
    return tuple(rows)


def _group(laid: GroupLayout) -> GroupEstimate:
    group, way = laid.group, laid.group.way
    parts = [p for s in laid.sheets for p in s.parts]
    drilled = sum(way.by_hand(hole.dia) for p in parts for hole in p.panel.holes)
    cuts = [cut for s in laid.sheets for cut in s.cuts]
    return GroupEstimate(
        group,
        way.how,
        len(laid.sheets),
        len(parts),
        laid.yield_share,
        _weight(group, laid.sheets, parts),
        drilled,
        sum(len(p.panel.holes) for p in parts) - drilled,
        len(cuts),
        sum((cut.end - cut.start for cut in cuts), Fraction(0)),
        0.0 if way.edge_to_edge else sum(contour_length(p.panel, way) for p in parts),
    )


def net_area(panel: Panel) -> float:
    """Return a panel's area in square mm without its openings and holes."""
    holes = sum(math.pi * hole.dia**2 / 4 for hole in panel.holes)
    return panel.outline.area - sum(o.outline.area for o in panel.openings) - holes


def contour_length(panel: Panel, way: Way) -> float:
    """Return the way in mm that the middle of the cut makes round one panel.

    Round a closed edge it is longer by pi times the width of the cut, in an opening or hole shorter
    by as much (sharp inner corners left out of account). Holes that are drilled do not count.
    """
    wider = math.pi * float(way.kerf)
    openings = sum(max(o.outline.length - wider, 0.0) for o in panel.openings)
    holes = sum(math.pi * h.dia - wider for h in panel.holes if not way.by_hand(h.dia))
    return panel.outline.length + wider + openings + holes


def sheet_kg(stock: Sheet, material: MaterialRow) -> float:
    """Return what a full sheet weighs: width x length x real thickness x density."""
    return float(stock.width * stock.height * stock.thickness * material.density / 1_000_000_000)


def _weight(group: Group, sheets: tuple[CutSheet, ...], parts: list[PlacedPart]) -> Weight | None:
    material = density(group.material)
    if material is None:
        return None
    factor = float(group.thickness * material.density) / 1e9
    full = [sheet_kg(s.stock, material) for s in sheets]
    return Weight(sum(net_area(p.panel) for p in parts) * factor, sum(full), max(full, default=0.0), material)
