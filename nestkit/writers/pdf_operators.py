"""The operators of a PDF's page for lines and curves. Lengths come in mm, the unit of a page is the point.

They are those that the PDF library writes, digit for digit, at a fraction of what it takes for them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from nestkit.drawing.layers import STYLES, Layer
from nestkit.geometry.outline import Arc, Vertex, arc_of
from nestkit.geometry.points import Point

POINTS_PER_MM = 72 / 25.4
ARC_ERROR = 0.0005 * POINTS_PER_MM
"""How far a curve may stray from its arc: half a micrometre."""
ESCAPED = {
    **{code: f"\\{code:03o}" for code in (*range(32), *range(127, 256))},
    **{ord(c): f"\\{c}" for c in "\\()"},
}
"""How a string of a PDF says the bytes that are not plain letters."""


def number(value: float) -> str:
    """Return a number with seven digits, at most six of them decimals: a micrometre's part on usual paper."""
    if 1.0 <= abs(value) < 1e7:
        return f"{value:.7g}"
    if abs(value) <= 1e-7:
        return "0"
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return text[1:] if text.startswith("0.") else text


def numbers(*values: float) -> str:
    """Return numbers in a row."""
    return " ".join(map(number, values))


@lru_cache(maxsize=100)
def look(layer: Layer, scale: float) -> str:
    """Return the operators of a line's look; width and dashes are mm on paper, also in a scaled inset."""
    style, unit = STYLES[layer], POINTS_PER_MM / scale
    dashes = numbers(*(dash * unit for dash in style.dash))
    cap = 0 if style.dash else 1
    return f"{number(style.line * unit)} w\n{cap} J\n[{dashes}] 0 d\n{number(style.grey)} G"


@lru_cache(maxsize=1000)
def way(vertices: tuple[Vertex, ...], closed: bool) -> str:
    """Return the operators of a path, kept: check rulers are the same on every page of one paper."""
    first, *others = points = [Point(v.x * POINTS_PER_MM, v.y * POINTS_PER_MM) for v in vertices]
    words = [f"n {number(first.x)} {number(first.y)} m"]
    last = len(others)
    for i, (start, end) in enumerate(zip(points, [*others, first] if closed else others, strict=False)):
        bulge = vertices[i].bulge
        if bulge:
            words += _bent(arc_of(start, end, bulge))
        elif i < last:
            words.append(f"{number(end.x)} {number(end.y)} l")
    if closed:
        words.append("h")
    return " ".join(words)


def circle(centre: Point, radius: float) -> str:
    """Return the operators of a full circle."""
    middle, size = Point(centre.x * POINTS_PER_MM, centre.y * POINTS_PER_MM), radius * POINTS_PER_MM
    words = [f"n {numbers(middle.x + size, middle.y)} m", *_bent(Arc(middle, size, 0.0, 360.0)), "h"]
    return " ".join(words)


def _bent(arc: Arc) -> Iterator[str]:
    """Yield the operators of an arc."""
    return (f"{numbers(*curve)} c" for curve in curves(arc))


def curves(arc: Arc) -> Iterator[tuple[float, ...]]:
    """Yield an arc as cubic curves that stray from it by less than ARC_ERROR: two handles and an end each.

    A cubic of sweep t strays by about (4/27) sin(t/4)^6 / cos(t/4)^2 of the radius: 0.000273 at 90
    degrees, and with the sixth power of t below.
    """
    widest = min(90.0, 90.0 * (ARC_ERROR / (0.000273 * arc.radius)) ** (1 / 6))
    # Whole quarters are split alike: a circle's outermost points then lie on ends of its curves.
    count = max(1, math.ceil(abs(arc.sweep_deg) / 90.0 - 1e-9)) * math.ceil(90.0 / widest)
    step = math.radians(arc.sweep_deg) / count
    handle = 4 / 3 * math.tan(step / 4) * arc.radius
    angle = math.radians(arc.start_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    x, y = arc.centre.x + arc.radius * cos, arc.centre.y + arc.radius * sin
    for i in range(1, count + 1):
        from_x, from_y = x - handle * sin, y + handle * cos
        cos, sin = math.cos(angle + i * step), math.sin(angle + i * step)
        x, y = arc.centre.x + arc.radius * cos, arc.centre.y + arc.radius * sin
        yield from_x, from_y, x + handle * sin, y - handle * cos, x, y
