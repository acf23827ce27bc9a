"""What no layout of all parts can beat: least sheets and least cost, each with its reason.

Every bound counts parts as boxes that keep their distance and forgets the saw's edge-to-edge cuts,
so it holds for these too.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nestkit.layout.covering import Demand, cheapest
from nestkit.layout.demands import demands_of
from nestkit.layout.problem import Problem
from nestkit.layout.result import Bound
from nestkit.layout.view import View, distance_along, view_of

SEVERAL_WHY = "no {} has room enough for the parts"


@dataclass(frozen=True, slots=True)
class Bounds:
    """Both bounds; None where the sheets that there are cannot hold all parts."""

    sheets: Bound | None
    cost: Bound | None


def holds_for_all(problem: Problem) -> bool:
    """Say whether parts fill their boxes and keep the whole gap along x or y in every layout."""
    solid = problem.edge_to_edge or not any(b.hull for b in problem.boxes)
    return solid and distance_along(problem) == problem.gap


def bounds_of(problem: Problem, *, boxes_only: bool = False) -> Bounds:
    """Return the bounds of a problem.

    ``boxes_only``: for layouts whose boxes keep the gap along x or y, which is how the solvers lay
    them; a stronger bound that ends their search, but not one that every layout must keep.
    """
    gap = problem.gap if boxes_only else distance_along(problem)
    view = view_of(problem, gap, solid=boxes_only or problem.edge_to_edge)
    if not any(view.quantity):
        nothing = Bound(Fraction(0), "there is nothing to lay")
        return Bounds(nothing, nothing)
    demands = demands_of(view)
    sheets = _settle(view, demands, [Fraction(1)] * len(view.costs), "smaller number of sheets")
    return Bounds(sheets, _settle(view, demands, list(view.costs), "cheaper set of sheets"))


def _settle(view: View, demands: list[Demand], costs: list[Fraction], word: str) -> Bound | None:
    """Return the bound for a cost of each sheet, with the plainest demand that gives it alone as reason."""
    if any(not any(rows) for rows in view.ways):
        return None
    value = cheapest(demands, costs, list(view.counts))
    if value is None:
        return None
    if value == 0:
        return Bound(value, "what is on hand costs nothing")
    if value == 1 and set(costs) == {1}:
        return Bound(value, "parts take at least one sheet")
    # With sheets of several sizes the reason is seldom one demand alone, and long to look for.
    one_size = len(set(view.rooms)) == 1
    for demand in demands if one_size else demands[:1]:
        if cheapest([demand], costs, list(view.counts)) == value:
            text = demand.why.format(demand.ratio())
            return Bound(value, text if one_size else text.replace(" sheets", " of the largest sheets"))
    return Bound(value, SEVERAL_WHY.format(word))
