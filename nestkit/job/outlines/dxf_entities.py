"""From the entities of a DXF file to lines, arcs and rings; blocks resolved in place."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from nestkit.geometry.points import Point, cos_sin
from nestkit.job.outlines.affine import Affine, scaled
from nestkit.job.outlines.dxf_blocks import DEEPEST, Expanded
from nestkit.job.outlines.dxf_tags import DxfText, Entity, layer_name
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.figures import Sketch, Tag
from nestkit.job.outlines.layers import Layers
from nestkit.job.outlines.splines import bezier_pieces
from nestkit.job.shown import shown

# Kinds that show no edge of a part.
IGNORED = frozenset({
    "TEXT", "MTEXT", "RTEXT", "ATTRIB", "ATTDEF", "DIMENSION", "ARC_DIMENSION", "LARGE_RADIAL_DIMENSION",
    "LEADER", "MLEADER", "MULTILEADER", "TOLERANCE", "HATCH", "POINT", "VIEWPORT", "IMAGE", "WIPEOUT",
    "OLEFRAME", "OLE2FRAME", "XLINE", "RAY", "ACAD_TABLE", "SOLID", "TRACE", "LIGHT", "SUN", "PDFUNDERLAY",
    "DWFUNDERLAY", "DGNUNDERLAY",
})  # fmt: skip
_SOLID = frozenset({
    "3DFACE", "3DSOLID", "BODY", "REGION", "MESH", "SURFACE", "EXTRUDEDSURFACE", "LOFTEDSURFACE",
    "REVOLVEDSURFACE", "SWEPTSURFACE", "PLANESURFACE", "NURBSURFACE", "HELIX",
})  # fmt: skip
FLAT_DRAWING = "Draw it flat: z 0 everywhere, seen from above"
EXPLODE = "Explode it into lines and arcs, or put it on a layer that outline_layers lists under ignore"

_MIRRORED = Affine(-1.0, 0.0, 0.0, 1.0)
_FLAT = 1e-6


class Spot(NamedTuple):
    """Where entities are drawn: their transform, the layer that "0" stands for, names of blocks around."""

    m: Affine
    layer: str = "0"
    names: tuple[str, ...] = ()
    depth: int = 0


class DxfSketcher:
    """Draws the entities of a DXF file on a sketch, those of the layers that count."""

    def __init__(self, dxf: DxfText, sketch: Sketch, layers: Layers) -> None:
        self.dxf, self.sketch, self.layers = dxf, sketch, layers

    def draw(self) -> None:
        """Draw the whole drawing."""
        self.sketch.hold(Expanded(self.dxf).count())
        self._all(self.dxf.entities, Spot(scaled(self.sketch.factor, self.sketch.factor)))

    def _all(self, entities: Sequence[Entity], spot: Spot) -> None:
        at = 0
        while at < len(entities):
            entity = entities[at]
            at += 1
            parts: list[Entity] = []
            if entity.kind in ("POLYLINE", "INSERT"):
                while at < len(entities) and entities[at].kind in ("VERTEX", "ATTRIB", "SEQEND"):
                    parts.append(entities[at])
                    at += 1
            self._one(entity, parts, spot)

    def _one(self, entity: Entity, parts: list[Entity], spot: Spot) -> None:
        self.sketch.count()
        own = layer_name(entity.text(8, "0"))
        layer = spot.layer if own == "0" else own
        self.sketch.layers.add(layer)
        left_out = self._left_out(entity, layer)
        if entity.kind in ("TEXT", "MTEXT") and (left_out is None or entity.kind in left_out):
            self._text(entity, spot)
        if left_out is not None:
            self.sketch.ignored[left_out] += 1
            return
        tag = Tag(layer, (layer, *spot.names))
        m = spot.m
        if entity.kind in _IN_OWN_FRAME:
            m = self._own_frame(entity, m)
        if entity.kind == "INSERT":
            self._insert(entity, spot._replace(m=m, layer=layer))
        elif entity.kind == "POLYLINE":
            self._polyline(entity, parts, m, tag)
        elif entity.kind in _DRAWN:
            _DRAWN[entity.kind](entity, self.sketch, m, tag)
        else:
            what = (
                "is three-dimensional" if entity.kind in _SOLID else "is no kind of line that is understood"
            )
            raise OutlineFault(f"the {entity.kind} on layer {shown(layer)} {what}", EXPLODE)

    def _left_out(self, entity: Entity, layer: str) -> str | None:
        """Return under what an entity is listed that does not count, or None for one that does."""
        if entity.kind in IGNORED:
            return entity.kind
        if entity.whole(67):
            return f"{entity.kind} in paper space"
        if entity.whole(60):
            return f"invisible {entity.kind}"
        if entity.kind == "INSERT":
            # What a block holds may lie on layers of its own.
            return f"INSERT on layer {shown(layer)}" if self.layers.ignores(layer) else None
        return self.layers.why_not(entity.kind, layer, hidden=layer in self.dxf.hidden)

    def _text(self, entity: Entity, spot: Spot) -> None:
        at = entity.point(10, Point(0.0, 0.0))
        if entity.number(230, 1.0) < 0:
            at = Point(-at.x, at.y)
        words = "".join(value for code, value in entity.tags if code in (3, 1))
        self.sketch.texts.append((spot.m.at(*at), words.strip()))

    def _own_frame(self, entity: Entity, m: Affine) -> Affine:
        """Return the transform of an entity with a frame of its own, seen from above or below."""
        x, y, z = entity.number(210, 0.0), entity.number(220, 0.0), entity.number(230, 1.0)
        if math.hypot(x, y) > _FLAT * abs(z) or not z:
            where = self.sketch.where(m.at(*_first_place(entity)))
            raise OutlineFault(f"the {entity.kind} at {where} is tilted out of the plane", FLAT_DRAWING)
        code = 38 if entity.kind == "LWPOLYLINE" else 30
        _level(entity, (code,), self.sketch, m)
        return m if z > 0 else m.after(_MIRRORED)

    def _polyline(self, entity: Entity, parts: list[Entity], m: Affine, tag: Tag) -> None:
        flags = entity.whole(70)
        if flags & (16 | 64):
            raise OutlineFault(f"the POLYLINE on layer {shown(tag.layer)} is a mesh in space", FLAT_DRAWING)
        # Flag 16 of a vertex: a control point of the curve that the other vertices follow.
        vertices = [v for v in parts if v.kind == "VERTEX" and not v.whole(70) & 16]
        rows = []
        for vertex in vertices:
            self.sketch.count()
            _level(vertex, (30,), self.sketch, m)
            rows.append((*vertex.point(10), vertex.number(42, 0.0)))
        if rows:
            self.sketch.path(rows, bool(flags & 1), m, tag)

    def _insert(self, entity: Entity, spot: Spot) -> None:
        name = layer_name(entity.text(2))
        if name in spot.names or spot.depth > DEEPEST:
            what = "holds itself" if name in spot.names else "stands too deep in others"
            text = f"the block {shown(entity.text(2))} {what}"
            raise OutlineFault(text, "Explode it, and save once more")
        if name not in self.dxf.blocks:
            raise OutlineFault(
                f"the block {shown(entity.text(2))} is not in the file", "Explode it, and save once more"
            )
        block, inside = self.dxf.blocks[name]
        if block.whole(70) & (4 | 8):
            remedy = "Bind it: what it shows must be in this file"
            raise OutlineFault(f"the block {shown(entity.text(2))} is kept in another file", remedy)
        (x, y), base = entity.point(10, Point(0.0, 0.0)), block.point(10, Point(0.0, 0.0))
        c, s = cos_sin(entity.number(50, 0.0))
        wide, high = entity.number(41, 1.0), entity.number(42, 1.0)
        if not wide or not high:
            raise entity.fault("has a scale of 0")
        own = Affine(c * wide, s * wide, -s * high, c * high)
        back = own.along(*base)
        for column in range(max(1, entity.whole(70, 1))):
            for row in range(max(1, entity.whole(71, 1))):
                self.sketch.count()
                # Rows and columns turn with the block, and are not scaled.
                along, up = column * entity.number(44, 0.0), row * entity.number(45, 0.0)
                at = x - back.x + c * along - s * up, y - back.y + s * along + c * up
                m = spot.m.after(own._replace(e=at[0], f=at[1]))
                self._all(inside, Spot(m, spot.layer, (*spot.names, name), spot.depth + 1))


def _first_place(entity: Entity) -> Point:
    return entity.point(10, Point(0.0, 0.0))


def _level(entity: Entity, codes: tuple[int, ...], sketch: Sketch, m: Affine) -> None:
    for code in codes:
        for z in entity.numbers(code):
            if abs(z) > _FLAT:
                where = sketch.where(m.at(*_first_place(entity)))
                raise OutlineFault(f"the {entity.kind} at {where} lies at z {z:g}, not at 0", FLAT_DRAWING)


def _line(entity: Entity, sketch: Sketch, m: Affine, tag: Tag) -> None:
    _level(entity, (30, 31), sketch, m)
    sketch.path([(*entity.point(10), 0.0), (*entity.point(11), 0.0)], False, m, tag)


def _radius(entity: Entity) -> float:
    radius = entity.number(40)
    if radius <= 0:
        raise entity.fault(f"has a radius of {radius:g}")
    return radius


def _circle(entity: Entity, sketch: Sketch, m: Affine, tag: Tag) -> None:
    r = _radius(entity)
    sketch.oval(entity.point(10), (r, 0.0), (0.0, r), 0.0, math.tau, m, tag)


def _arc(entity: Entity, sketch: Sketch, m: Affine, tag: Tag) -> None:
    r, start, end = _radius(entity), entity.number(50), entity.number(51)
    sweep = (end - start) % 360.0 or 360.0
    # The frame is turned to where the arc starts, so that ends at quarter turns are exact.
    c, s = cos_sin(start)
    if sweep == 360.0 or sweep % 90.0:
        sketch.oval(entity.point(10), (r * c, r * s), (-r * s, r * c), 0.0, math.radians(sweep), m, tag)
        return
    (cx, cy), bulge = entity.point(10), math.tan(math.pi / 8)
    ends = [cos_sin(start + quarter * 90.0) for quarter in range(int(sweep // 90) + 1)]
    if sweep == 180.0:
        ends, bulge = [ends[0], ends[-1]], 1.0
    sketch.path([(cx + r * c, cy + r * s, bulge) for c, s in ends], False, m, tag)


def _ellipse(entity: Entity, sketch: Sketch, m: Affine, tag: Tag) -> None:
    _level(entity, (30, 31), sketch, m)
    x, y, z = entity.number(210, 0.0), entity.number(220, 0.0), entity.number(230, 1.0)
    if math.hypot(x, y) > _FLAT * abs(z) or not z:
        where = sketch.where(m.at(*_first_place(entity)))
        raise OutlineFault(f"the ELLIPSE at {where} is tilted out of the plane", FLAT_DRAWING)
    major, ratio = entity.point(11), entity.number(40)
    if not any(major) or not ratio:
        raise entity.fault("has an axis of length 0")
    side = math.copysign(ratio, z)
    start, end = entity.number(41, 0.0), entity.number(42, math.tau)
    sweep = (end - start) % math.tau
    if sweep < 1e-9 or math.tau - sweep < 1e-9:
        start, sweep = 0.0 if abs(start) < 1e-9 else start, math.tau
    sketch.oval(entity.point(10), major, (-major.y * side, major.x * side), start, sweep, m, tag)


def _lwpolyline(entity: Entity, sketch: Sketch, m: Affine, tag: Tag) -> None:
    rows: list[tuple[float, float, float]] = []
    for code, value in entity.tags:
        if code == 10:
            sketch.count()
            rows.append((entity.finite(value), 0.0, 0.0))
        elif code == 20 and rows:
            rows[-1] = (rows[-1][0], entity.finite(value), 0.0)
        elif code == 42 and rows:
            rows[-1] = (rows[-1][0], rows[-1][1], entity.finite(value))
    if rows:
        sketch.path(rows, bool(entity.whole(70) & 1), m, tag)


def _spline(entity: Entity, sketch: Sketch, m: Affine, tag: Tag) -> None:
    _level(entity, (30, 31), sketch, m)
    xs, ys = entity.numbers(10), entity.numbers(20)
    if not xs and entity.numbers(11):
        remedy = "Turn it into a curve by control points, or into arcs"
        raise OutlineFault(f"the SPLINE on layer {shown(tag.layer)} has points to pass, but no curve", remedy)
    if len(xs) != len(ys):
        raise entity.fault("has a control point without its y")
    weights = entity.numbers(41) or [1.0] * len(xs)
    pieces = bezier_pieces(entity.whole(71, 3), entity.numbers(40), list(zip(xs, ys, strict=True)), weights)
    if pieces is None:
        raise entity.fault("has knots, control points and weights that do not go together")
    sketch.curves += 1
    for piece in pieces:
        sketch.count()
        sketch.bezier(piece, m, tag)


_DRAWN: dict[str, Callable[[Entity, Sketch, Affine, Tag], None]] = {
    "LINE": _line,
    "CIRCLE": _circle,
    "ARC": _arc,
    "ELLIPSE": _ellipse,
    "LWPOLYLINE": _lwpolyline,
    "SPLINE": _spline,
}
_IN_OWN_FRAME = frozenset({"CIRCLE", "ARC", "LWPOLYLINE", "POLYLINE", "INSERT"})
