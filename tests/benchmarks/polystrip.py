"""Tasks of kind polystrip: all pieces of true shape on one strip, along the least of its length.

A task with ``plates`` is posed on so many strips of one length, which is to be short.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, NamedTuple

import numpy as np
from packfiles import Answer, BenchmarkError

from nestkit.layout.efforts import Effort
from nestkit.layout.shapes.engine import compiled, plain
from nestkit.layout.shapes.problem import Kind, Ring, Shape
from nestkit.layout.shapes.states import matrix_of
from nestkit.layout.shapes.strip import strip, strips

FINE = 1e-4
"""By how much of its box an outline may be larger where its arcs are taken straight."""
NORMAL_ROUNDS = 60
NO_END = 10**9
ROUNDING = Fraction(1, 10**9)


@dataclass(frozen=True, slots=True)
class Posed:
    """A task of an instance: kinds of pieces, the strip's height without margins, gap and margin."""

    instance: dict[str, Any]
    task: dict[str, Any]
    kinds: tuple[Kind, ...]
    height: float
    gap: float
    margin: float
    plates: int = 1


class Arc(NamedTuple):
    """An arc from an angle, about a middle, by a turn (positive to the left)."""

    x: float
    y: float
    radius: float
    begin: float
    turn: float

    def point(self, angle: float, radius: float) -> tuple[float, float]:
        """Return the point at an angle, at a radius from the middle."""
        return self.x + radius * math.cos(angle), self.y + radius * math.sin(angle)


def arc_of(a: list[Any], b: list[Any]) -> Arc:
    """Return the arc of a path from a to b.

    The bulge at a is the tangent of a quarter of its angle, positive to the left (DXF reference, LWPOLYLINE
    group 42).
    """
    (x0, y0, bulge), (x1, y1) = (float(n) for n in a[:3]), (float(n) for n in b[:2])
    off = (1 - bulge * bulge) / (4 * bulge)
    cx, cy = (x0 + x1) / 2 - (y1 - y0) * off, (y0 + y1) / 2 + (x1 - x0) * off
    return Arc(cx, cy, math.hypot(x0 - cx, y0 - cy), math.atan2(y0 - cy, x0 - cx), 4 * math.atan(bulge))


def bulged(a: list[Any], b: list[Any], fine: float) -> list[tuple[float, float]]:
    """Return points for a path's run from a to b, without b, nowhere inside it.

    Arcs that swell outwards are taken by tangents, the others by chords.
    """
    if not a[2]:
        return [(float(a[0]), float(a[1]))]
    arc = arc_of(a, b)
    number = max(2, math.ceil(abs(arc.turn) / (2 * math.acos(max(0.0, 1 - fine / arc.radius)))))
    step = arc.turn / number
    if arc.turn < 0:
        return [arc.point(arc.begin + step * k, arc.radius) for k in range(number)]
    far = arc.radius / math.cos(step / 2)
    start = float(a[0]), float(a[1])
    return [start, *(arc.point(arc.begin + step * (k + 0.5), far) for k in range(number))]


def true_box(item: dict[str, Any], turn_deg: float) -> Any:
    """Return lower left and upper right of an item turned about its origin, arcs as they are."""
    path = item.get("path") or [[x, y, 0] for x, y in item["poly"]]
    points = [(float(p[0]), float(p[1])) for p in path]
    for a, b in zip(path, path[1:] + path[:1], strict=True):
        if a[2]:
            arc = arc_of(a, b)
            low, high = sorted((arc.begin, arc.begin + arc.turn))
            furthest = (
                math.radians(90 * k - turn_deg) + 2 * math.pi * n for k in range(4) for n in range(-2, 4)
            )
            points += [arc.point(angle, arc.radius) for angle in furthest if low < angle < high]
    turned = np.array(points) @ matrix_of(turn_deg, False).T
    return np.array([turned.min(axis=0), turned.max(axis=0)])


def outline_of(item: dict[str, Any]) -> Ring:
    """Return an item's outline with straight edges, nowhere inside the true one."""
    path = item.get("path")
    if not path:
        return tuple((float(x), float(y)) for x, y in item["poly"])
    size = max(float(max(p[k] for p in path) - min(p[k] for p in path)) for k in (0, 1))
    runs = zip(path, path[1:] + path[:1], strict=True)
    return tuple(p for a, b in runs for p in bulged(a, b, FINE * size))


def pose(instance: dict[str, Any], task: dict[str, Any]) -> Posed:
    """Return a task as kinds of pieces; openings stay unused."""
    if task["goal"] != "min_length":
        raise BenchmarkError(f"the goal {task['goal']} is not known here for shapes; known is min_length")
    gap = max(float(task.get(key) or 0) for key in ("kerf", "gap"))
    margin = float(task.get("margin") or 0)
    kinds = tuple(
        Kind(Shape(outline_of(item)), item["qty"], tuple(float(r) for r in item.get("rot") or (0,)))
        for item in instance["items"]
    )
    plates = int(task.get("plates") or 1)
    return Posed(instance, task, kinds, float(instance["strip"]) - 2 * margin, gap, margin, plates)


def area_of(ring: Any) -> float:
    """Return the area of a ring of points, positive counter-clockwise."""
    x, y = np.array([[float(n) for n in p[:2]] for p in ring]).T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def bound_of(posed: Posed) -> float:
    """Return a length that no layout can beat: all pieces' areas, or the longest piece as it is shortest."""
    area = sum(area_of(item["poly"]) * item["qty"] for item in posed.instance["items"])
    widths = []
    for kind in posed.kinds:
        ring = np.array(kind.shape.outer)
        sizes = [np.ptp(ring @ matrix_of(turn, False).T, axis=0) for turn in kind.turns]
        widths.append(min((float(w) for w, h in sizes if h <= posed.height * (1 + 1e-9)), default=0.0))
    return max(area / posed.height / posed.plates, *widths) + 2 * posed.margin


def density(posed: Posed, answer: Answer) -> float | None:
    """Return the share of the strips that pieces cover, in per cent."""
    if answer.value is None:
        return None
    area = sum(area_of(item["poly"]) * item["qty"] for item in posed.instance["items"])
    return 100 * area / float(posed.instance["strip"]) / float(answer.value) / posed.plates


def lay(posed: Posed, *, seed: int, effort: Effort, stop: Callable[[], bool] | None) -> Answer:
    """Lay out one task; the value is the length used, both margins with it."""
    found = strips(
        posed.kinds,
        [posed.height] * posed.plates,
        posed.gap,
        seed=seed,
        rounds=NORMAL_ROUNDS if stop is None else NO_END,
        stop=stop or (lambda: False),
        form=compiled() if effort.deep else plain(),
    )
    bins, length = [], 0.0
    for plate in found.plates:
        items = []
        for piece in plate:
            box = true_box(posed.instance["items"][piece.kind], piece.turn_deg)
            box += np.array([piece.x + posed.margin, piece.y + posed.margin])
            items.append([piece.kind, float(box[0, 0]), float(box[0, 1]), piece.turn_deg])
            length = max(length, float(box[1, 0]))
        bins.append({"container": 0, "items": items})
    value = Fraction(length + posed.margin)
    bound = Fraction(bound_of(posed))
    # A length that is over the bound by rounding alone is the bound.
    proved = value <= bound * (1 + ROUNDING)
    return Answer(value, value if proved else bound, bins, {})


def ready() -> None:
    """Compile the search, or load what is kept of it."""
    halves = Shape(((0, 0), (2, 0), (0, 1))), Shape(((2, 1), (0, 1), (2, 0)))
    strip([Kind(half, 2, (0.0, 90.0)) for half in halves], 2.0, seed=1, rounds=3)


def told(posed: Posed, answer: Answer) -> str:
    """Return a line on a task: its instance, the length used, and how much of it is covered."""
    share = density(posed, answer)
    text = (
        "no layout"
        if share is None or answer.value is None
        else f"{float(answer.value):.6g}, {share:.2f} % dense"
    )
    return f"{posed.instance['name']}: {text}"
