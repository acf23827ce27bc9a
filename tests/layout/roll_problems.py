"""Problems off a roll made for tests, what their answers must keep, and least lengths found in other ways."""

from __future__ import annotations

import random
from fractions import Fraction

from ortools.sat.python import cp_model

from nestkit.layout.problem import Box, Layout, Problem, Stock
from tests.layout.checked import check_layout
from tests.layout.oracle import ways
from tests.layout.reference import ALONG, Reference

Size = tuple[int, int]
LONG = 1000


def roll(width: int, cost: int | Fraction = 1, length: int = LONG, **border: int) -> Stock:
    """Return a roll; a step of its length has a cost."""
    edges = dict.fromkeys(("left", "right", "bottom", "top"), 0) | border
    return Stock(width, length, **edges, count=1, cost=Fraction(cost), roll=True, name=f"roll {width}")


def off_rolls(
    sizes: list[Size] | list[tuple[int, int, int]],
    *rolls: Stock,
    turning: bool = False,
    gap: int = 0,
    **more: object,
) -> Problem:
    """Return a problem of boxes: width, height, and a quantity if it is not one."""
    turns = ((0, 90) if turning else (0,),) * len(rolls)
    boxes = tuple(Box(w, h, *(more_of or (1,)), turns) for w, h, *more_of in sizes)
    return Problem(boxes, rolls, gap if more.get("edge_to_edge") else 0, gap, **more)


def check_roll(problem: Problem, layout: Layout) -> None:
    """Assert that a layout keeps every rule and is one piece at most."""
    check_layout(problem, layout)
    assert len(layout.sheets) <= 1


def cut_up(width: int, length: int, parts: int, rng: random.Random) -> list[Size]:
    """Return the parts of a piece that is cut up from edge to edge without any waste, shuffled."""
    pieces = [(width, length)]
    while len(pieces) < parts:
        w, h = pieces.pop(max(range(len(pieces)), key=lambda i: pieces[i][0] * pieces[i][1]))
        if w > h or (w == h and rng.random() < 0.5):
            at = rng.randint(w // 4 or 1, w - (w // 4 or 1))
            pieces += [(at, h), (w - at, h)]
        else:
            at = rng.randint(h // 4 or 1, h - (h // 4 or 1))
            pieces += [(w, at), (w, h - at)]
    rng.shuffle(pieces)
    return pieces


def least_length_free(problem: Problem) -> int:
    """Return the least length of single parts off one roll without border, cut along any path, by CP-SAT."""
    (stock,) = problem.stocks
    width, most = stock.width + problem.gap, sum(max(b.width, b.height) + problem.gap for b in problem.boxes)
    model = cp_model.CpModel()
    length = model.new_int_var(0, most, "")
    across, up = [], []
    for part in range(len(problem.boxes)):
        lying = []
        for w, h in ways(problem, part):
            if w > width:
                continue
            here = model.new_bool_var("")
            lying.append(here)
            x, y = model.new_int_var(0, width - w, ""), model.new_int_var(0, most - h, "")
            across.append(model.new_optional_fixed_size_interval_var(x, w, here, ""))
            up.append(model.new_optional_fixed_size_interval_var(y, h, here, ""))
            model.add(y + h <= length).only_enforce_if(here)
        model.add_exactly_one(lying)
    model.add_no_overlap_2d(across, up)
    model.minimize(length)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = 30
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value) - problem.gap


def least_length_sawn(problem: Problem) -> int | None:
    """Return the least length of single parts off one roll under a saw, by trying every cut; None: no way."""
    reference, gap = Reference(problem), problem.gap
    (stock,) = problem.stocks
    every = (1 << len(problem.boxes)) - 1

    def fits(length: int) -> bool:
        size = stock.width + gap, length + gap
        return any(reference.fits(every, *size, axis, reference.stages) for axis in ALONG[problem.first])

    low, high = 1, sum(max(b.width, b.height) + gap for b in problem.boxes)
    if not fits(high):
        return None
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle + 1, high)
    return low
