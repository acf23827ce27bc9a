"""A small reader of DXF files of our own: it shares nothing with what writes them.

It knows the group codes of the published DXF reference that a cutting file of ours may hold, and
refuses everything else, so that nothing in a file goes unseen.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from nestkit.errors import ToolFault
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point

Tag = tuple[int, str]

TABS = "HOLDING_TAB"
"""The one layer that has lines: each stands for a holding tab."""


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed outline on a layer."""

    layer: str
    outline: Outline


@dataclass(frozen=True, slots=True)
class Ring:
    """A full circle on a layer."""

    layer: str
    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text on a layer, by the foot of its first letter."""

    layer: str
    at: Point
    text: str
    height: float
    turn_deg: float


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line across an edge: a holding tab."""

    layer: str
    start: Point
    end: Point

    @property
    def middle(self) -> Point:
        """Half way along it."""
        return Point((self.start.x + self.end.x) / 2, (self.start.y + self.end.y) / 2)


@dataclass(frozen=True, slots=True)
class DxfFile:
    """What a file holds, in its own unit. ``plots`` has every layer and whether it is plotted."""

    version: str
    header: dict[str, tuple[Tag, ...]]
    plots: dict[str, bool]
    loops: tuple[Loop, ...]
    rings: tuple[Ring, ...]
    lines: tuple[Line, ...]
    strokes: tuple[Stroke, ...] = ()


def read_dxf(data: bytes) -> DxfFile:
    """Return what a DXF file of ours holds.

    Raises :class:`~nestkit.errors.ToolFault` for an open outline, a point that occurs twice in a
    row, or any kind of entity that a cutting file must not have.
    """
    tags = _tags(data)
    sections = _sections(tags)
    header = _header(sections.get("HEADER", []))
    version = header.get("$ACADVER", ((1, ""),))[0][1]
    loops: list[Loop] = []
    rings: list[Ring] = []
    lines: list[Line] = []
    strokes: list[Stroke] = []
    for kind, body in _entities(sections.get("ENTITIES", [])):
        if kind == "LWPOLYLINE":
            loops.append(_light(body))
        elif kind == "POLYLINE":
            loops.append(_old(body))
        elif kind == "CIRCLE":
            rings.append(Ring(_one(body, 8), _point(body), float(_one(body, 40))))
        elif kind == "LINE" and _one(body, 8) == TABS:
            end = Point(float(_one(body, 11)), float(_one(body, 21)))
            strokes.append(Stroke(_one(body, 8), _point(body), end))
        elif kind == "TEXT":
            turn = float(_one(body, 50, "0"))
            text = _letters(_one(body, 1))
            lines.append(Line(_one(body, 8), _point(body), text, float(_one(body, 40)), turn))
        else:
            raise ToolFault(f"the file has a {kind}, which no cutting file of ours may have")
    layers = _layers(sections.get("TABLES", []))
    return DxfFile(version, header, layers, tuple(loops), tuple(rings), tuple(lines), tuple(strokes))


def _tags(data: bytes) -> list[Tag]:
    """Split a file into pairs of group code and value; comments are left out."""
    newer = b"AC1024" in data[:400] or b"AC1021" in data[:400]
    rows = data.decode("utf-8" if newer else "cp1252").split("\n")
    if rows and rows[-1] == "":
        rows.pop()
    if len(rows) % 2:
        raise ToolFault("the file ends in the middle of a pair")
    pairs = zip(rows[::2], rows[1::2], strict=True)
    return [(int(code), value.rstrip("\r")) for code, value in pairs if int(code) != 999]


def _sections(tags: list[Tag]) -> dict[str, list[Tag]]:
    """Return the tags of each section by its name."""
    found: dict[str, list[Tag]] = {}
    current: list[Tag] | None = None
    for index, tag in enumerate(tags):
        if tag == (0, "SECTION"):
            current = found.setdefault(tags[index + 1][1], [])
        elif tag == (0, "ENDSEC"):
            current = None
        elif current is not None:
            current.append(tag)
    if not tags or tags[-1] != (0, "EOF"):
        raise ToolFault("the file has no end")
    return found


def _header(tags: list[Tag]) -> dict[str, tuple[Tag, ...]]:
    """Return the values of each header variable."""
    found: dict[str, tuple[Tag, ...]] = {}
    name = ""
    for code, value in tags:
        if code == 9:
            name = value
            found[name] = ()
        elif name:
            found[name] = (*found[name], (code, value))
    return found


def _records(tags: list[Tag]) -> Iterator[tuple[str, list[Tag]]]:
    """Yield each record as its kind and its tags."""
    kind, body = "", list[Tag]()
    for code, value in tags:
        if code == 0:
            if kind:
                yield kind, body
            kind, body = value, []
        else:
            body.append((code, value))
    if kind:
        yield kind, body


def _entities(tags: list[Tag]) -> Iterator[tuple[str, list[Tag]]]:
    """Yield each entity; an old polyline comes with the tags of its vertices, a (0, "VERTEX") before each."""
    polyline: list[Tag] | None = None
    for kind, body in _records(tags):
        if kind == "POLYLINE":
            polyline = body
        elif kind == "VERTEX" and polyline is not None:
            polyline.extend([(0, kind), *body])
        elif kind == "SEQEND" and polyline is not None:
            yield "POLYLINE", polyline
            polyline = None
        else:
            yield kind, body


def _layers(tags: list[Tag]) -> dict[str, bool]:
    """Return the layer table: whether each layer is plotted."""
    return {_one(body, 2): _one(body, 290, "1") != "0" for kind, body in _records(tags) if kind == "LAYER"}


def _light(body: list[Tag]) -> Loop:
    """Return a light-weight polyline: codes 10 and 20 a vertex, 42 its bulge."""
    points: list[list[float]] = []
    for code, value in body:
        if code == 10:
            points.append([float(value), 0.0, 0.0])
        elif code in (20, 42) and points:
            points[-1][{20: 1, 42: 2}[code]] = float(value)
    return _loop(body, points)


def _old(body: list[Tag]) -> Loop:
    """Return a polyline of the old kind, a vertex of its own for each corner."""
    points: list[list[float]] = []
    for code, value in body:
        if code == 0:
            points.append([0.0, 0.0, 0.0])
        elif code in (10, 20, 42) and points:
            points[-1][{10: 0, 20: 1, 42: 2}[code]] = float(value)
    return _loop(body, points)


def _loop(body: list[Tag], points: list[list[float]]) -> Loop:
    if not int(_one(body, 70, "0")) & 1:
        raise ToolFault("an outline is not closed")
    if len(points) < 2:
        raise ToolFault("an outline has fewer than two corners")
    vertices = tuple(Vertex(*p) for p in points)
    for a, b in zip(vertices, vertices[1:] + vertices[:1], strict=True):
        if a.point == b.point:
            raise ToolFault("an outline has the same corner twice in a row")
    return Loop(_one(body, 8), Outline(vertices))


def _point(body: list[Tag]) -> Point:
    return Point(float(_one(body, 10)), float(_one(body, 20)))


def _one(body: list[Tag], code: int, default: str | None = None) -> str:
    """Return the first value of a code."""
    for found, value in body:
        if found == code:
            return value
    if default is None:
        raise ToolFault(f"an entity of the file lacks group code {code}")
    return default


def _letters(text: str) -> str:
    """Return a text with the letters that its encoding lacks, which stand as ``\\U+4E2D``."""
    return re.sub(r"\\U\+([0-9A-Fa-f]{4,6})", lambda m: chr(int(m[1], 16)), text)
