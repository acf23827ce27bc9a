"""Tasks of kind bin2d: all parts on the fewest, smallest or cheapest sheets."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from packfiles import Answer, BenchmarkError, Posed, bins_of, kinds_of, left_of, measure_of, posed

from nestkit.layout.efforts import Effort
from nestkit.layout.problem import Stock
from nestkit.layout.solve import solve


def price_of(container: list[Any], goal: str) -> Fraction:
    """Return what one sheet counts for under a goal."""
    width, height, _, cost = container
    if goal == "min_bins":
        return Fraction(1)
    if goal == "min_area":
        return Fraction(width) * Fraction(height)
    if goal == "min_cost":
        return Fraction(cost)
    raise BenchmarkError(f"the goal {goal} is not known here; known are min_bins, min_area and min_cost")


def pose(instance: dict[str, Any], task: dict[str, Any]) -> Posed:
    """Return a task as a problem."""
    measure = measure_of(instance, task)
    stocks = tuple(
        Stock(
            measure.steps(c[0]), measure.steps(c[1]), *(measure.margin,) * 4, c[2], price_of(c, task["goal"])
        )
        for c in instance["containers"]
    )
    return posed(instance, task, measure, kinds_of(instance, task, measure), stocks)


def lay(posed: Posed, *, seed: int, effort: Effort, stop: Callable[[], bool] | None) -> Answer:
    """Lay out one task."""
    solved = solve(posed.problem, seed=seed, effort=effort, stop=stop)
    layout, least = solved.layout, solved.bounds.cost
    value = None if any(layout.left_over) else layout.cost(posed.problem)
    return Answer(
        value, least.value if least else Fraction(0), bins_of(posed, layout), left_of(posed, layout)
    )
