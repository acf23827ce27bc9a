"""Shapes made for tests, and an independent look at what was laid: shapely on the original outlines."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Sequence
from itertools import combinations

import shapely
from shapely import affinity, ops

from nestkit.layout.shapes.problem import Kind, Laid, Shape

TURNS = (0.0, 90.0, 180.0, 270.0)
BRACKET = Shape(((0, 0), (60, 0), (60, 20), (20, 20), (20, 50), (0, 50)))
GUSSET = Shape(((10, 5), (50, 5), (10, 45)))
STAR = Shape(tuple(
    (r * math.cos(math.radians(30 * k)), r * math.sin(math.radians(30 * k)))
    for k in range(12) for r in [12.0 if k % 2 else 30.0]
))  # fmt: skip
PLATE = Shape(((-20, -10), (20, -10), (20, 10), (-20, 10)))
HORN = Shape(((0, 0), (40, 0), (40, 40), (30, 40), (30, 10), (10, 10), (10, 40), (0, 40)))
RING = Shape(((0, 0), (60, 0), (60, 60), (0, 60)), (((10, 10), (10, 50), (50, 50), (50, 10)),))
ALL = {"bracket": BRACKET, "gusset": GUSSET, "star": STAR, "plate": PLATE, "horn": HORN, "ring": RING}


def area_of(shape: Shape) -> shapely.Polygon:
    """Return a shape as an area."""
    return shapely.Polygon(shape.outer, shape.openings)


def lying(shape: Shape, laid: Laid) -> shapely.Polygon:
    """Return where a piece lies: mirrored, turned about its origin, moved."""
    area = area_of(shape)
    if laid.mirrored:
        area = affinity.scale(area, -1, 1, origin=(0, 0))
    return affinity.translate(affinity.rotate(area, laid.turn_deg, origin=(0, 0)), laid.x, laid.y)


def check_laid(
    kinds: Sequence[Kind], pieces: Sequence[Laid], width: float, height: float, gap: float = 0.0
) -> None:
    """Every copy lies there once, as it may, inside, and no nearer to others than the gap."""
    assert Counter(p.kind for p in pieces) == {k: kind.count for k, kind in enumerate(kinds) if kind.count}
    for piece in pieces:
        kind = kinds[piece.kind]
        assert piece.turn_deg in kind.turns
        assert kind.either_hand or not piece.mirrored
    areas = [lying(kinds[p.kind].shape, p) for p in pieces]
    size = max(width, height)
    x0, y0, x1, y1 = shapely.total_bounds(areas)
    assert min(x0, y0, width - x1, height - y1) > -1e-9 * size
    for one, other in combinations(areas, 2):
        assert shapely.distance(one, other) >= gap - 1e-9 * size
        # Twice the area over the length of what two have in common is how deep they are in one another.
        common = shapely.intersection(one, other, grid_size=1e-12 * size)
        assert common.area <= 1e-9 * size * max(common.length, 1e-9)


def ring_of(area: shapely.Polygon, at: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    """Return an area's outline, counter-clockwise, seen from a point."""
    ring = shapely.geometry.polygon.orient(area).exterior.coords[:-1]
    return tuple((x - at[0], y - at[1]) for x, y in ring)


def jigsaw(seed: int, cuts: int, width: float = 100.0, height: float = 60.0) -> list[Kind]:
    """Return the pieces of a sheet cut by straight lines; all fit on it again as they are turned."""
    rng = random.Random(seed)
    pieces = [shapely.box(0, 0, width, height)]
    while len(pieces) < cuts + 1:
        pieces.sort(key=lambda p: -p.area)
        at, turn = pieces[0].centroid, rng.uniform(0, math.pi)
        dx, dy = 1000 * math.cos(turn), 1000 * math.sin(turn)
        line = shapely.LineString([(at.x - dx, at.y - dy), (at.x + dx, at.y + dy)])
        pieces[:1] = ops.split(pieces[0], line).geoms
    return [Kind(Shape(ring_of(p, (p.centroid.x, p.centroid.y))), 1, (0.0,)) for p in pieces]


def random_shape(rng: random.Random, size: float) -> Shape:
    """Return a shape with three to nine corners round a point, hollow or not, off its origin."""
    number = rng.randint(3, 9)
    angles = sorted(rng.uniform(0, 2 * math.pi) for _ in range(number))
    far = [size * rng.uniform(0.25, 1) for _ in angles]
    points = [(r * math.cos(a), r * math.sin(a)) for r, a in zip(far, angles, strict=True)]
    area = shapely.Polygon(points)
    if not area.is_valid or area.area < 0.05 * size**2:
        return random_shape(rng, size)
    return Shape(ring_of(area, (rng.uniform(-size, size), rng.uniform(-size, size))))
