"""Joints put together by hand for tests of their pictures: layers in their place, no search for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from nestkit.drawing.model import Circle, Drawing, Inset, Path, Text
from nestkit.fit.assembly import Assembly, Layer, Loose, Placement, Plane
from nestkit.fit.result import JointFit
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import rectangle
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Drill, Hole
from nestkit.parts.joint import Fastener, Joint, Mate
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from tests.fit.drill_bench import for_screw, panel

NO_10 = for_screw("10-32")
HERE = Point(0.0, 0.0)


def plate(name: str, width: float, height: float, *at: tuple[float, float], drill: Drill = NO_10) -> Panel:
    """A plate in mm with holes at places."""
    holes = tuple(Hole(i, Point(*p), drill, "g") for i, p in enumerate(at, start=1))
    return replace(
        panel(name),
        width=Fraction(width),
        height=Fraction(height),
        outline=rectangle(width, height),
        holes=holes,
    )


def bracket(name: str, *at: tuple[float, float], drill: Drill = NO_10) -> Bought:
    """A bought part: holes, and no outline."""
    holes = tuple(Hole(i, Point(*p), drill, "g") for i, p in enumerate(at, start=1))
    return Bought(name, f'bought "{name}"', holes=holes)


def laid(
    part: Panel | Tube | Bought,
    turn_deg: float = 0.0,
    move: tuple[float, float] = (0.0, 0.0),
    *,
    over: bool = False,
    only: Sequence[int] | None = None,
    holds: bool = False,
) -> Layer:
    """A part in its place; ``over`` turns it over, ``only`` are the numbers that have a partner."""
    if isinstance(part, Tube):
        local = tuple(Point(float(h.spot.at), float(h.spot.across)) for h in part.holes)
    else:
        local = tuple(hole.at for hole in part.holes)
    sign = -1.0 if over else 1.0
    points = tuple(Point(sign * p.x, p.y) for p in local)
    numbers = tuple(hole.number for hole in part.holes)
    dias = tuple(hole.drill.dia for hole in part.holes)
    axes = Point(sign, 0.0), Point(0.0, 1.0)
    mate = Mate(part.name, numbers, turned_over=over)
    plane = Plane(mate, part, numbers, points, local, dias, (3.0,), 3.0, holds, over, axes)
    placement = Placement(turn_deg, Point(*move))
    kept = [i for i, number in enumerate(numbers) if only is None or number in only]
    return Layer(
        plane,
        placement,
        tuple(numbers[i] for i in kept),
        tuple(placement(points[i]) for i in kept),
        tuple(local[i] for i in kept),
        tuple(dias[i] for i in kept),
    )


def joint_of(
    *layers: Layer, name: str = "lid to hinge", loose: tuple[Loose, ...] = (), kind: str = "screw"
) -> JointFit:
    """What is known of a joint of 10-32 screws without any chances."""
    fastener = Fastener(kind, "10-32" if kind == "screw" else "1/8", 4.826, "lock nut")
    joint = Joint(name, f'joint "{name}"', fastener, tuple(layer.plane.mate for layer in layers))
    return JointFit(Assembly(joint, layers, loose), (), (), None, (), Fraction(95, 100))


Marks = Iterator[tuple[Path | Circle | Text, Point, float, Rect]]


def marks_of(drawing: Drawing, at: Point = HERE, scale: float = 1.0, clip: Rect | None = None) -> Marks:
    """Every mark of a drawing with where its frame lies, its scale, and what of the page can be seen."""
    clip = clip or Rect(0.0, 0.0, drawing.width, drawing.height)
    for mark in drawing.marks:
        if isinstance(mark, Inset):
            assert mark.scale_x == mark.scale_y
            there = Point(at.x + mark.at.x * scale, at.y + mark.at.y * scale)
            inner = scale * mark.scale_x
            seen = clip
            if mark.clip is not None:
                c = mark.clip
                here = Rect(*(v * inner for v in c))
                seen = clip.common(
                    Rect(there.x + here.left, there.y + here.bottom, there.x + here.right, there.y + here.top)
                )
            yield from marks_of(mark.drawing, there, inner, seen)
        elif isinstance(mark, Path | Circle | Text):
            yield mark, at, scale, clip
