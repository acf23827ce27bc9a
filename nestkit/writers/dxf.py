"""DXF files for the shop that cuts: closed outlines with true arcs, circles, plain layers, the job's unit."""

from __future__ import annotations

import io
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Mark, Path, Text
from nestkit.drawing.pen import Anchor, ScalePen
from nestkit.errors import ToolFault
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect, around
from nestkit.job.model import DxfOptions
from nestkit.units import MM_PER_INCH, Unit

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

LAYERS = (Layer.PART_EDGE, Layer.OPENING, Layer.DRILLED_HOLE, Layer.MARK, Layer.NOTE_NO_CUT)
SINGLE_LAYERS = (Layer.PART_EDGE, Layer.MARK, Layer.NOTE_NO_CUT)

UNIT_CODES: dict[Unit, tuple[int, int]] = {"in": (1, 0), "mm": (4, 1)}
"""$INSUNITS and $MEASUREMENT of the DXF reference."""

UNIT_WORDS: dict[Unit, str] = {"in": "inch", "mm": "millimetre"}

DECIMALS = 12
"""Digits behind the point of a coordinate: drops the noise of the last bits and nothing that can be cut."""

_ONE_AT_A_TIME = threading.Lock()


def dxf_bytes(drawing: Drawing, *, unit: Unit, options: DxfOptions) -> bytes:
    """Return a drawing as a DXF file in the job's unit; the same drawing gives the same bytes.

    Raises :class:`~nestkit.errors.ToolFault` for a mark that has no place in a cutting file: a fill, an
    inset, an open path, a layer of prints.
    """
    with _fixed_meta_data():
        document = _document(unit, options, drawing)
        drawing.draw(ScalePen(DxfPen(document.modelspace(), options), _factor(unit)))
        stream = io.StringIO()
        document.write(stream)
    # R12 has no header variable for the unit: a comment says it, as does the note beside a sheet.
    unit_note = f"999\nUNIT: {UNIT_WORDS[unit]}\n" if options.version == "R12" else ""
    return document.encode(unit_note + stream.getvalue())


def layers_of(options: DxfOptions, *, tabs: bool = False) -> tuple[Layer, ...]:
    """Return the layers that a file written with these options has; that of ``tabs`` only if it has any."""
    layers = SINGLE_LAYERS if options.single_layer else LAYERS
    return (*layers, Layer.HOLDING_TAB) if tabs else layers


def _factor(unit: Unit) -> float:
    return float(1 / MM_PER_INCH) if unit == "in" else 1.0


@contextmanager
def _fixed_meta_data() -> Iterator[None]:
    """Keep dates and identifiers out of the files, and the library's own setting as it was."""
    import ezdxf

    options = ezdxf.options  # type: ignore[attr-defined]
    # The setting is the library's and global, and a local page serves several jobs at a time.
    with _ONE_AT_A_TIME:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            options.write_fixed_meta_data_for_testing = before


def _document(unit: Unit, options: DxfOptions, drawing: Drawing) -> Document:
    """Return an empty document with unit, extents, limits and layers set."""
    from ezdxf.document import Drawing as Document

    # Not the library's short cut, which warns on standard error that R12 has no variable for the unit.
    document = Document.new(options.version)
    factor = _factor(unit)
    insert_unit, measurement = UNIT_CODES[unit]
    document.header["$MEASUREMENT"] = measurement
    document.header["$LUNITS"] = 2
    space = document.modelspace()
    if options.version != "R12":
        document.units = insert_unit
        # Else the section follows the order of a set.
        document.classes.add_required_classes(document.dxfversion)
        document.classes.classes = dict(sorted(document.classes.classes.items()))
    box = extents(drawing)
    low = (_clean(box.left * factor), _clean(box.bottom * factor), 0.0)
    high = (_clean(box.right * factor), _clean(box.top * factor), 0.0)
    space.reset_extents(low, high)
    # The library takes a lower left of 0, 0 for "not set" and would leave the header alone.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = low, high
    space.reset_limits((0.0, 0.0), (drawing.width * factor, drawing.height * factor))
    for layer in layers_of(options, tabs=any(_is_tab(m) for m in drawing.marks)):
        entry = document.layers.add(str(layer), color=7)
        if layer is Layer.NOTE_NO_CUT and options.version != "R12":
            entry.dxf.plot = 0
    return document


def _is_tab(mark: Mark) -> bool:
    return isinstance(mark, Path) and mark.layer is Layer.HOLDING_TAB


def extents(drawing: Drawing) -> Rect:
    """Return the box around everything drawn, in mm, texts by their foot alone.

    How wide a text is depends on the type of the program that reads the file.
    """
    boxes = [Rect(*m.at, *m.at) if isinstance(m, Text) else m.bounds for m in drawing.marks]
    if not boxes:
        return Rect(0.0, 0.0, drawing.width, drawing.height)
    return around(boxes)


class DxfPen:
    """Writes marks as entities of a DXF model space, in whatever unit they come."""

    def __init__(self, space: Modelspace, options: DxfOptions) -> None:
        self._space = space
        self._old = options.version == "R12"
        self._single = options.single_layer

    def _layer(self, layer: Layer) -> str:
        if layer not in (*LAYERS, Layer.HOLDING_TAB):
            raise ToolFault(f"a mark of {layer} has no place in a cutting file")
        cut = layer in (Layer.PART_EDGE, Layer.OPENING, Layer.DRILLED_HOLE)
        return str(Layer.PART_EDGE if cut and self._single else layer)

    def path(self, vertices: tuple[Vertex, ...], *, closed: bool, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`; a cutting file has closed paths, and lines across tabs."""
        if layer is Layer.HOLDING_TAB and len(vertices) == 2:
            start, end = ((_clean(v.x), _clean(v.y)) for v in vertices)
            self._space.add_line(start, end, dxfattribs={"layer": self._layer(layer)})
            return
        if not closed:
            raise ToolFault("an open path has no place in a cutting file")
        points = [(_clean(v.x), _clean(v.y), v.bulge) for v in vertices]
        attributes = {"layer": self._layer(layer)}
        if self._old:
            self._space.add_polyline2d(points, format="xyb", close=True, dxfattribs=attributes)
        else:
            self._space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attributes)

    def circle(self, centre: Point, radius: float, *, layer: Layer) -> None:
        """See :class:`~nestkit.drawing.pen.Pen`."""
        at = (_clean(centre.x), _clean(centre.y))
        self._space.add_circle(at, _clean(radius), dxfattribs={"layer": self._layer(layer)})

    def fill(self, vertices: tuple[Vertex, ...], *, grey: float) -> None:
        """Refuse: a cutting file has no areas."""
        raise ToolFault("a filled area has no place in a cutting file")

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
        """See :class:`~nestkit.drawing.pen.Pen`; ``height`` becomes that of capitals, bold is left out."""
        if anchor != "start":
            raise ToolFault("a text of a cutting file starts at its foot")
        self._space.add_text(
            plain_text(text),
            height=_clean(height),
            rotation=turn_deg,
            dxfattribs={
                "layer": self._layer(layer),
                "insert": (_clean(at.x), _clean(at.y)),
            },
        )

    def push(self, at: Point, scale_x: float, scale_y: float, clip: Rect | None) -> None:
        """Refuse: a cutting file has no drawing in the drawing."""
        raise ToolFault("an inset has no place in a cutting file")

    def pop(self) -> None:
        """Refuse: nothing can have been begun."""
        raise ToolFault("an inset has no place in a cutting file")


def _clean(value: float) -> float:
    """A number without the noise of its last bits, and never a zero with a minus."""
    return round(value, DECIMALS) + 0.0


def plain_text(text: str) -> str:
    """Return a text that a DXF reader shows as it is: its own codes doubled, control letters as blanks."""
    shown = "".join(" " if ord(c) < 32 or 0x7F <= ord(c) < 0xA0 else c for c in text)
    return shown.replace("^", "^ ").replace("%%", "%%%%%%")
