"""Rectangles with pieces taken out of their corners and sides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import CornerName, SideName, mixed_corners

Corner = tuple[Point, float, float]
"""A corner with its radius and its chamfer."""

_CORNERS: tuple[CornerName, ...] = ("bottom left", "bottom right", "top right", "top left")
_SIDES: tuple[SideName, ...] = ("bottom", "right", "top", "left")


@dataclass(frozen=True, slots=True)
class Notch:
    """A rectangle taken out of a corner or a side; ``width`` along x, ``height`` along y.

    On a side, ``at`` is the notch's left or lower end. ``radius`` rounds its inner corners.
    """

    where: CornerName | SideName
    width: float
    height: float
    at: float = 0.0
    radius: float = 0.0


def notched(
    width: float, height: float, notches: Sequence[Notch], *, radius: float = 0.0, chamfer: float = 0.0
) -> Outline:
    """Return a rectangle less its notches; ``radius`` or ``chamfer`` shape the corners that are left.

    Raises ``ValueError`` saying what does not fit: notches that meet one another, a corner or the far
    side, or an edge too short for the rounding at its ends.
    """
    _check(width, height, notches, max(radius, chamfer))
    around: list[Corner] = []
    for corner, side in zip(_CORNERS, _SIDES, strict=True):
        around += _corner(corner, width, height, notches, radius, chamfer)
        along = [n for n in notches if n.where == side]
        # The outline runs counter-clockwise: along the top to the left, down the left side.
        for notch in sorted(along, key=lambda n: n.at, reverse=side in ("top", "left")):
            around += _side(notch, width, height)
    return mixed_corners(around)


def _corner(
    name: CornerName, width: float, height: float, notches: Sequence[Notch], radius: float, chamfer: float
) -> list[Corner]:
    right, top = "right" in name, "top" in name
    x, y = (width if right else 0.0), (height if top else 0.0)
    notch = next((n for n in notches if n.where == name), None)
    if notch is None:
        return [(Point(x, y), radius, chamfer)]
    inner_x = x - notch.width if right else notch.width
    inner_y = y - notch.height if top else notch.height
    on_x, on_y = Point(inner_x, y), Point(x, inner_y)
    first, last = (on_x, on_y) if right != top else (on_y, on_x)
    return [(first, 0, 0), (Point(inner_x, inner_y), notch.radius, 0), (last, 0, 0)]


def _side(notch: Notch, width: float, height: float) -> list[Corner]:
    if notch.where in ("bottom", "top"):
        outer = 0.0 if notch.where == "bottom" else height
        inner = notch.height if notch.where == "bottom" else height - notch.height
        ends = (notch.at, notch.at + notch.width)
        a, b = ends if notch.where == "bottom" else ends[::-1]
        points = [Point(a, outer), Point(a, inner), Point(b, inner), Point(b, outer)]
    else:
        outer = 0.0 if notch.where == "left" else width
        inner = notch.width if notch.where == "left" else width - notch.width
        ends = (notch.at, notch.at + notch.height)
        a, b = ends if notch.where == "right" else ends[::-1]
        points = [Point(outer, a), Point(inner, a), Point(inner, b), Point(outer, b)]
    return [(p, notch.radius if i in (1, 2) else 0.0, 0.0) for i, p in enumerate(points)]


def _check(width: float, height: float, notches: Sequence[Notch], cut: float) -> None:
    """Raise ``ValueError`` where notches meet one another, a corner, or the far side."""
    boxes = [_box(n, width, height) for n in notches]
    for notch, box in zip(notches, boxes, strict=True):
        left, bottom, right, top = box
        if left < 0 or bottom < 0 or right > width or top > height:
            raise ValueError(f"the notch at {notch.where} is not wholly on the part")
        if right - left >= width or top - bottom >= height:
            raise ValueError(f"the notch at {notch.where} goes right through the part")
        if notch.where in _SIDES:
            along, room = (
                ((left, right), width) if notch.where in ("bottom", "top") else ((bottom, top), height)
            )
            if along[0] <= cut or along[1] >= room - cut:
                raise ValueError(f"the notch at {notch.where} meets a corner; name the corner instead")
    for i, a in enumerate(boxes):
        for b in boxes[i + 1 :]:
            if a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]:
                raise ValueError("two notches meet")


def _box(notch: Notch, width: float, height: float) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of what a notch takes away."""
    where = notch.where
    left = notch.at if where in ("bottom", "top") else 0.0
    bottom = notch.at if where in ("left", "right") else 0.0
    right, top = left + notch.width, bottom + notch.height
    # What lies on the far sides ends there exactly, whatever sums of decimals round to.
    if "right" in where:
        left, right = width - notch.width, width
    if "top" in where:
        bottom, top = height - notch.height, height
    return left, bottom, right, top
