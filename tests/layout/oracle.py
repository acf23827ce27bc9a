"""Best layouts of a few parts found in other ways than the solvers': by a constraint solver, by hand of code.

Sizes are small whole numbers; the gap is added to parts and sheets as the problem asks.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import combinations

from ortools.sat.python import cp_model

from nestkit.layout.problem import Box, Problem, Stock

Size = tuple[int, int]


def small_problem(
    sizes: list[Size],
    stocks: list[tuple[int, int, int]],
    *,
    turning: bool,
    gap: int = 0,
    edge_to_edge: bool = False,
    stages: int = 0,
    first: str = "any",
) -> Problem:
    """Return a problem of single parts; a stock is width, height and cost."""
    turns = ((0, 90) if turning else (0,),) * len(stocks)
    return Problem(
        tuple(Box(w, h, 1, turns) for w, h in sizes),
        tuple(Stock(w, h, 0, 0, 0, 0, None, Fraction(c)) for w, h, c in stocks),
        gap if edge_to_edge else 0,
        gap,
        edge_to_edge,
        stages,
        first,
    )


def ways(problem: Problem, part: int) -> list[Size]:
    """Return the sizes, grown by the gap, in which a part may lie."""
    box = problem.boxes[part]
    sizes = {box.size(t) for t in box.turns[0]}
    return sorted((w + problem.gap, h + problem.gap) for w, h in sizes)


def least_cost_free(problem: Problem) -> int:
    """Return the least cost of a free layout, proved by CP-SAT: sheets as optional room, no overlap."""
    model = cp_model.CpModel()
    count = len(problem.boxes)
    cost = []
    choices: list[list[cp_model.IntVar]] = [[] for _ in range(count)]
    for stock in problem.stocks:
        before = None
        width, height = stock.width + problem.gap, stock.height + problem.gap
        for _ in range(count):
            used = model.new_bool_var("")
            if before is not None:
                model.add_implication(used, before)
            before = used
            cost.append(int(stock.cost) * used)
            across, up = [], []
            for part in range(count):
                for w, h in ways(problem, part):
                    if w > width or h > height:
                        continue
                    here = model.new_bool_var("")
                    choices[part].append(here)
                    model.add_implication(here, used)
                    x = model.new_int_var(0, width - w, "")
                    y = model.new_int_var(0, height - h, "")
                    across.append(model.new_optional_fixed_size_interval_var(x, w, here, ""))
                    up.append(model.new_optional_fixed_size_interval_var(y, h, here, ""))
            model.add_no_overlap_2d(across, up)
    for part in range(count):
        model.add_exactly_one(choices[part])
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = 60
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def least_cost_sawn(problem: Problem) -> int:
    """Return the least cost of an edge-to-edge layout, by building every box that cuts can fall into."""
    count = len(problem.boxes)
    stages = problem.stages or count
    axes = {"x": (1,), "y": (0,), "any": (0, 1)}[problem.first]
    every = (1 << count) - 1

    @cache
    def built(parts: int, axis: int, depth: int) -> frozenset[Size]:
        """Return the boxes of ``parts`` whose last joint lies across ``axis``, in ``depth`` stages."""
        if parts & (parts - 1) == 0:
            return frozenset(ways(problem, parts.bit_length() - 1))
        if depth == 0:
            return frozenset()
        found = set()
        lowest = parts & -parts
        one = (parts - 1) & parts
        while one:
            if one & lowest:
                for a in half(one, axis, depth):
                    for b in half(parts ^ one, axis, depth):
                        if axis == 0:
                            found.add((a[0] + b[0], max(a[1], b[1])))
                        else:
                            found.add((max(a[0], b[0]), a[1] + b[1]))
            one = (one - 1) & parts
        return frozenset(s for s in found if not any(t != s and t[0] <= s[0] and t[1] <= s[1] for t in found))

    def half(parts: int, axis: int, depth: int) -> frozenset[Size]:
        return built(parts, axis, depth) | built(parts, 1 - axis, depth - 1)

    @cache
    def on_one(parts: int) -> int | None:
        """Return the cost of the cheapest single sheet that holds ``parts``."""
        boxes = {b for axis in axes for b in built(parts, axis, stages)}
        fitting = [
            int(s.cost)
            for s in problem.stocks
            if any(w <= s.width + problem.gap and h <= s.height + problem.gap for w, h in boxes)
        ]
        return min(fitting, default=None)

    @cache
    def best(parts: int) -> int:
        if not parts:
            return 0
        lowest = (parts & -parts).bit_length() - 1
        others = [i for i in range(count) if parts >> i & 1 and i != lowest]
        found = []
        for number in range(len(others) + 1):
            for chosen in combinations(others, number):
                sheet = 1 << lowest | sum(1 << i for i in chosen)
                cost = on_one(sheet)
                if cost is not None:
                    found.append(cost + best(parts ^ sheet))
        return min(found)

    return best(every)
