"""Quick layouts: parts from large to small, each at the best place, sheet by sheet."""

from __future__ import annotations

from random import Random

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.filling import Filling, fill, in_order, sort_keys
from nestkit.layout.rects.room import RULES
from nestkit.layout.rects.space import Laid, Sheets, Space, score_of, space_of
from nestkit.layout.stop import Stop

FEW_STOCKS = 6
"""Stocks that each sheet is tried on; with more of them the likeliest."""
MANY, VERY_MANY = 400, 10_000
"""From so many parts on, fewer of the ways are tried: each takes long, and differs less from the next."""


def stock_order(space: Space) -> list[int]:
    """Return the stocks that hold any part, cheapest for their area first: what is on hand leads."""
    area = space.sheet_area
    stocks = space.problem.stocks
    able = [s for s in range(len(stocks)) if area[s] and any(space.sizes[s])]
    return sorted(able, key=lambda s: (stocks[s].cost / area[s], -area[s], s))


def worth_trying(space: Space, order: list[int], wanted: int) -> list[int]:
    """Return the stocks that a next sheet is tried on, for parts of an area: all where they are few.

    Of many sizes those cheapest for their area, and the cheapest that might hold all; then those that are
    needed where a part fits no other.
    """
    if len(order) <= FEW_STOCKS:
        return order
    stocks, area = space.problem.stocks, space.sheet_area
    last = min(
        (s for s in order if area[s] >= wanted), key=lambda s: (stocks[s].cost, area[s], s), default=None
    )
    first = order[: FEW_STOCKS - 1]
    return first if last is None or last in first else [*first, last]


def choose_sheet(space: Space, trials: Sheets, wanted: int) -> tuple[int, Laid] | None:
    """Return the trial (stock and what lies on it) that is worth most; None when none holds a part.

    The cheapest that holds all that is wanted, else the least cost for the area laid; sheets that cost
    nothing are compared by how full they are.
    """
    best: tuple[int, Laid] | None = None
    best_rank: tuple[object, ...] = ()
    for stock, laid in trials:
        if not laid:
            continue
        area = sum(space.area[b] for b, _ in laid)
        cost = space.problem.stocks[stock].cost
        price = float(cost) / area
        waste = space.sheet_area[stock] / area
        rank = (0, float(cost), waste, stock) if len(laid) == wanted else (1, price, waste, stock)
        if best is None or rank < best_rank:
            best, best_rank = (stock, laid), rank
    return best


def greedy(space: Space, boxes: list[int], order: list[int], rule: int, *, choose: bool) -> Sheets:
    """Lay boxes, in their order, on sheet after sheet.

    ``choose``: fill one of every stock in ``order`` and keep the best; else take the first that holds
    a part.
    """
    stocks = space.problem.stocks
    used = [0] * len(stocks)
    sheets = []
    while boxes:
        free = [s for s in order if (c := stocks[s].count) is None or used[s] < c]
        likely = worth_trying(space, free, sum(space.area[b] for b in boxes)) if choose else free
        trials: Sheets = []
        for s in [*likely, *(s for s in free if s not in likely)]:
            if any(laid for _, laid in trials) and (not choose or s not in likely):
                break
            sheet = Filling(space, s)
            fill([sheet], boxes, rule, spread=False)
            trials.append((s, sheet.laid))
        chosen = choose_sheet(space, trials, len(boxes))
        if chosen is None:
            break
        used[chosen[0]] += 1
        sheets.append(chosen)
        boxes = _less(boxes, [b for b, _ in chosen[1]])
    return sheets


def _less(boxes: list[int], laid: list[int]) -> list[int]:
    gone: dict[int, int] = {}
    for b in laid:
        gone[b] = gone.get(b, 0) + 1
    rest = []
    for b in boxes:
        if gone.get(b):
            gone[b] -= 1
        else:
            rest.append(b)
    return rest


class Greedy:
    """The best of some greedy layouts: every rule with every order of parts and of stocks."""

    name = "greedy"

    def supports(self, problem: Problem) -> bool:
        """Say whether the solver can lay this problem: always."""
        return True

    def __call__(self, problem: Problem, *, seed: int, stop: Stop, start: Layout | None = None) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``start`` if that is better."""
        space = space_of(problem)
        rng = Random(seed)
        boxes = [b for b, box in enumerate(problem.boxes) for _ in range(box.quantity)]
        cheap = stock_order(space)
        large = sorted(cheap, key=lambda s: (problem.stocks[s].cost > 0, -space.sheet_area[s], s))
        ways = [(cheap, False)]
        if len(set(space.extent)) > 1:
            ways += [(large, False), (cheap, True)]
        best = start or space.layout([])
        keys = sort_keys(space)
        few = keys[:1] + keys[3:4]
        work = len(boxes) * min(len(cheap), FEW_STOCKS)
        for key in keys if work < MANY else few:
            for rule in range(len(RULES) if len(boxes) < VERY_MANY else 1):
                for order, choose in ways:
                    if stop(score_of(problem, best)):
                        return best
                    ordered = in_order(boxes, key, 0, rng)
                    layout = space.layout(greedy(space, ordered, order, rule, choose=choose))
                    if score_of(problem, layout) < score_of(problem, best):
                        best = layout
        return best
