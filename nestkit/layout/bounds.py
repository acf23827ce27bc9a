"""What no layout of all parts can beat: least sheets and least cost, each with its reason.

Every bound counts parts as boxes that keep their distance and forgets the saw's edge-to-edge cuts,
so it holds for these too.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, lcm

from nestkit.layout.bounding.covering import Demand, cheapest
from nestkit.layout.bounding.demands import demands_of
from nestkit.layout.bounding.in_words import InWords
from nestkit.layout.bounding.view import View, distance_along, view_of
from nestkit.layout.problem import Problem
from nestkit.layout.proof import Bound


@dataclass(frozen=True, slots=True)
class Bounds:
    """Both bounds; None where the sheets that there are cannot hold all parts.

    ``fewest`` is the least number of sheets of layouts of the least ``cost``: a cheap set of small sheets
    may be more than the ``sheets`` that would do. Where the cost is not reached it says nothing.
    """

    sheets: Bound | None
    cost: Bound | None
    fewest: int = 0

    def reached_by(self, cost: Fraction, sheets: int) -> bool:
        """Say whether no layout of all parts costs less, nor the same with fewer sheets."""
        if self.sheets is None or self.cost is None:
            return False
        return cost <= self.cost.value and (sheets <= self.sheets.value or sheets <= self.fewest)


def holds_for_all(problem: Problem) -> bool:
    """Say whether parts fill their boxes and keep the whole gap along x or y in every layout."""
    solid = problem.edge_to_edge or not any(b.hull for b in problem.boxes)
    return solid and distance_along(problem) == problem.gap


def bounds_of(problem: Problem, *, boxes_only: bool = False) -> Bounds:
    """Return the bounds of a problem.

    ``boxes_only``: for layouts whose boxes keep the gap along x or y, which is how the solvers lay
    them; a stronger bound that ends their search, but not one that every layout must keep.
    """
    view = view_for(problem, boxes_only=boxes_only)
    if not any(view.quantity):
        nothing = Bound(Fraction(0), "there is nothing to lay")
        return Bounds(nothing, nothing)
    return bounds_by(view, demands_of(view))


def view_for(problem: Problem, *, boxes_only: bool) -> View:
    """Return a problem as bounds see it; see :func:`bounds_of`."""
    gap = problem.gap if boxes_only else distance_along(problem)
    return view_of(problem, gap, solid=boxes_only or problem.edge_to_edge)


def bounds_by(view: View, demands: list[Demand]) -> Bounds:
    """Return the bounds that demands make."""
    words = InWords(view, demands)
    sheets = _settle(words, [Fraction(1)] * len(view.costs), money=False)
    cost = _settle(words, list(view.costs), money=True)
    if sheets is None or cost is None:
        return Bounds(sheets, cost)
    return Bounds(sheets, cost, max(int(sheets.value), _fewest(view, demands, cost.value)))


def _fewest(view: View, demands: list[Demand], cost: Fraction) -> int:
    """Return the least number of sheets that meet all demands for a cost; 0 where nothing is found."""
    if len(set(view.costs)) == 1:
        return 0
    # A sheet counts so little beside its cost that all sheets together do not change which set is cheapest.
    pieces = sum(view.quantity)
    step = Fraction(1, lcm(*(c.denominator for c in view.costs)) * (pieces + 1))
    value = cheapest(demands, [c + step for c in view.costs], list(view.counts))
    return 0 if value is None else max(0, ceil((value - cost) / step))


def _settle(words: InWords, costs: list[Fraction], *, money: bool) -> Bound | None:
    """Return the bound for a cost of each sheet, with its reason; ``money``: it is what they cost."""
    view, demands = words.view, words.demands
    if any(not any(rows) for rows in view.ways):
        return None
    value = cheapest(demands, costs, list(view.counts))
    if value is None:
        return None
    if value == 0:
        return Bound(value, "what is on hand costs nothing")
    return Bound(value, words.reason(costs, value, money=money))
