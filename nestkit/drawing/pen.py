"""What every output must be able to draw, and pens that stand in front of another pen."""

from __future__ import annotations

from typing import Literal, Protocol

from nestkit.drawing.layers import Layer
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect

Anchor = Literal["start", "middle", "end"]


class Pen(Protocol):
    """Receives marks in the frame of the page: mm, y up (unless a pen in front changed that).

    ``layer`` says what a mark is for. Arcs come as bulges (see ``geometry.outline.Vertex``) and
    circles as circles: an output that can draw them truly does.
    """

    def path(self, vertices: tuple[Vertex, ...], *, closed: bool, layer: Layer) -> None:
        """Draw lines and arcs through the vertices."""

    def circle(self, centre: Point, radius: float, *, layer: Layer) -> None:
        """Draw a full circle."""

    def fill(self, vertices: tuple[Vertex, ...], *, grey: float) -> None:
        """Fill a closed outline without an edge; grey 0 is black, 1 is white."""

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
        """Write one line of text, its baseline through ``at``; ``height`` is the size of the type."""

    def push(self, at: Point, scale_x: float, scale_y: float, clip: Rect | None) -> None:
        """Begin an inset, its origin at ``at``, scaled, cut off at ``clip`` (in its own frame)."""

    def pop(self) -> None:
        """End the drawing begun last."""


class FlipPen:
    """Turns y up into y down for outputs whose origin is the upper left; text stays upright."""

    def __init__(self, pen: Pen, height: float) -> None:
        self._pen = pen
        self._heights = [height]

    def _flip(self, p: Point) -> Point:
        return Point(p.x, self._heights[-1] - p.y)

    def _flipped(self, vertices: tuple[Vertex, ...]) -> tuple[Vertex, ...]:
        return tuple(Vertex(*self._flip(v.point), -v.bulge) for v in vertices)

    def path(self, vertices: tuple[Vertex, ...], *, closed: bool, layer: Layer) -> None:
        """See :class:`Pen`."""
        self._pen.path(self._flipped(vertices), closed=closed, layer=layer)

    def circle(self, centre: Point, radius: float, *, layer: Layer) -> None:
        """See :class:`Pen`."""
        self._pen.circle(self._flip(centre), radius, layer=layer)

    def fill(self, vertices: tuple[Vertex, ...], *, grey: float) -> None:
        """See :class:`Pen`."""
        self._pen.fill(self._flipped(vertices), grey=grey)

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
        """See :class:`Pen`."""
        self._pen.text(
            self._flip(at), text, height=height, layer=layer, anchor=anchor, turn_deg=-turn_deg, bold=bold
        )

    def push(self, at: Point, scale_x: float, scale_y: float, clip: Rect | None) -> None:
        """See :class:`Pen`. Inside, y is counted down from the inset's own origin."""
        down = None if clip is None else Rect(clip.left, -clip.top, clip.right, -clip.bottom)
        self._pen.push(self._flip(at), scale_x, scale_y, down)
        self._heights.append(0.0)

    def pop(self) -> None:
        """See :class:`Pen`."""
        self._heights.pop()
        self._pen.pop()


class ScalePen:
    """Brings millimetres into the unit of a file, before its writer sees them."""

    def __init__(self, pen: Pen, factor: float) -> None:
        self._pen = pen
        self._factor = factor

    def _scaled(self, p: Point) -> Point:
        return Point(p.x * self._factor, p.y * self._factor)

    def _all(self, vertices: tuple[Vertex, ...]) -> tuple[Vertex, ...]:
        return tuple(Vertex(*self._scaled(v.point), v.bulge) for v in vertices)

    def path(self, vertices: tuple[Vertex, ...], *, closed: bool, layer: Layer) -> None:
        """See :class:`Pen`."""
        self._pen.path(self._all(vertices), closed=closed, layer=layer)

    def circle(self, centre: Point, radius: float, *, layer: Layer) -> None:
        """See :class:`Pen`."""
        self._pen.circle(self._scaled(centre), radius * self._factor, layer=layer)

    def fill(self, vertices: tuple[Vertex, ...], *, grey: float) -> None:
        """See :class:`Pen`."""
        self._pen.fill(self._all(vertices), grey=grey)

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
        """See :class:`Pen`."""
        self._pen.text(
            self._scaled(at),
            text,
            height=height * self._factor,
            layer=layer,
            anchor=anchor,
            turn_deg=turn_deg,
            bold=bold,
        )

    def push(self, at: Point, scale_x: float, scale_y: float, clip: Rect | None) -> None:
        """See :class:`Pen`."""
        cut = None if clip is None else Rect(*(edge * self._factor for edge in clip))
        self._pen.push(self._scaled(at), scale_x, scale_y, cut)

    def pop(self) -> None:
        """See :class:`Pen`."""
        self._pen.pop()
