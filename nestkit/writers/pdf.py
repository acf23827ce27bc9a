"""Writes drawings as pages of a PDF: true size, live text, not to be scaled by the viewer."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from nestkit import __version__
from nestkit.drawing.layers import STYLES, Layer
from nestkit.drawing.model import Drawing
from nestkit.drawing.pen import Anchor, ScalePen
from nestkit.drawing.type import BOLD, PLAIN, shown, text_width, typeface
from nestkit.geometry.outline import Arc, Vertex, arc_of
from nestkit.geometry.points import Point, Rect

POINTS_PER_MM = 72 / 25.4
ARC_ERROR = 0.0005 * POINTS_PER_MM
"""How far a curve may stray from its arc: half a micrometre."""


def pdf_bytes(pages: Sequence[Drawing], *, title: str, subject: str = "") -> bytes:
    """Return drawings as a PDF file, each on a page of its own size.

    The file asks the viewer not to scale (PrintScaling None); it carries no date and is the same
    bytes on every run. Raises ``ValueError`` without a page.
    """
    if not pages:
        raise ValueError("a PDF needs at least one page")
    for face in (PLAIN, BOLD):
        typeface(face)
    file = io.BytesIO()
    canvas = Canvas(file, invariant=1, pdfVersion=(1, 7), pageCompression=1)
    canvas.setTitle(shown(title))
    canvas.setAuthor("nestkit")
    canvas.setSubject(shown(subject))
    canvas.setCreator(f"nestkit {__version__}")
    canvas.setProducer(f"nestkit {__version__}")
    canvas.setViewerPreference("PrintScaling", "None")
    for page in pages:
        canvas.setPageSize((page.width * POINTS_PER_MM, page.height * POINTS_PER_MM))
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        page.draw(ScalePen(PdfPen(canvas), POINTS_PER_MM))
        canvas.showPage()
    with _binary_streams():
        canvas.save()
    return file.getvalue()


@contextmanager
def _binary_streams() -> Iterator[None]:
    """Without the coding for seven-bit mail a file is a fifth smaller and written in half the time.

    The library knows no other way to say so than its own settings; they are put back.
    """
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


class PdfPen:
    """Draws on a page whose unit is the point; a scaling pen stands before it."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas = canvas
        self._scales = [1.0]
        self._layers: list[Layer | None] = [None]

    def path(self, vertices: tuple[Vertex, ...], *, closed: bool, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._stroke(layer)
        self._canvas.drawPath(self._way(vertices, closed), stroke=1, fill=0)

    def circle(self, centre: Point, radius: float, *, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._stroke(layer)
        way = self._canvas.beginPath()
        way.moveTo(centre.x + radius, centre.y)
        _curves(way, Arc(centre, radius, 0.0, 360.0))
        way.close()
        self._canvas.drawPath(way, stroke=1, fill=0)

    def fill(self, vertices: tuple[Vertex, ...], *, grey: float) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._canvas.setFillGray(grey)
        self._canvas.drawPath(self._way(vertices, closed=True), stroke=0, fill=1)

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
        line = shown(text)
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        start = at
        if back:
            start = Point(-back * text_width(line, height, bold=bold), 0.0).turned(turn_deg).moved(*at)
        self._canvas.setFillGray(STYLES[layer].grey)
        words = self._canvas.beginText()
        cos, sin = Point(1.0, 0.0).turned(turn_deg)
        words.setTextTransform(cos, sin, -sin, cos, start.x, start.y)
        words.setFont(BOLD if bold else PLAIN, height)
        words.textOut(line)
        self._canvas.drawText(words)

    def push(self, at: Point, scale_x: float, scale_y: float, clip: Rect | None) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._canvas.saveState()
        self._canvas.transform(scale_x, 0, 0, scale_y, at.x, at.y)
        if clip is not None:
            window = self._canvas.beginPath()
            window.rect(clip.left, clip.bottom, clip.width, clip.height)
            self._canvas.clipPath(window, stroke=0, fill=0)
        self._scales.append(self._scales[-1] * math.sqrt(scale_x * scale_y))
        self._layers.append(None)

    def pop(self) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._canvas.restoreState()
        self._scales.pop()
        self._layers.pop()

    def _stroke(self, layer: Layer) -> None:
        """Line width and dashes are millimetres on paper, also in a scaled inset."""
        if self._layers[-1] == layer:
            return
        self._layers[-1] = layer
        style, unit = STYLES[layer], POINTS_PER_MM / self._scales[-1]
        self._canvas.setLineWidth(style.line * unit)
        self._canvas.setLineCap(0 if style.dash else 1)
        self._canvas.setDash([d * unit for d in style.dash])
        self._canvas.setStrokeGray(style.grey)

    def _way(self, vertices: tuple[Vertex, ...], closed: bool) -> PDFPathObject:
        way = self._canvas.beginPath()
        way.moveTo(vertices[0].x, vertices[0].y)
        ends = vertices[1:] + (vertices[:1] if closed else ())
        for i, (start, end) in enumerate(zip(vertices, ends, strict=False)):
            if start.bulge:
                _curves(way, arc_of(start.point, end.point, start.bulge))
            elif not (closed and i == len(vertices) - 1):
                way.lineTo(end.x, end.y)
        if closed:
            way.close()
        return way


def _curves(way: PDFPathObject, arc: Arc) -> None:
    """Add an arc as cubic curves that stray from it by less than ARC_ERROR.

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
        way.curveTo(from_x, from_y, x + handle * sin, y - handle * cos, x, y)
