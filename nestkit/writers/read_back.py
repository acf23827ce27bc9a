"""Reads a written DXF file back and compares it with the panels it was made from.

The way from a panel to its place is worked out here again, in other arithmetic than the drawing
uses, and the file is read by a reader of its own: a fault in either shows before a sheet is cut.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from nestkit.drawing.layers import Layer
from nestkit.drawing.sheet import check_square
from nestkit.errors import ToolFault
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import DxfOptions
from nestkit.layout.result import CutSheet
from nestkit.parts.panel import Panel, mark_width
from nestkit.stock.ways import Way as CutWay
from nestkit.units import MM_PER_INCH, Unit
from nestkit.writers.dxf import UNIT_CODES, layers_of, plain_text
from nestkit.writers.dxf_pool import Pool
from nestkit.writers.dxf_reader import DxfFile, Line, Loop, Ring, read_dxf
from nestkit.writers.read_clear import take_clear
from nestkit.writers.read_tabs import take_tabs

TOLERANCE = 1e-5
"""Millimetres by which a point or length may differ; areas by this times the length of the outline."""

VERSIONS = {"R12": "AC1009", "R2000": "AC1015", "R2010": "AC1024"}
"""Version codes of the DXF reference."""

Way = Callable[[complex], complex]


@dataclass(frozen=True, slots=True)
class _Laid:
    """A panel and the way of its points to the file, in mm; ``mirrored`` says that the way mirrors."""

    panel: Panel
    way: Way
    mirrored: bool


def compare_sheet(
    data: bytes, sheet: CutSheet, *, unit: Unit, options: DxfOptions, file: str, cut: CutWay | None = None
) -> None:
    """Compare a sheet's file with the parts on it, and with the holding tabs that its way of cutting wants.

    Raises :class:`~nestkit.errors.ToolFault` naming the file and the first difference.
    """
    parts = []
    for part in sheet.parts:
        way = _way(part.panel, part.opposite_hand, float(part.turn), float(part.x), float(part.y))
        parts.append(_Laid(part.panel, way, part.opposite_hand))
    _compare(data, parts, unit, options, file, sheet, cut)


def compare_part(
    data: bytes, panel: Panel, opposite: bool, *, unit: Unit, options: DxfOptions, file: str
) -> None:
    """Compare a part's file with its panel.

    Raises :class:`~nestkit.errors.ToolFault` naming the file and the first difference.
    """
    part = _Laid(panel, _way(panel, opposite, 0, 0.0, 0.0), opposite)
    _compare(data, [part], unit, options, file, None)


def _way(panel: Panel, mirrored: bool, turn: float, x: float, y: float) -> Way:
    """Return the way of a point: mirrored in the panel's width, turned, its box moved to ``x, y``."""
    width = float(panel.width)
    turned = 1j ** int(turn // 90) if turn % 90 == 0 else cmath.exp(1j * math.radians(turn))

    def still(z: complex) -> complex:
        return (width - z.conjugate() if mirrored else z) * turned

    box = _carried(panel.outline, still, mirrored).bounds
    shift = complex(x - box.left, y - box.bottom)
    return lambda z: still(z) + shift


def _carried(outline: Outline, way: Way, mirrored: bool) -> Outline:
    ends = (way(complex(v.x, v.y)) for v in outline.vertices)
    sign = -1 if mirrored else 1
    return Outline(
        tuple(Vertex(z.real, z.imag, sign * v.bulge) for z, v in zip(ends, outline.vertices, strict=True))
    )


def _compare(
    data: bytes,
    parts: list[_Laid],
    unit: Unit,
    options: DxfOptions,
    file: str,
    sheet: CutSheet | None,
    cut_by: CutWay | None = None,
) -> None:
    try:
        found = read_dxf(data)
        factor = float(MM_PER_INCH) if unit == "in" else 1.0
        _head(found, unit, options)
        _extents(found)
        loops = Pool(found.loops, lambda loop: _middle(loop.outline), factor)
        rings = Pool(found.rings, lambda ring: ring.centre, factor)
        lines = Pool(found.lines, lambda line: line.at, factor)
        strokes = Pool(found.strokes, lambda stroke: stroke.middle, factor)
        cut = {layer: str(Layer.PART_EDGE) if options.single_layer else str(layer) for layer in Layer}
        for part in parts:
            _take_part(part, loops, rings, lines, cut, factor)
            if cut_by is not None:
                edge = _carried(part.panel.outline, part.way, part.mirrored)
                take_tabs(part.panel, cut_by, partial(_there, part), edge, strokes, factor)
        if sheet is not None:
            _take_sheet(sheet, check_square(unit)[0], loops, factor)
        notes = str(Layer.NOTE_NO_CUT) if sheet is not None else ""
        strays = len(loops.left()) + len(rings.left()) + len(strokes.left())
        strays += sum(t.layer != notes for t in lines.left())
        if strays:
            raise ToolFault(f"it has {strays} mark(s) that belong to no part")
    except ToolFault as fault:
        raise ToolFault(f"{file} was read back and differs from the job: {fault}") from fault


def _head(found: DxfFile, unit: Unit, options: DxfOptions) -> None:
    """Compare version, unit and layers."""
    if found.version != VERSIONS[options.version]:
        raise ToolFault(f"its version is {found.version}, not {VERSIONS[options.version]}")
    wanted = dict(zip(("$INSUNITS", "$MEASUREMENT"), UNIT_CODES[unit], strict=True))
    for name, code in wanted.items() if options.version != "R12" else ():
        if found.header.get(name) != ((70, str(code)),):
            raise ToolFault(f"its {name} is not {code}")
    layers = {str(layer) for layer in layers_of(options, tabs=bool(found.strokes))}
    if missing := sorted(layers - found.plots.keys()):
        raise ToolFault(f"it lacks the layer {missing[0]}")
    used = {i.layer for group in (found.loops, found.rings, found.lines, found.strokes) for i in group}
    if strange := sorted(used - layers):
        raise ToolFault(f"a mark lies on layer {strange[0]}")
    if options.version != "R12" and found.plots[str(Layer.NOTE_NO_CUT)]:
        raise ToolFault(f"the layer {Layer.NOTE_NO_CUT} would be plotted")


def _extents(found: DxfFile) -> None:
    """Compare the extents in the header with what is in the file."""
    boxes = [loop.outline.bounds for loop in found.loops]
    boxes += [Rect(*r.centre, *r.centre).grown(r.radius) for r in found.rings]
    boxes += [Rect(*t.at, *t.at) for t in found.lines]
    boxes += [Rect(*end, *end) for stroke in found.strokes for end in (stroke.start, stroke.end)]
    if not boxes:
        raise ToolFault("it is empty")
    real = (
        *(min(b[i] for b in boxes) for i in (0, 1)),
        *(max(b[i] for b in boxes) for i in (2, 3)),
    )
    said = [float(v) for n in ("$EXTMIN", "$EXTMAX") for _, v in found.header.get(n, ())[:2]]
    if len(said) != 4 or any(abs(a - b) > TOLERANCE for a, b in zip(said, real, strict=True)):
        raise ToolFault("the extents in its header are not those of its marks")


def _take_part(
    part: _Laid,
    loops: Pool[Loop],
    rings: Pool[Ring],
    lines: Pool[Line],
    cut: dict[Layer, str],
    factor: float,
) -> None:
    """Take everything of one part out of the file's marks."""
    panel, who = part.panel, f'part "{part.panel.name}"'
    _take_loop(panel.outline, part, loops, cut[Layer.PART_EDGE], factor, f"the edge of {who}")
    for opening in panel.openings:
        _take_loop(opening.outline, part, loops, cut[Layer.OPENING], factor, f"{opening.kind} of {who}")
    for hole in panel.holes:
        what = f"hole {hole.number} of {who}"
        ring = rings.take(_there(part, hole.at), cut[Layer.DRILLED_HOLE], what)
        if abs(2 * ring.radius * factor - hole.dia) > TOLERANCE:
            raise ToolFault(f"{what} is {2 * ring.radius * factor:.4f} mm wide, not {hole.dia:.4f}")
    for mark in panel.marks:
        what = f"mark {mark.text!r} of {who}"
        # A text is not mirrored: on the other hand it starts where its end would lie.
        foot = Point(mark.at.x + (mark_width(mark) if part.mirrored else 0.0), mark.at.y)
        line = lines.take(_there(part, foot), str(Layer.MARK), what)
        if line.text != plain_text(mark.text) or abs(line.height * factor - mark.height) > TOLERANCE:
            raise ToolFault(f"{what} reads {line.text!r}")


def _take_loop(
    outline: Outline, part: _Laid, loops: Pool[Loop], layer: str, factor: float, what: str
) -> None:
    """Take an outline out of the file's loops and compare corners, area and length."""
    wanted = _carried(outline, part.way, part.mirrored)
    loop = loops.take(_middle(wanted), layer, what)
    real = Outline(tuple(Vertex(v.x * factor, v.y * factor, v.bulge) for v in loop.outline.vertices))
    if len(real.vertices) != len(wanted.vertices):
        raise ToolFault(f"{what} has {len(real.vertices)} corners, not {len(wanted.vertices)}")
    length = wanted.length
    if abs(real.length - length) > TOLERANCE * len(wanted.vertices):
        raise ToolFault(f"{what} is {real.length:.4f} mm long, not {length:.4f}")
    if abs(abs(real.area) - abs(wanted.area)) > TOLERANCE * length:
        raise ToolFault(f"{what} encloses {abs(real.area):.3f} mm2, not {abs(wanted.area):.3f}")
    if not _same_edges(real, wanted):
        raise ToolFault(f"a corner or an arc of {what} lies elsewhere")


def _same_edges(a: Outline, b: Outline) -> bool:
    """Say whether two loops have the same corners and arcs, from whichever corner and either way round."""
    first = a.vertices[0].point
    count = len(b.vertices)
    for other in (b, b.reversed()):
        for start in (i for i, v in enumerate(other.vertices) if first.to(v.point) <= TOLERANCE):
            turned = (other.vertices[(start + k) % count] for k in range(count))
            if all(
                v.point.to(w.point) <= TOLERANCE and abs(v.bulge - w.bulge) <= TOLERANCE
                for v, w in zip(a.vertices, turned, strict=True)
            ):
                return True
    return False


def _take_sheet(sheet: CutSheet, square: float, loops: Pool[Loop], factor: float) -> None:
    """Take the sheet's edge, what is kept clear and the check square out of the file's loops."""
    size = (float(sheet.stock.width), float(sheet.stock.height))
    notes = str(Layer.NOTE_NO_CUT)
    edge = loops.take(Point(size[0] / 2, size[1] / 2), notes, "the sheet's edge").outline.bounds
    wanted = (0.0, 0.0, *size)
    if any(abs(a * factor - b) > TOLERANCE for a, b in zip(edge, wanted, strict=True)):
        raise ToolFault("the sheet's edge has another size")
    take_clear(sheet, loops, factor)
    rest = loops.left()
    if len(rest) != 1 or rest[0].layer != notes:
        raise ToolFault("it has other outlines than its parts, its edge and one check square")
    box = rest[0].outline.bounds
    if any(abs(a * factor - square) > TOLERANCE for a in (box.width, box.height)) or box.left < edge.right:
        raise ToolFault(f"the check square is not {square} mm, or lies on the sheet")
    loops.take(Point(box.centre.x * factor, box.centre.y * factor), notes, "the check square")


def _there(part: _Laid, p: Point) -> Point:
    z = part.way(complex(p.x, p.y))
    return Point(z.real, z.imag)


def _middle(outline: Outline) -> Point:
    """Mean of the corners: it goes with them wherever they are turned and moved."""
    count = len(outline.vertices)
    return Point(sum(v.x for v in outline.vertices) / count, sum(v.y for v in outline.vertices) / count)
