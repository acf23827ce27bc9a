"""Parts of true shapes, laid by hand or by a plain placer, for tests that need no engine."""

from __future__ import annotations

import math
import random
from fractions import Fraction

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle, slot
from nestkit.job.model import Group
from nestkit.layout.bounds import Bounds
from nestkit.layout.proof import Bound
from nestkit.layout.shapes.build import BuiltShapes, problems_of
from nestkit.layout.shapes.problem import Laid, LaidPlate, Ring, ShapesLayout, ShapesProblem
from nestkit.parts.holes import Opening
from nestkit.parts.panel import Panel
from tests.layout.made import group, panel, sheet

NONE = Bounds(Bound(Fraction(0), "nothing is known"), Bound(Fraction(0), "nothing is known"))


def shaped(name: str, outline: Outline, *openings: Outline, **more: object) -> Panel:
    """Return a panel with an outline of its own, turned as it likes unless said."""
    box = outline.bounds
    return panel(
        name,
        Fraction(box.width).limit_denominator(10**6),
        Fraction(box.height).limit_denominator(10**6),
        outline=outline,
        shape="points",
        openings=tuple(Opening("cutout", o, f"cutouts[{i}]") for i, o in enumerate(openings)),
        **{"turn": "any"} | more,
    )


def polygon(*corners: tuple[float, ...]) -> Outline:
    """Return an outline through corners, each with its bulge if it has one."""
    return Outline(tuple(Vertex(*c) for c in corners))


HORN = polygon((0, 0), (120, 0, 0.35), (90, 60), (60, 60, -0.4), (20, 60), (0, 40))
"""A rudder horn: one arc out, one arc in."""
BRACKET = polygon((0, 0), (80, 0), (80, 20), (20, 20), (20, 90), (0, 90))
WEDGE = polygon((0, 0), (90, 0), (0, 55))
CLIP = slot(Point(30, 8), 60, 16)
RING = disc(160)
BORE = disc(110, centre=Point(80, 80))


def boat_group(**more: object) -> Group:
    """Return parts of the boat that are no boxes, and a plain one, on two kinds of sheets."""
    panels = [
        shaped("rudder horn", HORN, quantity=2, opposite_hand=1),
        shaped("motor bracket", BRACKET, quantity=3, spare=1, turn="quarter"),
        shaped("wedge", WEDGE, quantity=2, opposite_hand=1, faces="alike", spare_if_room=1),
        shaped("hatch ring", RING, BORE, turn="none"),
        shaped("cable clip", CLIP, quantity=2, turn="half"),
        panel("plate", 100, 60, quantity=2),
    ]
    stock = [
        sheet("full", 900, 500, price=Fraction(30)),
        sheet("rest", 400, 300, price=Fraction(9), on_hand=1),
    ]
    return group(panels, stock, "router", 4, 6, (10, 10, 10, 10), **more)


def _placed(ring: Ring, piece: Laid) -> list[tuple[float, float]]:
    sign = -1.0 if piece.mirrored else 1.0
    return [
        (p.x + piece.x, p.y + piece.y) for p in (Point(sign * x, y).turned(piece.turn_deg) for x, y in ring)
    ]


def in_rows(problem: ShapesProblem, rng: random.Random, *, loose: float = 0.0) -> ShapesLayout:
    """Return pieces in rows of boxes, turned and mirrored at random as allowed; dearest plates first.

    ``loose`` is the most that is added between boxes at random.
    """
    left = [k.count for k in problem.kinds]
    queue = [i for i, k in enumerate(problem.kinds) for _ in range(k.count)]
    rng.shuffle(queue)
    order = sorted(range(len(problem.plates)), key=lambda p: -problem.plates[p].cost)
    plates = []
    for index in order:
        plate = problem.plates[index]
        used = 0
        while queue and (plate.count is None or used < plate.count):
            pieces, queue = _one_plate(problem, index, queue, rng, loose)
            if not pieces:
                break
            used += 1
            plates.append(LaidPlate(index, tuple(pieces)))
            for piece in pieces:
                left[piece.kind] -= 1
    return ShapesLayout(tuple(plates), tuple(left))


def _one_plate(problem, index, queue, rng, loose):
    plate, gap = problem.plates[index], problem.gap
    x = y = tall = 0.0
    pieces, rest = [], []
    for k in queue:
        kind = problem.kinds[k]
        turn = rng.uniform(0, 360) if kind.any_turn and rng.random() < 0.7 else rng.choice(kind.turns)
        still = Laid(k, 0.0, 0.0, turn, kind.either_hand and rng.random() < 0.5)
        points = _placed(kind.shape.outer, still)
        low_x, low_y = min(p[0] for p in points), min(p[1] for p in points)
        wide, high = max(p[0] for p in points) - low_x, max(p[1] for p in points) - low_y
        if x + wide > plate.width:
            x, y, tall = 0.0, y + tall + gap, 0.0
        if x + wide > plate.width or y + high > plate.height:
            rest.append(k)
            continue
        pieces.append(Laid(k, x - low_x, y - low_y, still.turn_deg, still.mirrored))
        x += wide + gap + rng.uniform(0, loose)
        tall = max(tall, high)
    return pieces, rest


def built_boat(**more: object) -> BuiltShapes:
    """Return the boat's parts as a problem."""
    (built,) = problems_of(boat_group(**more))
    return built


def inner_disc(dia: float) -> Panel:
    """Return a disc that may lie in the ring's opening."""
    return shaped("cap", disc(dia))


def plain(name: str, width: float, height: float, **more: object) -> Panel:
    """Return a plain panel that may lie at any angle."""
    return panel(name, width, height, outline=rectangle(width, height), turn="any", **more)


def star(points: int, outer: float, inner: float) -> Outline:
    """Return a star of so many corners, moved to the lower left of its box."""
    corners = []
    for i in range(points):
        radius = outer if i % 2 == 0 else inner
        angle = math.tau * i / points
        corners.append((radius * math.cos(angle), radius * math.sin(angle)))
    low = min(x for x, _ in corners), min(y for _, y in corners)
    return polygon(*((x - low[0], y - low[1]) for x, y in corners))
