"""Bounds that cost some work, for when quick layouts leave a gap to the quick bounds."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from nestkit.layout.bounding.columns import Aim, Columns, Program
from nestkit.layout.bounding.covering import Demand, cheapest_sheets
from nestkit.layout.bounding.demands import demands_of
from nestkit.layout.bounding.in_words import SHARES_WHY
from nestkit.layout.bounding.sheets import SheetOf
from nestkit.layout.bounding.view import View
from nestkit.layout.bounds import Bounds, bounds_by, view_for
from nestkit.layout.linear import prices_of
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.engine.twin import Form

MOST_PIECES, MOST_ON_A_SHEET = 1500, 16
"""With more pieces, or more on a sheet on average, there are too many sets to look at."""
CLOSE = 1e-3
"""With sheets of several prices a search ends when it could raise the bound by less than this share of it."""
WORK = {"plain": 10_000, "compiled": 3_000_000}
"""Work that is worth while before a long search: at most some two seconds, a third of one in plain Python."""


def stronger(
    problem: Problem,
    bounds: Bounds,
    layout: Layout,
    *,
    form: Form,
    work: int | None = None,
    boxes_only: bool = False,
    ended: Callable[[], bool] = lambda: False,
) -> Bounds:
    """Return better bounds where some are found with so much work; ``layout`` lays all parts.

    ``form`` (of :mod:`nestkit.layout.bounding.form`) prices sheets: plain Python does some 50,000 of ``work``
    in a second, the compiled form two million; None means what ``WORK`` says. ``boxes_only`` as in
    :func:`~nestkit.layout.bounds.bounds_of`. ``ended`` says whether the user ended the search.
    """
    if bounds.cost is None or bounds.sheets is None or any(layout.left_over):
        return bounds
    number, pieces = len(layout.sheets), sum(b.quantity for b in problem.boxes)
    if bounds.reached_by(layout.cost(problem), number):
        return bounds
    if pieces > MOST_PIECES or pieces > MOST_ON_A_SHEET * number:
        return bounds
    view = view_for(problem, boxes_only=boxes_only)
    columns = _columns(problem, view, layout, form, WORK[form.name] if work is None else work, ended)
    demands = demands_of(view)
    demands += _by_price(view, columns, layout, bounds, problem)
    demands += _by_refuting(view, columns, demands, layout, problem)
    found = bounds_by(view, demands)
    if found.cost is None or found.sheets is None:
        return bounds
    sheets = max(bounds.sheets, found.sheets, key=lambda b: b.value)
    if found.cost.value < bounds.cost.value:
        # More demands are more to search, and a search cut short may say less.
        return Bounds(sheets, bounds.cost, bounds.fewest)
    return Bounds(sheets, found.cost if found.cost.value > bounds.cost.value else bounds.cost, found.fewest)


def _columns(
    problem: Problem, view: View, layout: Layout, form: Form, work: int, ended: Callable[[], bool]
) -> Columns:
    """Return the sets to begin with: the sheets of a layout, and each part alone."""
    # The view leaves out boxes of which none is needed.
    needed = [b for b, box in enumerate(problem.boxes) if box.quantity]
    seen = {b: i for i, b in enumerate(needed)}
    order = sorted(range(len(needed)), key=lambda i: (-view.area[i], i))
    kind = {i: k for k, i in enumerate(order)}
    program = Program([view.quantity[i] for i in order], len(view.rooms))
    for sheet in layout.sheets:
        parts = tuple(kind[seen[p.box]] for p in sheet.placed if p.box in seen)
        if parts:
            program.add(sheet.stock, parts)
    for i in order:
        for s, ways in enumerate(view.ways[i]):
            if ways:
                program.add(s, (kind[i],))
    sheets = tuple(SheetOf(view, s, order, form) for s in range(len(view.rooms)))
    return Columns(sheets, tuple(view.quantity[i] for i in order), program, work, ended)


def _by_price(view: View, columns: Columns, layout: Layout, bounds: Bounds, problem: Problem) -> list[Demand]:
    """Return the demand that asks most money; with one price for all, or none, most sheets."""
    costs, known = list(view.costs), bounds.cost
    if len(set(costs)) == 1 or not layout.cost(problem):
        costs, known = [Fraction(1)] * len(costs), bounds.sheets
    paid, dearest = sum(costs[s.stock] for s in layout.sheets), max(costs)
    prices, whole = prices_of(costs)
    most, least = float(paid / dearest), float(known.value / dearest) if known else 0.0
    whole = max(whole, CLOSE * most) if len(set(prices)) > 1 else whole
    demand = columns.best(Aim(prices, view.counts), SHARES_WHY, least, most - whole, whole)
    return [] if demand is None else [demand]


def _by_refuting(
    view: View, columns: Columns, demands: list[Demand], layout: Layout, problem: Problem
) -> list[Demand]:
    """Return demands that the cheapest sets of sheets do not meet, each set in its turn."""
    found: list[Demand] = []
    if len(view.rooms) == 1:
        return found
    prices = (0.0,) * len(view.costs)
    while columns.goes_on():
        covered = cheapest_sheets([*demands, *found], list(view.costs), list(view.counts))
        if covered is None or covered.sheets is None or covered.cost >= layout.cost(problem):
            break
        aim = Aim(prices, view.counts, covered.sheets)
        demand = columns.best(aim, SHARES_WHY, 1.0, 1.0, 1e-9)
        if demand is None:
            break
        held = sum(n * g for n, g in zip(covered.sheets, demand.gives, strict=True))
        if demand.need <= held:
            break
        found.append(demand)
    return found
