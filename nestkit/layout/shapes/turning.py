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
WAYS = ((2, EIGHTHS, 130), (1, EIGHTHS, 130), (0, EIGHTHS, 370), (0, (), 10**9))
"""Slanting edges laid level, further turns, and the most states that all kinds may have with them."""
LEVEL = 1e-3
"""Degrees within which an edge counts as level, or an angle as one that is there already."""
STEP, FINER = 0.5, (0.05, 0.005, 0.0005)
"""Degrees between angles tried for a part that fits a plate in no other turn, at first and then."""


def with_more_turns(problem: ShapesProblem) -> ShapesProblem | None:
    """Return a problem whose kinds that may lie at any angle have more turns; None where none gains any.

    All turns that they had stay. Tables grow with the square of all turns, so many kinds get fewer each.
    """
    kinds = problem.kinds
    for slants, turns, most in WAYS:
        kinds = tuple(_turned(k, slants, turns, problem.plates) if k.any_turn else k for k in problem.kinds)
        if sum(len(k.turns) * (2 if k.either_hand else 1) for k in kinds) <= most:
            break
    return None if kinds == problem.kinds else replace(problem, kinds=kinds)


def _turned(kind: Kind, slants: int, turns: Sequence[float], plates: Sequence[Plate]) -> Kind:
    found = [*kind.turns]
    for turn in (*turns, *_levelling(kind.shape, slants)):
        if all(abs((turn - other + 180) % 360 - 180) > LEVEL for other in found):
            found.append(turn)
    for plate in plates:
        if not any(slack(kind.shape, turn, [plate]) >= 0 for turn in found):
            turn = _best_angle(kind.shape, plate)
            if slack(kind.shape, turn, [plate]) >= 0:
                found.append(turn)
    return replace(kind, turns=tuple(found))


def _best_angle(shape: Shape, plate: Plate) -> float:
    """Return the angle at which a shape leaves most of a plate free both ways."""
    angles = [STEP * k for k in range(round(180 / STEP))]
    best = max(angles, key=lambda angle: (slack(shape, angle, [plate]), -angle))
    for step in FINER:
        angles = [round(best + step * k, 9) for k in range(-10, 11)]
        best = max(angles, key=lambda angle: (slack(shape, angle, [plate]), -angle))
    return best % 360


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


def slack(shape: Shape, turn: float, plates: Sequence[Plate]) -> float:
    """Return how much smaller a turned shape is than the plate that holds it best; negative: none does."""
    size = np.ptp(np.asarray(shape.outer) @ matrix_of(turn, False).T, axis=0)
    return max(min(p.width - float(size[0]), p.height - float(size[1])) for p in plates)
