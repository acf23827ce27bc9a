"""What the bars of a job take: sticks to buy, cost, weight, holes to drill, cuts."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction

from nestkit.job.model import BarGroup, Job
from nestkit.layout.bars.result import BarsLayout, CutStick
from nestkit.layout.result import JobLayout
from nestkit.stock.bar import Bar
from nestkit.stock.section import kg_per_m
from nestkit.trade.materials import MaterialRow, density


@dataclass(frozen=True, slots=True)
class BarRow:
    """One stock length: how many to buy, how many are taken from what is on hand, what it costs.

    ``price`` is for one, None where the job gives none; ``cost`` is for those bought, 0 where none is, and
    None where they have no price.
    """

    stock: Bar
    buy: int
    on_hand: int
    price: Fraction | None
    cost: Fraction | None


@dataclass(frozen=True, slots=True)
class BarWeight:
    """Kilograms of the parts, of all sticks, of the heaviest one; the density. Holes are not taken off."""

    parts: float
    sticks: float
    heaviest: float
    material: MaterialRow


@dataclass(frozen=True, slots=True)
class BarsEstimate:
    """One group of tubes: its pieces, and what its sticks take to make.

    ``used_share`` is the length of the parts over that of the sticks. ``weight`` is None where the tables
    know no density, and off a roll. ``drilled`` counts walls: a hole through both is two. ``cuts`` are those
    that square a stick's end, one after each part where it is not the stick's own end, and the mitres.
    """

    group: BarGroup
    sticks: int
    pieces: int
    used_share: float
    weight: BarWeight | None
    drilled: int
    cuts: int
    mitres: int


def bar_rows(job: Job, layout: JobLayout) -> tuple[BarRow, ...]:
    """Return a row for each stock length that is used, in the job's order."""
    sticks = [s for laid in layout.bars for s in laid.sticks]
    bought = Counter(s.stock.name for s in sticks if not s.on_hand)
    taken = Counter(s.stock.name for s in sticks if s.on_hand)
    return tuple(
        BarRow(bar, buy, taken[bar.name], bar.price, _cost(bar, buy))
        for bar in job.bars
        if (buy := bought[bar.name]) or taken[bar.name]
    )


def _cost(bar: Bar, buy: int) -> Fraction | None:
    """Return what ``buy`` sticks cost; sticks on hand are free, with a price or without one."""
    if not buy:
        return Fraction(0)
    return None if bar.price is None else buy * bar.price


def bars_estimate(laid: BarsLayout) -> BarsEstimate:
    """Return what a group of tubes takes as it is laid out."""
    parts = [p for s in laid.sticks for p in s.parts]
    full = sum(s.stock.length for s in laid.sticks)
    mitres = sum(m is not None for p in parts for m in p.tube.mitres)
    return BarsEstimate(
        laid.group,
        len(laid.sticks),
        len(parts),
        float(sum(p.tube.length for p in parts) / full) if full else 0.0,
        _weight(laid),
        sum(len(p.tube.marks) for p in parts),
        sum(_cuts(s) for s in laid.sticks) + mitres,
        mitres,
    )


def _cuts(stick: CutStick) -> int:
    """Return how many square cuts a stick takes."""
    last = stick.parts[-1]
    own_end = not stick.stock.trim and last.start + last.length >= stick.stock.length
    return len(stick.parts) + bool(stick.stock.trim) - own_end


def _weight(laid: BarsLayout) -> BarWeight | None:
    group = laid.group
    material, per_m = density(group.material), kg_per_m(group.section, group.material)
    if material is None or per_m is None:
        return None
    sticks = [float(s.stock.length) / 1000 * per_m for s in laid.sticks]
    parts = sum(float(p.tube.length) for s in laid.sticks for p in s.parts) / 1000 * per_m
    return BarWeight(parts, sum(sticks), max(sticks, default=0.0), material)
