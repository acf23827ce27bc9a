"""What the picture of a joint shows of its plane: the holes, what is near them, the parts' outlines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.layers import Layer as Style
from nestkit.drawing.model import Drawing, Inset, Mark, outlined
from nestkit.fit.assembly import Assembly, Layer
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect, around
from nestkit.geometry.shapes import rectangle
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube

STYLES = (Style.PART_EDGE, Style.SECOND_PART, Style.THIRD_PART, Style.SAW_CUT)
"""How the parts of a joint are told apart, the heads' side first; a fifth looks like the first again."""

LARGEST_SCALE = 2.0
_LEAST_MARGIN = 15.0
_MARGIN = 0.2
"""Room around the holes, as a share of how far they are apart."""
_BEYOND = 4.0


@dataclass(frozen=True, slots=True)
class View:
    """A window on the joint's plane, in mm there, drawn at a scale from the picture's lower left corner."""

    window: Rect
    scale: float
    clipped: bool

    def __call__(self, p: Point) -> Point:
        """Return where a place of the joint's plane lies in the picture."""
        return Point((p.x - self.window.left) * self.scale, (p.y - self.window.bottom) * self.scale)

    @property
    def on_page(self) -> Rect:
        """The picture's size."""
        return Rect(0.0, 0.0, self.window.width * self.scale, self.window.height * self.scale)


def style_of(index: int) -> Style:
    """Return how the lines of the part in this place of the stack are drawn."""
    return STYLES[index % len(STYLES)]


def holes_of(layer: Layer) -> Iterator[tuple[int, Point, float]]:
    """Yield number, place in the joint's plane and diameter of every hole of a layer."""
    plane = layer.plane
    for number, point, dia in zip(plane.numbers, plane.points, plane.dias, strict=True):
        yield number, layer.placement(point), dia


def outlines_of(layer: Layer) -> tuple[Outline, ...]:
    """Return the outlines of a layer's part in the joint's plane; none of a bought part.

    A tube is the band of the face that is met, square at both ends, whatever its mitres.
    """
    part = layer.part
    if isinstance(part, Panel):
        return tuple(_laid(layer, outline) for outline in part.outlines)
    if isinstance(part, Tube):
        section = part.section
        width = float(section.a)
        low = -width / 2
        if not section.is_round:
            face = next(hole.spot.face for hole in part.holes if hole.number in layer.plane.numbers)
            width, low = float(section.width(face) if face is not None else section.a), 0.0
        return (_laid(layer, rectangle(float(part.length), width, at=Point(0.0, low))),)
    return ()


def placed(layer: Layer, local: Point) -> Point:
    """Return where a place, as it is measured on a layer's part, lies in the joint's plane."""
    plane = layer.plane
    (ax, ay), (bx, by) = plane.axes
    dx, dy = local.x - plane.local[0].x, local.y - plane.local[0].y
    return layer.placement(plane.points[0].moved(dx * ax + dy * bx, dx * ay + dy * by))


def _laid(layer: Layer, outline: Outline) -> Outline:
    (ax, ay), (bx, by) = layer.plane.axes
    mirrored = (ax * by - ay * bx < 0) != layer.placement.mirrored
    # Seen from behind an arc bends the other way.
    sign = -1 if mirrored else 1
    return Outline(tuple(Vertex(*placed(layer, v.point), sign * v.bulge) for v in outline.vertices))


def view_of(assembly: Assembly, width: float, height: float, least_height: float) -> View:
    """Return the window around a joint's holes that is ``width`` wide in the picture.

    It is at most ``height`` high. Edges of parts that are near come into it as a whole.
    """
    boxes = [Rect(*p, *p).grown(dia / 2) for layer in assembly.layers for _, p, dia in holes_of(layer)]
    holes = around(boxes)
    margin = max(_LEAST_MARGIN, _MARGIN * max(holes.width, holes.height))
    edges = [outline.bounds for layer in assembly.layers for outline in outlines_of(layer)[:1]]
    shown = _with_edges(holes.grown(margin), edges, 2 * margin)
    scale = min(width / shown.width, height / shown.height, LARGEST_SCALE)
    wide = width / scale
    high = max(shown.height, least_height / scale)
    everything = around([shown, *edges])
    left = _start(shown.left, shown.right, wide, everything.left, everything.right)
    low = _start(shown.bottom, shown.top, high, everything.bottom, everything.top)
    window = Rect(left, low, left + wide, low + high)
    return View(window, scale, not all(window.holds(edge) for edge in edges))


def _start(low: float, high: float, size: float, first: float, last: float) -> float:
    """Return where a window of ``size`` begins that shows ``low`` to ``high`` and little but parts."""
    if size >= last - first + 2 * _BEYOND:
        return (first + last - size) / 2
    start = (low + high - size) / 2
    if start < first - _BEYOND and start + size < last + _BEYOND:
        start = min(low, first - _BEYOND, last + _BEYOND - size)
    elif start + size > last + _BEYOND and start > first - _BEYOND:
        start = max(high, last + _BEYOND, first - _BEYOND + size) - size
    return start


def _with_edges(box: Rect, edges: Sequence[Rect], reach: float) -> Rect:
    """Return a box moved out to the edges of parts that lie just beyond its sides."""

    def out(side: float, sides: Sequence[float], sign: int) -> float:
        beyond = [sign * (s - side) for s in sides]
        near = [b for b in beyond if 0 <= b + _BEYOND <= reach + _BEYOND]
        return side + sign * (max(near) + _BEYOND) if near else side

    return Rect(
        out(box.left, [e.left for e in edges], -1),
        out(box.bottom, [e.bottom for e in edges], -1),
        out(box.right, [e.right for e in edges], 1),
        out(box.top, [e.top for e in edges], 1),
    )


def outline_marks(assembly: Assembly, view: View) -> tuple[Mark, ...]:
    """Return the outlines of all parts that have one, as far as the window shows them."""
    window = view.window
    marks: list[Mark] = []
    for index, layer in enumerate(assembly.layers):
        lines = tuple(
            outlined(outline.moved(-window.left, -window.bottom), style_of(index))
            for outline in outlines_of(layer)
        )
        if lines:
            clip = Rect(0.0, 0.0, window.width, window.height)
            picture = Drawing(window.width, window.height, lines)
            marks.append(Inset(picture, Point(0.0, 0.0), view.scale, view.scale, clip))
    return tuple(marks)


def clipped(a: Point, b: Point, box: Rect) -> tuple[Point, Point] | None:
    """Return what of a straight line lies in a box, or None."""
    start, end = 0.0, 1.0
    for low, high, at, way in ((box.left, box.right, a.x, b.x - a.x), (box.bottom, box.top, a.y, b.y - a.y)):
        if way == 0.0:
            if not low <= at <= high:
                return None
            continue
        near, far = sorted(((low - at) / way, (high - at) / way))
        start, end = max(start, near), min(end, far)
    if start > end:
        return None
    dx, dy = b.x - a.x, b.y - a.y
    return a.moved(start * dx, start * dy), a.moved(end * dx, end * dy)
