"""The same parts on the same sheet with fewer saw cuts, where strips can hold them."""

from __future__ import annotations

from random import Random

from nestkit.layout.cuts import saw_plan
from nestkit.layout.rects.space import Laid, Space, rectangles
from nestkit.layout.rects.strips import Way, fill_strips
from nestkit.layout.sawing import Piece


def with_few_cuts(space: Space, stock: int, laid: Laid, rng: Random, tries: int) -> Laid:
    """Return what lies on a sheet as the try in strips that takes the fewest cuts, or as it is."""
    counts = [0] * len(space.area)
    for box, _ in laid:
        counts[box] += 1
    best, least = laid, cuts_of(space, stock, laid)
    for attempt in range(tries):
        noise = 0.0 if attempt < 4 else 0.5 * rng.random()
        key = tuple(1 + noise * (2 * rng.random() - 1) for _ in counts)
        way = Way(attempt % 2 == 0, ("long", "deep")[attempt // 2 % 2], key)
        trial = fill_strips(space, stock, counts, way, space.problem.depth >= 3)
        if len(trial) < len(laid) or (space.sawable is not None and not space.sawable(rectangles(trial))):
            continue
        cuts = cuts_of(space, stock, trial)
        if cuts < least:
            best, least = trial, cuts
    return best


def cuts_of(space: Space, stock: int, laid: Laid) -> int:
    """Return how many saw cuts free what lies on a sheet."""
    problem = space.problem
    sheet = problem.stocks[stock]
    parts = []
    for p in space.sheet(stock, laid).placed:
        w, h = problem.boxes[p.box].size(p.turn)
        parts.append(Piece(p.x, p.y, p.x + w, p.y + h))
    plan = saw_plan(
        Piece(0, 0, sheet.width, sheet.height),
        parts,
        kerf=problem.kerf,
        gap=problem.gap,
        first=problem.first,
        prefer="few cuts",
        least_rest=0,
    )
    return len(plan.cuts)
