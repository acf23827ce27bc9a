"""Relief of inner corners: a round that reaches past the corner, so that a square part sits home in it."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.reach import SEEN, left_in_corner

ROOM = 0.1
"""Millimetres by which the round's radius is above the cutter's, so that the cutter can follow it."""


@dataclass(frozen=True, slots=True)
class Relieved:
    """An outline with its inner corners relieved: how many, and at which corners there was no room."""

    outline: Outline
    count: int
    left: tuple[Point, ...] = ()


@functools.lru_cache(maxsize=512)
def relieved(outline: Outline, cutter: float, *, opening: bool) -> Relieved:
    """Return an outline whose sharp inner corners each have a round through their tip.

    ``cutter`` is the radius of the cutter in mm. Relieved are corners of 90 degrees or more between straight
    sides that are long enough; into a more acute one the cutter could not go without cutting its sides.
    The outline runs counter-clockwise; of an ``opening`` the material lies outside.
    """
    taken, left = _room(outline, cutter, 1 if opening else -1)
    if not taken:
        return Relieved(outline, 0, left)
    shaped: list[Vertex] = []
    count = len(outline.vertices)
    for i, corner in enumerate(outline.vertices):
        if i not in taken:
            shaped.append(corner)
            continue
        before, at, after = (outline.vertices[k % count].point for k in (i - 1, i, i + 1))
        start, end = _towards(at, before, taken[i]), _towards(at, after, taken[i])
        # The round turns by twice as much as the corner, and the same way.
        shaped.append(Vertex(start.x, start.y, math.tan(_turn(before, at, after) / 2)))
        shaped.append(Vertex(end.x, end.y))
    return Relieved(Outline(tuple(shaped)), len(taken), left)


def _room(outline: Outline, cutter: float, side: int) -> tuple[dict[int, float], tuple[Point, ...]]:
    """Return what the round takes from both sides of each corner that is relieved, and the corners left."""
    count = len(outline.vertices)
    taken: dict[int, float] = {}
    left: list[Point] = []
    for i, corner in enumerate(outline.vertices):
        before, at, after = (outline.vertices[k % count].point for k in (i - 1, i, i + 1))
        turn = _turn(before, at, after) * side
        curved = outline.vertices[i - 1].bulge or corner.bulge
        if curved or turn <= 0 or left_in_corner(turn, cutter) <= SEEN:
            continue
        away = 2 * (cutter + ROOM) * math.sin(turn / 2)
        room = min(
            before.to(at) - taken.get((i - 1) % count, 0.0), at.to(after) - taken.get((i + 1) % count, 0.0)
        )
        if turn > math.pi / 2 + 1e-6 or away >= room - SEEN:
            left.append(at)
        else:
            taken[i] = away
    return taken, tuple(left)


def _turn(before: Point, at: Point, after: Point) -> float:
    ax, ay, bx, by = at.x - before.x, at.y - before.y, after.x - at.x, after.y - at.y
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _towards(start: Point, end: Point, length: float) -> Point:
    share = length / start.to(end)
    return Point(start.x + (end.x - start.x) * share, start.y + (end.y - start.y) * share)
