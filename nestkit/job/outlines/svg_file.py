"""From an SVG file to lines, arcs and rings: its shapes, its groups, and what one of its units is."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import NamedTuple
from xml.etree import ElementTree

from nestkit.geometry.points import Point
from nestkit.job.outlines.affine import Affine, moved, scaled
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.figures import Sketch, Tag
from nestkit.job.outlines.layers import Layers
from nestkit.job.outlines.svg_paths import draw_path
from nestkit.job.outlines.svg_transforms import MM_OF, REMEDY, length_of, numbers_of, transform_of
from nestkit.job.shown import shown

Element = ElementTree.Element

_GROUPS = frozenset({"g", "a", "switch"})
# What is only drawn where something else refers to it, or not at all.
_ASIDE = frozenset({
    "defs", "symbol", "clipPath", "mask", "pattern", "marker", "linearGradient", "radialGradient", "filter",
    "style", "title", "desc", "metadata", "script", "view",
})  # fmt: skip
_IGNORED = frozenset({"text", "image", "foreignObject"})
_HIDDEN = re.compile(r"(?:^|;)\s*(?:display\s*:\s*none|visibility\s*:\s*(?:hidden|collapse))", re.IGNORECASE)
_DEEPEST = 64


class _Spot(NamedTuple):
    m: Affine
    names: tuple[str, ...] = ()
    depth: int = 0
    used: tuple[str, ...] = ()


def svg_root(data: bytes) -> Element:
    """Return the root of an SVG file."""
    if re.search(rb"<!ENTITY", data):
        raise OutlineFault("it has entities of its own", REMEDY)
    try:
        root = ElementTree.fromstring(data)
    except (ElementTree.ParseError, ValueError, LookupError) as fault:
        empty = not data.strip()
        text = "the file is empty" if empty else f"it is not an SVG: {fault}"
        raise OutlineFault(text, "Draw the outline, and save it once more" if empty else REMEDY) from None
    if _local(root.tag) != "svg":
        raise OutlineFault(f"it is not an SVG: it holds {shown(_local(root.tag))}", REMEDY)
    return root


def unit_of(root: Element) -> tuple[float, float, str] | None:
    """Return how many mm one unit is along x and y, and in which unit the size is; None without."""
    view = numbers_of(root.get("viewBox", ""))
    if view and (len(view) != 4 or min(view[2:]) <= 0):
        raise OutlineFault(f"the viewBox {shown(root.get('viewBox', ''))} is empty", REMEDY)
    sides = [_side(root.get(key, "")) for key in ("width", "height")]
    units = [unit for _, unit in sides if unit]
    if not units:
        return None
    if not view:
        scale = MM_OF["px"]
        return scale, scale, "px"
    scales = [None if not unit else mm / box for (mm, unit), box in zip(sides, view[2:], strict=True)]
    known = [scale for scale in scales if scale is not None]
    if root.get("preserveAspectRatio", "").strip().startswith("none") and len(known) == 2:
        return known[0], known[1], units[0]
    least = min(known)
    if max(known) - least > 1e-3 * least:
        text = "width and height of the SVG do not fit its viewBox: a unit would be two lengths"
        raise OutlineFault(
            text, "Save it with a viewBox as wide and high as the drawing, or give outline_unit"
        )
    return known[0], known[0], units[0]


def _side(text: str) -> tuple[float, str]:
    if not text.strip() or text.strip() == "auto":
        return 0.0, ""
    number, unit = length_of(text)
    if unit in ("", "%"):
        return 0.0, ""
    if unit not in MM_OF or number <= 0:
        raise OutlineFault(f"the size {shown(text)} of the SVG is no length", REMEDY)
    return number * MM_OF[unit], unit


class SvgSketcher:
    """Draws the shapes of an SVG on a sketch, those that count. ``scale`` are mm of a unit along x and y."""

    def __init__(self, root: Element, scale: tuple[float, float], sketch: Sketch, layers: Layers) -> None:
        self.root, self.sketch, self.layers = root, sketch, layers
        self.base = scaled(scale[0], -scale[1])
        self.by_id = {e.get("id", ""): e for e in root.iter() if isinstance(e.tag, str)}

    def draw(self) -> None:
        """Draw the whole file."""
        for child in self.root:
            self._one(child, _Spot(self.base))

    def _one(self, element: Element, spot: _Spot) -> None:
        if not isinstance(element.tag, str):
            return
        self.sketch.count()
        kind = _local(element.tag)
        space = element.tag.rpartition("}")[0]
        foreign = bool(space) and not space.endswith("/svg")
        if kind in _ASIDE or foreign:
            return
        own = element.get("id", "").strip().casefold()
        names = (own, *spot.names) if own else spot.names
        self.sketch.layers.update(names)
        style = element.get("style", "")
        if (
            element.get("display") == "none"
            or element.get("visibility") in ("hidden", "collapse")
            or _HIDDEN.search(style)
        ):
            self.sketch.ignored[f"invisible {kind}"] += 1
            return
        if re.search(r"(?:^|;)\s*transform\s*:", style):
            raise OutlineFault(
                f"the {kind} {shown(own)} is placed by its style", "Write it as a transform attribute"
            )
        if spot.depth > _DEEPEST:
            raise OutlineFault("groups stand in groups without end", REMEDY)
        m = spot.m.after(transform_of(element.get("transform", "")))
        here = _Spot(m, names, spot.depth + 1, spot.used)
        if kind in _IGNORED:
            self._text(element, kind, m)
        elif kind in _GROUPS:
            for child in element:
                self._one(child, here)
        elif kind == "use":
            self._use(element, here)
        elif kind in _SHAPES:
            self._shape(element, kind, here)
        else:
            raise OutlineFault(
                f"<{kind}> is no shape that is understood", "Turn it into paths, or leave it out"
            )

    def _text(self, element: Element, kind: str, m: Affine) -> None:
        self.sketch.ignored[kind] += 1
        words = "".join(element.itertext()).strip()
        if kind == "text" and words:
            first = next((e for e in element.iter() if e.get("x") is not None), element)
            x, y = (numbers_of(first.get(key, "0"))[:1] or [0.0] for key in ("x", "y"))
            self.sketch.texts.append((m.at(x[0], y[0]), words))

    def _use(self, element: Element, spot: _Spot) -> None:
        name = next((v for k, v in element.items() if _local(k) == "href"), "").removeprefix("#")
        target = self.by_id.get(name)
        if target is None or not name:
            raise OutlineFault(f"a <use> refers to {shown(name)}, which is not in the file", REMEDY)
        if name in spot.used:
            raise OutlineFault(f"{shown(name)} holds itself", REMEDY)
        m = spot.m.after(moved(_number(element, "x"), _number(element, "y")))
        there = _Spot(m, spot.names, spot.depth, (*spot.used, name))
        if _local(target.tag) == "symbol":
            if target.get("viewBox"):
                raise OutlineFault(f"the symbol {shown(name)} has a view of its own", "Turn it into paths")
            for child in target:
                self._one(child, there)
            return
        self._one(target, there)

    def _shape(self, element: Element, kind: str, spot: _Spot) -> None:
        names = spot.names or ("",)
        why = self.layers.why_not(kind, *names, hidden=False)
        if why is not None:
            self.sketch.ignored[why] += 1
            return
        _SHAPES[kind](element, self.sketch, spot.m, Tag(names[0], names))


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]


def _number(element: Mapping[str, str] | Element, key: str, default: str = "0") -> float:
    number, unit = length_of(element.get(key) or default)
    if unit not in ("", "px"):
        raise OutlineFault(f"{key} of a shape is {shown(element.get(key))}, with a unit of its own", REMEDY)
    return number


def _path(element: Element, sketch: Sketch, m: Affine, tag: Tag) -> None:
    draw_path(element.get("d", ""), sketch, m, tag)


def _rect(element: Element, sketch: Sketch, m: Affine, tag: Tag) -> None:
    x, y, w, h = (_number(element, key) for key in ("x", "y", "width", "height"))
    if w <= 0 or h <= 0:
        return
    given = [
        None if element.get(key) in (None, "", "auto") else _number(element, key) for key in ("rx", "ry")
    ]
    rx = min(given[0] if given[0] is not None else given[1] or 0.0, w / 2)
    ry = min(given[1] if given[1] is not None else given[0] or 0.0, h / 2)
    if not rx or not ry:
        sketch.path([(x, y, 0.0), (x + w, y, 0.0), (x + w, y + h, 0.0), (x, y + h, 0.0)], True, m, tag)
        return
    # A rounded corner is a quarter of a circle stretched along y: drawn at rx, in a frame that stretches.
    k, q = ry / rx, math.tan(math.pi / 8)
    stretch = m.after(moved(0.0, y)).after(scaled(1.0, k))
    tall = h / k
    rows = [
        (x + rx, 0.0, 0.0), (x + w - rx, 0.0, q), (x + w, rx, 0.0), (x + w, tall - rx, q),
        (x + w - rx, tall, 0.0), (x + rx, tall, q), (x, tall - rx, 0.0), (x, rx, q),
    ]  # fmt: skip
    sketch.path(rows, True, stretch, tag)


def _ellipse(element: Element, sketch: Sketch, m: Affine, tag: Tag) -> None:
    rx, ry = (_number(element, key, element.get("r") or "0") for key in ("rx", "ry"))
    if rx > 0 and ry > 0:
        centre = Point(_number(element, "cx"), _number(element, "cy"))
        sketch.oval(centre, (rx, 0.0), (0.0, ry), 0.0, math.tau, m, tag)


def _line(element: Element, sketch: Sketch, m: Affine, tag: Tag) -> None:
    x1, y1, x2, y2 = (_number(element, key) for key in ("x1", "y1", "x2", "y2"))
    sketch.path([(x1, y1, 0.0), (x2, y2, 0.0)], False, m, tag)


def _poly(element: Element, sketch: Sketch, m: Affine, tag: Tag) -> None:
    numbers = numbers_of(element.get("points", ""))
    if len(numbers) % 2:
        raise OutlineFault("a polygon has an x without its y", REMEDY)
    rows = [(x, y, 0.0) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
    for _ in rows:
        sketch.count()
    if rows:
        sketch.path(rows, _local(element.tag) == "polygon", m, tag)


_SHAPES: dict[str, Callable[[Element, Sketch, Affine, Tag], None]] = {
    "path": _path,
    "rect": _rect,
    "circle": _ellipse,
    "ellipse": _ellipse,
    "line": _line,
    "polyline": _poly,
    "polygon": _poly,
}
