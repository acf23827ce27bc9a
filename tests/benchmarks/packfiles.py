"""Reads `pack-bench-1` files: rectangles and sheets to a layout problem, and a layout back to their units."""

from __future__ import annotations

import json
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from pathlib import Path
from typing import Any, NamedTuple

from nestkit.layout.problem import Box, Layout, Problem, Stock


class BenchmarkError(Exception):
    """A file or a task that the runner cannot take, with what it can."""


class Kind(NamedTuple):
    """Parts that are alike: size in steps, whether they may turn, what one is worth in value problems."""

    width: int
    height: int
    turning: bool
    worth: Fraction


@dataclass(frozen=True, slots=True)
class Posed:
    """A task of an instance as a problem. One of its units is ``scale`` steps; ``items[b]`` lists the
    indices of the file's items that box ``b`` stands for, once a copy."""

    instance: dict[str, Any]
    task: dict[str, Any]
    problem: Problem
    scale: int
    kinds: tuple[Kind, ...]
    items: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """What a task came to: the goal's value (None while parts are left over), what no layout can beat,
    sheets and parts left over as the record has them."""

    value: Fraction | None
    bound: Fraction
    bins: list[dict[str, Any]]
    left: dict[str, int]


@dataclass(frozen=True, slots=True)
class Measure:
    """The lengths of a task in whole steps, ``scale`` to one of the instance's units."""

    scale: int
    kerf: int
    gap: int
    margin: int

    def steps(self, length: Any) -> int:
        """Return a length of the file in steps."""
        return int(Fraction(length) * self.scale)


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


def measure_of(instance: dict[str, Any], task: dict[str, Any]) -> Measure:
    """Return the coarsest steps in which all lengths are whole. Parts keep a kerf at least."""
    kerf, gap, margin = (Fraction(task.get(key) or 0) for key in ("kerf", "gap", "margin"))
    lengths = [kerf, gap, margin]
    lengths += [Fraction(n) for item in instance["items"] for n in item[:2]]
    lengths += [Fraction(n) for container in instance["containers"] for n in container[:2] if n is not None]
    scale = lcm(*(n.denominator for n in lengths))
    return Measure(scale, int(kerf * scale), int(max(kerf, gap) * scale), int(margin * scale))


def kinds_of(instance: dict[str, Any], task: dict[str, Any], measure: Measure) -> dict[Kind, list[int]]:
    """Return the kinds of parts with the file's items that they stand for, once a copy."""
    count = len(instance["items"])
    fixed = instance.get("fixed") or [False] * count
    worths = instance["values"] if task["goal"] == "max_value" else [0] * count
    kinds: dict[Kind, list[int]] = {}
    for index, (width, height, quantity) in enumerate(instance["items"]):
        turning = bool(task.get("rot90")) and not fixed[index]
        kind = Kind(measure.steps(width), measure.steps(height), turning, Fraction(worths[index]))
        kinds.setdefault(kind, []).extend([index] * quantity)
    return kinds


def posed(
    instance: dict[str, Any],
    task: dict[str, Any],
    measure: Measure,
    kinds: dict[Kind, list[int]],
    stocks: tuple[Stock, ...],
) -> Posed:
    """Return the task of laying kinds of parts on stocks."""
    boxes = tuple(
        Box(k.width, k.height, len(copies), ((0, 90) if k.turning else (0,),) * len(stocks))
        for k, copies in kinds.items()
    )
    saw, stages = bool(task.get("guillotine")), int(task.get("stages") or 0)
    problem = Problem(boxes, stocks, measure.kerf, measure.gap, saw, stages)
    items = tuple(tuple(copies) for copies in kinds.values())
    return Posed(instance, task, problem, measure.scale, tuple(kinds), items)


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
