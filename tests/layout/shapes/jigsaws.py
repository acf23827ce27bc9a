"""Sheets cut into pieces at random, and a judge of what was laid that knows shapely and the problem alone."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations
from typing import Literal

import numpy as np
import shapely
from shapely import affinity, ops

from nestkit.layout.efforts import EFFORTS
from nestkit.layout.shapes.problem import Kind, LaidPlate, Plate, Shape, ShapesLayout, ShapesProblem
from nestkit.layout.shapes.sheets import solve

SLIP = 1e-9
"""By what share of a plate's size pieces may miss: what floats are out by."""
ONE, HALVES, QUARTERS = (0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0)
Way = Literal["lines", "bends", "steps"]


def pieces_of(
    rng: random.Random, number: int, width: float, height: float, way: Way
) -> list[shapely.Polygon]:
    """Return a sheet cut into so many pieces, the largest piece always next, none of them a sliver.

    "lines" are straight at any slope; "bends" turn at a point inside, so that one side has an inner corner;
    "steps" turn there twice. Points on the sheet's edge lie there to the last digit.
    """
    pieces = [shapely.box(0, 0, width, height)]
    while len(pieces) < number:
        pieces.sort(key=lambda p: -p.area)
        halves = list(ops.split(pieces[0], _cut(rng, pieces[0], width + height, way)).geoms)
        if len(halves) == 2 and all(p.area > 0.2 * pieces[0].area and _stout(p) for p in halves):
            pieces[:1] = halves
    return [shapely.transform(p, lambda points: _on_edges(points, (width, height))) for p in pieces]


def _on_edges(points: np.ndarray, size: tuple[float, float]) -> np.ndarray:
    far = np.array(size)
    points = np.where(np.abs(points) < 1e-9, 0.0, points)
    return np.where(np.abs(points - far) < 1e-9, far, points)


def _cut(rng: random.Random, piece: shapely.Polygon, far: float, way: Way) -> shapely.LineString:
    x0, y0, x1, y1 = piece.bounds
    middle = piece.centroid
    x, y = middle.x + rng.uniform(-0.2, 0.2) * (x1 - x0), middle.y + rng.uniform(-0.2, 0.2) * (y1 - y0)
    turn = rng.uniform(0, math.tau)
    if way == "lines":
        return shapely.LineString([_along(x, y, turn, far), _along(x, y, turn + math.pi, far)])
    if way == "bends":
        bend = rng.choice([math.pi / 2, rng.uniform(1.2, 2.6)])
        return shapely.LineString([_along(x, y, turn, far), (x, y), _along(x, y, turn + bend, far)])
    step = _along(x, y, turn + math.pi / 2, 0.3 * math.sqrt(piece.area))
    return shapely.LineString(
        [_along(x, y, turn, far), (x, y), step, _along(step[0], step[1], turn + math.pi, far)]
    )


def _along(x: float, y: float, turn: float, far: float) -> tuple[float, float]:
    return x + far * math.cos(turn), y + far * math.sin(turn)


def _stout(piece: shapely.Polygon) -> bool:
    """Say whether a piece is still there when much of it is taken off all round."""
    return not shapely.buffer(piece, -0.12 * math.sqrt(piece.area)).is_empty


def kind_of(rng: random.Random, piece: shapely.Polygon, turns: Sequence[float]) -> Kind:
    """Return a piece as drawn elsewhere and turned, so that one of its turns brings it back as it lay."""
    # By halves nothing is lost where a piece reaches from edge to edge.
    dx, dy = rng.randint(-100, 100) / 2, rng.randint(-100, 100) / 2
    drawn = affinity.translate(affinity.rotate(piece, -rng.choice(turns), origin=(0, 0)), dx, dy)
    ring = shapely.geometry.polygon.orient(drawn).exterior.coords[:-1]
    return Kind(Shape(tuple((float(x), float(y)) for x, y in ring)), 1, tuple(turns))


def jigsaw(
    seed: int,
    number: int,
    *,
    sheets: int = 1,
    way: Way = "lines",
    turns: Sequence[float] = ONE,
    larger: float = 0.0,
    size: tuple[float, float] = (100.0, 60.0),
) -> ShapesProblem:
    """Return sheets cut into so many pieces each, and plates that are larger than they by a share."""
    rng = random.Random(seed)
    kinds = [
        kind_of(rng, piece, turns) for _ in range(sheets) for piece in pieces_of(rng, number, *size, way)
    ]
    rng.shuffle(kinds)
    plate = Plate(size[0] * (1 + larger), size[1] * (1 + larger), Fraction(1))
    return ShapesProblem(tuple(kinds), (plate,))


def solved_to(problem: ShapesProblem, least: int, *, seed: int = 1, effort: str = "normal") -> ShapesLayout:
    """Return a layout by the engine, which is told to stop as soon as all lies on so few plates."""
    found: list[ShapesLayout] = []

    def reached() -> bool:
        return any(len(f.plates) <= least and not any(f.left) for f in found[-1:])

    return solve(problem, seed=seed, effort=EFFORTS[effort], stop=reached, on_event=found.append)


def judge(problem: ShapesProblem, found: ShapesLayout) -> None:
    """Every piece lies once or is told as left, as it may, on its plate, with the gap to all others there."""
    lying = Counter(piece.kind for plate in found.plates for piece in plate.pieces)
    for number, kind in enumerate(problem.kinds):
        assert lying[number] + found.left[number] >= kind.count
        assert lying[number] <= kind.count + kind.extras
        assert found.left[number] == max(0, kind.count - lying[number])
    for number, used in Counter(plate.plate for plate in found.plates).items():
        count = problem.plates[number].count
        assert count is None or used <= count
    for plate in found.plates:
        assert plate.pieces
        _judge_plate(problem, plate)


def _judge_plate(problem: ShapesProblem, plate: LaidPlate) -> None:
    stock = problem.plates[plate.plate]
    slip = SLIP * max(stock.width, stock.height)
    areas = []
    for piece in plate.pieces:
        kind = problem.kinds[piece.kind]
        assert kind.any_turn or piece.turn_deg in kind.turns
        assert kind.either_hand or not piece.mirrored
        area = shapely.Polygon(kind.shape.outer, kind.shape.openings)
        if piece.mirrored:
            area = affinity.scale(area, -1, 1, origin=(0, 0))
        areas.append(
            affinity.translate(affinity.rotate(area, piece.turn_deg, origin=(0, 0)), piece.x, piece.y)
        )
        x0, y0, x1, y1 = areas[-1].bounds
        assert min(x0, y0, stock.width - x1, stock.height - y1) >= -slip
    for one, other in combinations(areas, 2):
        assert shapely.distance(one, other) >= problem.gap - slip
        assert sunk(one, other, slip / 10) <= slip


def sunk(one: shapely.Polygon, other: shapely.Polygon, grid: float) -> float:
    """Return about how deep two areas lie in one another: twice what is common over the line around it.

    Without a grid GEOS 3.14 takes all of a piece for common to both where an edge of it lies along one of the
    other within 1e-14, as pieces cut apart do that are laid together again.
    """
    common = shapely.intersection(one, other, grid_size=grid)
    return 2 * common.area / common.length if common.area else 0.0
