"""Writes a drawing as SVG: a page of true size, 1 user unit = 1 mm, with live text."""

from __future__ import annotations

import math
from typing import Any

import svgwrite

from nestkit.drawing.layers import STYLES, Layer
from nestkit.drawing.model import Drawing
from nestkit.drawing.pen import Anchor, FlipPen
from nestkit.drawing.type import printable
from nestkit.geometry.outline import Vertex, arc_of
from nestkit.geometry.points import Point, Rect

FONTS = "Verdana, 'DejaVu Sans', 'Bitstream Vera Sans', sans-serif"
"""Types of the width by which texts are laid out; the first that is there is used."""


def svg_bytes(drawing: Drawing, *, scale: float = 1.0) -> bytes:
    """Return one page as an SVG file; its width, height and coordinates are millimetres.

    With a ``scale`` the page is that much larger than the drawing, lines and type with it: a picture
    drawn 1 to 10 comes out at true size with a scale of 10.
    """
    size = (f"{_text(drawing.width * scale)}mm", f"{_text(drawing.height * scale)}mm")
    picture = _picture(drawing, size, "clip")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{picture.tostring()}\n'.encode()


def svg_inline(drawing: Drawing, width_css: str = "100%", *, prefix: str) -> str:
    """Return one page as an ``svg`` element for an HTML page, as wide as ``width_css`` says.

    ``prefix`` keeps its ids apart from those of other pictures on the page.
    """
    picture = _picture(drawing, (width_css, None), f"{prefix}-clip")
    picture["role"] = "img"
    return str(picture.tostring())


def _picture(drawing: Drawing, size: tuple[str, str | None], clip_prefix: str) -> Any:
    picture = svgwrite.Drawing(size=size, debug=False)
    if size[1] is None:
        del picture.attribs["height"]
    picture["viewBox"] = f"0 0 {_text(drawing.width)} {_text(drawing.height)}"
    picture["font-family"] = FONTS
    picture["fill"] = "none"
    picture["stroke-linecap"] = "round"
    picture["stroke-linejoin"] = "round"
    picture.set_desc(title=printable(drawing.title))
    drawing.draw(FlipPen(SvgPen(picture, clip_prefix), drawing.height))
    return picture


class SvgPen:
    """Draws on an svgwrite picture whose y runs down; a flipping pen stands before it."""

    def __init__(self, picture: Any, clip_prefix: str) -> None:
        self._picture = picture
        self._groups = [picture]
        self._scales = [1.0]
        self._clip_prefix = clip_prefix
        self._clips = 0

    def path(self, vertices: tuple[Vertex, ...], *, closed: bool, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._add(self._picture.path(path_text(vertices, closed), **self._stroke(layer)))

    def circle(self, centre: Point, radius: float, *, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        place = (_text(centre.x), _text(centre.y))
        self._add(self._picture.circle(place, _text(radius), **self._stroke(layer)))

    def fill(self, vertices: tuple[Vertex, ...], *, grey: float) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        self._add(self._picture.path(path_text(vertices, closed=True), fill=_grey(grey)))

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
        place = (_text(at.x), _text(at.y))
        look = {"font_size": _text(height), "fill": _grey(STYLES[layer].grey)}
        if anchor != "start":
            look["text_anchor"] = anchor
        if bold:
            look["font_weight"] = "bold"
        if turn_deg:
            look["transform"] = f"rotate({_text(turn_deg)} {place[0]} {place[1]})"
        element = self._picture.text(printable(text), place, **look)
        if "  " in text:
            element["xml:space"] = "preserve"
        self._add(element)

    def push(self, at: Point, scale_x: float, scale_y: float, clip: Rect | None) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        move = f"translate({_text(at.x)} {_text(at.y)})"
        if (scale_x, scale_y) != (1.0, 1.0):
            move += f" scale({_text(scale_x, 9)} {_text(scale_y, 9)})"
        group = self._picture.g(transform=move)
        if clip is not None:
            self._clips += 1
            name = f"{self._clip_prefix}-{self._clips}"
            window = self._picture.clipPath(id=name)
            corner = (_text(clip.left), _text(clip.bottom))
            window.add(self._picture.rect(corner, (_text(clip.width), _text(clip.height))))
            self._picture.defs.add(window)
            group["clip-path"] = f"url(#{name})"
        self._groups.append(group)
        self._scales.append(self._scales[-1] * math.sqrt(scale_x * scale_y))

    def pop(self) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        group = self._groups.pop()
        self._scales.pop()
        self._add(group)

    def _add(self, element: Any) -> None:
        self._groups[-1].add(element)

    def _stroke(self, layer: Layer) -> dict[str, str]:
        """Line width and dashes are millimetres on paper, also in a scaled inset."""
        style, scale = STYLES[layer], self._scales[-1]
        look = {"stroke": _grey(style.grey), "stroke_width": _text(style.line / scale)}
        if style.dash:
            look["stroke_dasharray"] = " ".join(_text(d / scale) for d in style.dash)
            look["stroke_linecap"] = "butt"
        return look


def path_text(vertices: tuple[Vertex, ...], closed: bool) -> str:
    """Return the d attribute of a path in the frame of its vertices, in which a positive bulge sweeps.

    On a page, whose y runs down, they have been flipped before.
    """
    first = vertices[0]
    words = [f"M{_text(first.x)} {_text(first.y)}"]
    ends = vertices[1:] + ((first,) if closed else ())
    last = len(vertices) - 1
    for i, end in enumerate(ends):
        start = vertices[i]
        if start.bulge:
            radius = _text(arc_of(start.point, end.point, start.bulge).radius)
            flags = f"{int(abs(start.bulge) > 1)} {int(start.bulge > 0)}"
            words.append(f"A{radius} {radius} 0 {flags} {_text(end.x)} {_text(end.y)}")
        elif not (closed and i == last):
            words.append(f"L{_text(end.x)} {_text(end.y)}")
    if closed:
        words.append("Z")
    return " ".join(words)


def _grey(value: float) -> str:
    if value == 0.0:
        return "#000"
    level = round(value * 255)
    return f"#{level:02x}{level:02x}{level:02x}"


def _text(value: float, places: int = 6) -> str:
    """A number with at most six decimals: short, and the same on every machine."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
