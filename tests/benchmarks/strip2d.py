"""Tasks of kind strip2d: all parts on one roll, along the least of its length."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from packfiles import Answer, BenchmarkError, Posed, bins_of, kinds_of, left_of, measure_of, posed

from nestkit.layout.efforts import Effort
from nestkit.layout.problem import Stock
from nestkit.layout.solve import solve


def pose(instance: dict[str, Any], task: dict[str, Any]) -> Posed:
    """Return a task as a problem: one roll, long enough for all parts one behind the other.

    A step of its length costs 1. A container's own height does not count.
    """
    if task["goal"] != "min_height":
        raise BenchmarkError(f"the goal {task['goal']} is not known here for a strip; known is min_height")
    measure = measure_of(instance, task)
    kinds = kinds_of(instance, task, measure)
    longest = 2 * measure.margin + sum(
        len(copies) * (max(k.width, k.height) + measure.gap) for k, copies in kinds.items()
    )
    width = measure.steps(instance["containers"][0][0])
    roll = Stock(width, longest, *(measure.margin,) * 4, 1, Fraction(1), roll=True)
    return posed(instance, task, measure, kinds, (roll,))


def lay(posed: Posed, *, seed: int, effort: Effort, stop: Callable[[], bool] | None) -> Answer:
    """Lay out one task; the value is the length used, both margins with it."""
    problem = posed.problem
    solved = solve(problem, seed=seed, effort=effort, stop=stop)
    layout, least = solved.layout, solved.bounds.cost
    used = sum(problem.length_used(sheet) for sheet in layout.sheets)
    return Answer(
        None if any(layout.left_over) else Fraction(used, posed.scale),
        least.value / posed.scale if least else Fraction(0),
        bins_of(posed, layout),
        left_of(posed, layout),
    )
