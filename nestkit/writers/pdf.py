"""Writes drawings as pages of a PDF: true size, live text, not to be scaled by the viewer."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from nestkit import __version__
from nestkit.drawing.layers import STYLES, Layer
from nestkit.drawing.model import Drawing
from nestkit.drawing.pen import Anchor
from nestkit.drawing.type import BOLD, PLAIN, shown, text_width, typeface
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect, cos_sin
from nestkit.writers.pdf_operators import ESCAPED, POINTS_PER_MM, circle, look, number, numbers, way


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
    canvas = _Canvas(file, invariant=1, pdfVersion=(1, 7), pageCompression=1)
    canvas.setTitle(shown(title))
    canvas.setAuthor("nestkit")
    canvas.setSubject(shown(subject))
    canvas.setCreator(f"nestkit {__version__}")
    canvas.setProducer(f"nestkit {__version__}")
    canvas.setViewerPreference("PrintScaling", "None")
    pen = PdfPen(canvas.document)
    for page in pages:
        canvas.setPageSize((page.width * POINTS_PER_MM, page.height * POINTS_PER_MM))
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        page.draw(pen)
        canvas.addLiteral(pen.page())
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


class _Canvas(Canvas):
    """A canvas that shows its document: a typeface keeps the letters of each document apart."""

    @property
    def document(self) -> Any:
        return self._doc  # type: ignore[attr-defined]


_BACK: dict[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""How much of its width a text begins before its place."""


class PdfPen:
    """Writes what is drawn in millimetres as the operators of a page, whose unit is the point.

    The library's own paths and texts come to the same operators, at several times the cost.
    """

    def __init__(self, document: Any) -> None:
        self._document = document
        self._operators: list[str] = []
        self._scales = [1.0]
        self._layers: list[Layer | None] = [None]
        self._words: dict[tuple[str, float, bool], str] = {}

    def page(self) -> str:
        """Return the operators of the page drawn, and begin the next."""
        page = "\n".join(self._operators)
        self._operators.clear()
        self._layers = [None]
        return page

    def path(self, vertices: tuple[Vertex, ...], *, closed: bool, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._stroke(layer)
        self._operators += (way(vertices, closed), "S")

    def circle(self, centre: Point, radius: float, *, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._stroke(layer)
        self._operators += (circle(centre, radius), "S")

    def fill(self, vertices: tuple[Vertex, ...], *, grey: float) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._operators += (f"{number(grey)} g", way(vertices, True), "f*")

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
        size = height * POINTS_PER_MM
        x, y = at.x * POINTS_PER_MM, at.y * POINTS_PER_MM
        if back := _BACK[anchor]:
            x, y = Point(-back * text_width(line, size, bold=bold), 0.0).turned(turn_deg).moved(x, y)
        cos, sin = cos_sin(turn_deg)
        words = self._words.get((line, size, bold))
        if words is None:
            words = self._words[line, size, bold] = self._written(line, size, bold)
        self._operators += (
            f"{number(STYLES[layer].grey)} g",
            f"BT {numbers(cos, sin, -sin, cos, x, y)} Tm {words} ET",
        )

    def push(self, at: Point, scale_x: float, scale_y: float, clip: Rect | None) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        place = numbers(at.x * POINTS_PER_MM, at.y * POINTS_PER_MM)
        self._operators += ("q", f"{number(scale_x)} 0 0 {number(scale_y)} {place} cm")
        if clip is not None:
            left, bottom, right, top = (edge * POINTS_PER_MM for edge in clip)
            self._operators.append(f"n {numbers(left, bottom, right - left, top - bottom)} re W* n")
        self._scales.append(self._scales[-1] * math.sqrt(scale_x * scale_y))
        self._layers.append(None)

    def pop(self) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._operators.append("Q")
        self._scales.pop()
        self._layers.pop()

    def _stroke(self, layer: Layer) -> None:
        if self._layers[-1] != layer:
            self._layers[-1] = layer
            self._operators.append(look(layer, self._scales[-1]))

    def _written(self, line: str, size: float, bold: bool) -> str:
        """The operators that choose the typeface and show the text."""
        font = typeface(BOLD if bold else PLAIN)
        words: list[str] = []
        now = -1
        # A letter past the first 255 of a document is in another subset: a typeface of its own.
        for subset, codes in font.splitString(line, self._document):
            if subset != now:
                name = font.getSubsetInternalName(subset, self._document)
                words.append(f"{name} {number(size)} Tf")
                now = subset
            words.append(f"({codes.decode('latin-1').translate(ESCAPED)}) Tj")
        return " ".join(words)
