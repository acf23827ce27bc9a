"""A drawing: frozen marks on a page in millimetres, y up, that draw themselves on any pen."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.drawing.layers import Layer
from nestkit.drawing.pen import Anchor, Pen
from nestkit.drawing.type import text_box
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect


@dataclass(frozen=True, slots=True)
class Path:
    """Lines and arcs; closed for an outline."""

    vertices: tuple[Vertex, ...]
    closed: bool
    layer: Layer

    def draw(self, pen: Pen) -> None:
        """Draw it on a pen."""
        pen.path(self.vertices, closed=self.closed, layer=self.layer)

    @property
    def bounds(self) -> Rect:
        """The box around it."""
        if self.closed:
            return Outline(self.vertices).bounds
        xs, ys = [v.x for v in self.vertices], [v.y for v in self.vertices]
        return Rect(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    centre: Point
    radius: float
    layer: Layer

    def draw(self, pen: Pen) -> None:
        """Draw it on a pen."""
        pen.circle(self.centre, self.radius, layer=self.layer)

    @property
    def bounds(self) -> Rect:
        """The box around it."""
        return Rect(*self.centre, *self.centre).grown(self.radius)


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled outline without an edge: grey 0 is black, 1 is white."""

    outline: Outline
    grey: float = 1.0

    def draw(self, pen: Pen) -> None:
        """Draw it on a pen."""
        pen.fill(self.outline.vertices, grey=self.grey)

    @property
    def bounds(self) -> Rect:
        """The box around it."""
        return self.outline.bounds


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; ``at`` lies on its baseline, ``height`` is the size of the type in mm."""

    at: Point
    text: str
    height: float
    layer: Layer = Layer.LABEL
    anchor: Anchor = "start"
    turn_deg: float = 0.0
    bold: bool = False

    def draw(self, pen: Pen) -> None:
        """Draw it on a pen."""
        pen.text(
            self.at,
            self.text,
            height=self.height,
            layer=self.layer,
            anchor=self.anchor,
            turn_deg=self.turn_deg,
            bold=self.bold,
        )

    @property
    def bounds(self) -> Rect:
        """The box around it, by the metrics of the type that PDF files carry."""
        return text_box(self.at, self.text, self.height, self.anchor, self.turn_deg, self.bold)


@dataclass(frozen=True, slots=True)
class Inset:
    """A drawing in the drawing: its origin at ``at``, scaled, cut off at ``clip`` (in its own frame)."""

    drawing: Drawing
    at: Point
    scale_x: float = 1.0
    scale_y: float = 1.0
    clip: Rect | None = None

    def draw(self, pen: Pen) -> None:
        """Draw what of it can be seen."""
        pen.push(self.at, self.scale_x, self.scale_y, self.clip)
        for mark in self.drawing.marks:
            if self.clip is None or mark.bounds.grown(1.0).meets(self.clip):
                mark.draw(pen)
        pen.pop()

    @property
    def bounds(self) -> Rect:
        """The box around what can be seen of it."""
        part = self.clip if self.clip is not None else Rect(0, 0, self.drawing.width, self.drawing.height)
        return Rect(
            self.at.x + part.left * self.scale_x,
            self.at.y + part.bottom * self.scale_y,
            self.at.x + part.right * self.scale_x,
            self.at.y + part.top * self.scale_y,
        )


Mark = Path | Circle | Fill | Text | Inset


@dataclass(frozen=True, slots=True)
class Drawing:
    """One page: its size in mm, its marks in drawing order, and its title."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str = ""

    def draw(self, pen: Pen) -> None:
        """Draw every mark on a pen."""
        for mark in self.marks:
            mark.draw(pen)


def line(a: Point, b: Point, layer: Layer) -> Path:
    """Return a straight line."""
    return Path((Vertex(*a), Vertex(*b)), closed=False, layer=layer)


def outlined(outline: Outline, layer: Layer) -> Path:
    """Return an outline as a closed path."""
    return Path(outline.vertices, closed=True, layer=layer)
