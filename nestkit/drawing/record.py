"""A pen that writes down what is drawn: the eye of tests, in no file format."""

from __future__ import annotations

from typing import NamedTuple

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing
from nestkit.drawing.pen import Anchor
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.units import decimal_text


class _Frame(NamedTuple):
    """Where an inset's frame lies on the page."""

    at: Point
    scale_x: float
    scale_y: float

    def on_page(self, p: Point) -> Point:
        return Point(self.at.x + p.x * self.scale_x, self.at.y + p.y * self.scale_y)


class RecordPen:
    """Keeps every mark as a line of text, and places and sizes as they come to lie on the page.

    ``circles`` holds layer, centre, radius (along x); ``paths`` layer, points (corners, without
    arcs), closed; ``texts`` text and place. Marks cut off by a clip are kept all the same.
    """

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.circles: list[tuple[Layer, Point, float]] = []
        self.paths: list[tuple[Layer, tuple[Point, ...], bool]] = []
        self.texts: list[tuple[str, Point]] = []
        self._frames = [_Frame(Point(0.0, 0.0), 1.0, 1.0)]

    def path(self, vertices: tuple[Vertex, ...], *, closed: bool, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self.paths.append((layer, tuple(self._frames[-1].on_page(v.point) for v in vertices), closed))
        self._note(f"{'closed' if closed else 'open'} {layer} {_vertices(vertices)}")

    def circle(self, centre: Point, radius: float, *, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        frame = self._frames[-1]
        self.circles.append((layer, frame.on_page(centre), radius * frame.scale_x))
        self._note(f"circle {layer} {_point(centre)} r {_number(radius)}")

    def fill(self, vertices: tuple[Vertex, ...], *, grey: float) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._note(f"fill {_number(grey)} {_vertices(vertices)}")

    def text(
        self,
        at: Point,
        text: str,
        *,
        height: float,
        layer: Layer,
        anchor: Anchor,
        turn_deg: float,
        bold: bool,
    ) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self.texts.append((text, self._frames[-1].on_page(at)))
        weight = " bold" if bold else ""
        turn = f" turn {_number(turn_deg)}" if turn_deg else ""
        self._note(f"text {layer} {_point(at)} {anchor} {_number(height)}{turn}{weight} {text!r}")

    def push(self, at: Point, scale_x: float, scale_y: float, clip: Rect | None) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        cut = "" if clip is None else f" clip {' '.join(_number(edge) for edge in clip)}"
        self._note(f"inset {_point(at)} scale {_number(scale_x)} {_number(scale_y)}{cut}")
        outer = self._frames[-1]
        self._frames.append(_Frame(outer.on_page(at), outer.scale_x * scale_x, outer.scale_y * scale_y))

    def pop(self) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._frames.pop()
        self._note("end of inset")

    def _note(self, line: str) -> None:
        self.lines.append("  " * (len(self._frames) - 1) + line)


def record(drawing: Drawing) -> RecordPen:
    """Return a pen that has recorded a drawing."""
    pen = RecordPen()
    drawing.draw(pen)
    return pen


def dump(drawing: Drawing) -> str:
    """Return a drawing as text, one mark a line, to three decimals of a millimetre."""
    head = f"page {_number(drawing.width)} x {_number(drawing.height)} {drawing.title!r}"
    return "\n".join([head, *record(drawing).lines]) + "\n"


def _number(value: float) -> str:
    return decimal_text(value, 3)


def _point(p: Point) -> str:
    return f"{_number(p.x)},{_number(p.y)}"


def _vertices(vertices: tuple[Vertex, ...]) -> str:
    return " ".join(_point(v.point) + (f"~{decimal_text(v.bulge, 4)}" if v.bulge else "") for v in vertices)
