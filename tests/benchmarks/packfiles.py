"""Reads `pack-bench-1` files: rectangles and sheets to a layout problem, and a layout back to their units."""

from __future__ import annotations

import json
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from pathlib import Path
from typing import Any

from nestkit.layout.problem import Box, Layout, Problem, Stock


class BenchmarkError(Exception):
    """A file or a task that the runner cannot take, with what it can."""


@dataclass(frozen=True, slots=True)
class Posed:
    """A task of an instance as a problem. One of its units is ``scale`` steps; ``items[b]`` lists the
    indices of the file's items that box ``b`` stands for, once a copy."""

    instance: dict[str, Any]
    task: dict[str, Any]
    problem: Problem
    scale: int
    items: tuple[tuple[int, ...], ...]


def read_family(folder: Path, name: str) -> dict[str, Any]:
    """Return a family's file; numbers with a point are read as exact fractions."""
    path = folder / f"{name}.json"
    if not path.is_file():
        have = ", ".join(sorted(p.stem for p in folder.glob("*.json"))) or "no family"
        raise BenchmarkError(f"{path} is not there; the folder has {have}")
    family: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"), parse_float=Fraction)
    return family


def sampled(instances: list[dict[str, Any]], sample: int | None) -> list[dict[str, Any]]:
    """Return every instance, or ``sample`` of them spread evenly."""
    if sample is not None and sample < 1:
        raise BenchmarkError(f"a sample of {sample} is none; write --sample 1 or more")
    if sample is None or sample >= len(instances):
        return instances
    return [instances[k * len(instances) // sample] for k in range(sample)]


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
    """Return a task of kind bin2d as a problem."""
    spaces = [Fraction(task.get(key) or 0) for key in ("kerf", "gap", "margin")]
    numbers = [Fraction(n) for item in instance["items"] for n in item[:2]]
    numbers += [Fraction(n) for container in instance["containers"] for n in container[:2]] + spaces
    scale = lcm(*(n.denominator for n in numbers))

    def steps(number: Any) -> int:
        return int(Fraction(number) * scale)

    kerf, gap, margin = (steps(s) for s in spaces)
    goal = task["goal"]
    stocks = tuple(
        Stock(steps(c[0]), steps(c[1]), margin, margin, margin, margin, c[2], price_of(c, goal))
        for c in instance["containers"]
    )
    fixed = instance.get("fixed") or [False] * len(instance["items"])
    kinds: dict[tuple[int, int, bool], list[int]] = {}
    for index, (width, height, quantity) in enumerate(instance["items"]):
        turning = bool(task.get("rot90")) and not fixed[index]
        kinds.setdefault((steps(width), steps(height), turning), []).extend([index] * quantity)
    boxes = tuple(
        Box(w, h, len(copies), ((0, 90) if turning else (0,),) * len(stocks))
        for (w, h, turning), copies in kinds.items()
    )
    problem = Problem(
        boxes, stocks, kerf, max(kerf, gap), bool(task.get("guillotine")), int(task.get("stages") or 0)
    )
    return Posed(instance, task, problem, scale, tuple(tuple(c) for c in kinds.values()))


def number(value: Fraction) -> int | float:
    """Return a number as JSON has it: whole where it is whole."""
    return value.numerator if value.denominator == 1 else float(value)


def bins_of(posed: Posed, layout: Layout) -> list[dict[str, Any]]:
    """Return the sheets of a layout in the instance's units."""
    waiting = [list(reversed(copies)) for copies in posed.items]
    bins = []
    for sheet in layout.sheets:
        rows = [
            [
                waiting[p.box].pop(),
                number(Fraction(p.x, posed.scale)),
                number(Fraction(p.y, posed.scale)),
                p.turn,
            ]
            for p in sheet.placed
        ]
        bins.append({"container": sheet.stock, "items": rows})
    return bins


def left_of(posed: Posed, layout: Layout) -> dict[str, int]:
    """Return how many copies of which item found no place."""
    left: dict[str, int] = {}
    for copies, count in zip(posed.items, layout.left_over, strict=True):
        for index in copies[len(copies) - count :]:
            left[str(index)] = left.get(str(index), 0) + 1
    return left
