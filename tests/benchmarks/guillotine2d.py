"""Tasks of kind guillotine2d: what is worth most on one sheet, cut from edge to edge if the task says so."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import lcm
from typing import Any

from packfiles import Answer, BenchmarkError, Kind, Posed, bins_of, kinds_of, measure_of, posed

from nestkit.layout.efforts import Effort
from nestkit.layout.problem import Stock


def pose(instance: dict[str, Any], task: dict[str, Any]) -> Posed:
    """Return a task as a problem: one sheet, and no more copies of a part than could lie on it."""
    if task["goal"] != "max_value":
        raise BenchmarkError(f"the goal {task['goal']} is not known here for a value; known is max_value")
    if len(instance["containers"]) != 1:
        raise BenchmarkError(f"{instance['name']} has several containers; a value problem has one")
    measure = measure_of(instance, task)
    width, height = (measure.steps(n) for n in instance["containers"][0][:2])
    sheet = Stock(width, height, *(measure.margin,) * 4, 1, Fraction(1))
    kinds = kinds_of(instance, task, measure)
    kinds = at_most(kinds, sheet.usable, measure.gap, unlimited=bool(task.get("unlimited")))
    return posed(instance, task, measure, kinds, (sheet,))


def at_most(
    kinds: dict[Kind, list[int]], room: tuple[int, int], gap: int, *, unlimited: bool
) -> dict[Kind, list[int]]:
    """Return the kinds that fit, with no more copies than the room's area allows: as many if unlimited."""
    area = (room[0] + gap) * (room[1] + gap)
    found = {}
    for kind, copies in kinds.items():
        most = area // ((kind.width + gap) * (kind.height + gap))
        ways = [(kind.width, kind.height), (kind.height, kind.width)][: 1 + kind.turning]
        if most and any(w <= room[0] and h <= room[1] for w, h in ways):
            found[kind] = copies[:1] * most if unlimited else copies[:most]
    return found


def lay(posed: Posed, *, seed: int, effort: Effort, stop: Callable[[], bool] | None) -> Answer:
    """Lay out one task. Parts that do not lie on the sheet are not left over: they are not worth it."""
    from nestkit.layout.rects.value import most_value

    scale = lcm(*(k.worth.denominator for k in posed.kinds))
    values = tuple(int(k.worth * scale) for k in posed.kinds)
    found = most_value(posed.problem, values, seed=seed, effort=effort, stop=stop)
    return Answer(
        Fraction(found.value) / scale, Fraction(found.bound) / scale, bins_of(posed, found.layout), {}
    )
