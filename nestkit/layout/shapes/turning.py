"""Angles for parts that may lie at any: eighth turns, slanting edges laid level, and what lets a part fit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely

from nestkit.layout.shapes.convex import polygon_of
from nestkit.layout.shapes.problem import Kind, Plate, Shape, ShapesProblem
from nestkit.layout.shapes.states import matrix_of

EIGHTHS = tuple(45.0 * k for k in range(8))
SLANTS = ((12, 2), (30, 1))
"""With at most so many kinds that may lie at any angle, so many slanting edges of each are laid level."""
LEVEL = 1e-3
"""Degrees within which an edge counts as level, or an angle as one that is there already."""
STEP = 0.5
"""Degrees between angles that are tried for a part which fits no plate otherwise."""


def with_more_turns(problem: ShapesProblem) -> ShapesProblem | None:
    """Return a problem whose kinds that may lie at any angle have more turns; None where no kind may.

    All turns that they had stay.
    """
    free = [k for k in problem.kinds if k.any_turn]
    if not free:
        return None
    number = next((slants for most, slants in SLANTS if len(free) <= most), 0)
    kinds = tuple(
        replace(k, turns=_turns(k, number, problem.plates)) if k.any_turn else k for k in problem.kinds
    )
    return replace(problem, kinds=kinds)


def _turns(kind: Kind, slants: int, plates: Sequence[Plate]) -> tuple[float, ...]:
    found = [*kind.turns]
    for turn in (*EIGHTHS, *_levelling(kind.shape, slants)):
        if all(abs((turn - other + 180) % 360 - 180) > LEVEL for other in found):
            found.append(turn)
    if not any(_slack(kind.shape, turn, plates) >= 0 for turn in found):
        angles = [STEP * k for k in range(round(360 / STEP))]
        found.append(max(angles, key=lambda angle: (_slack(kind.shape, angle, plates), -angle)))
    return tuple(found)


def _levelling(shape: Shape, number: int) -> list[float]:
    """Return the turns that lay the longest slanting edges of a shape's hull level or upright."""
    ring = shapely.get_coordinates(polygon_of(shape).convex_hull)
    runs = np.diff(ring, axis=0)
    lengths = np.hypot(runs[:, 0], runs[:, 1])
    found: list[float] = []
    for k in np.argsort(-lengths, kind="stable"):
        turn = round(-math.degrees(math.atan2(runs[k, 1], runs[k, 0])) % 90, 9)
        if len(found) < number and all(LEVEL < abs(turn - other) < 90 - LEVEL for other in (0.0, *found)):
            found.append(turn)
    return [(turn + 90 * quarter) % 360 for turn in found for quarter in range(4)]


def _slack(shape: Shape, turn: float, plates: Sequence[Plate]) -> float:
    """Return how much smaller a turned shape is than the plate that holds it best; negative: none does."""
    size = np.ptp(np.asarray(shape.outer) @ matrix_of(turn, False).T, axis=0)
    return max(min(p.width - float(size[0]), p.height - float(size[1])) for p in plates)
