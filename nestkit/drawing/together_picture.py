"""The picture of parts that are clamped to be drilled together: outlines, holes, which comes first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from nestkit.drawing.joint_key import LETTERS
from nestkit.drawing.joint_labels import LabelField
from nestkit.drawing.joint_picture import arrow
from nestkit.drawing.joint_view import View, clipped, holes_of, outline_marks, outlines_of, placed, style_of
from nestkit.drawing.joint_view import view_of as joint_view
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Mark, line
from nestkit.drawing.punch import SIGHT
from nestkit.drawing.template_labels import place_label
from nestkit.drawing.together_plan import Setup
from nestkit.geometry.points import Point, Rect
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube

_NUMBER = (5.0, 4.0, 3.2, 2.6)
_WORD = 3.6
_LEAST = 42.0
_RING = 1.6
"""The ring around the first and the far hole lies this far outside it."""
_LEAST_RADIUS = 0.9


@dataclass(frozen=True, slots=True)
class Picture:
    """The picture; ``numbered`` says whether every hole has its number, ``clipped`` that parts go on."""

    drawing: Drawing
    numbered: bool
    clipped: bool


def together_picture(setup: Setup, width: float, most: float) -> Picture:
    """Return a stack seen from the drill, ``width`` mm wide and at most ``most`` high.

    The part on top is drawn in full lines, those below dashed. Numbers are those of the holes on top.
    """
    high = max(most, 20.0)
    assembly = replace(setup.assembly, layers=setup.layers)
    view = joint_view(assembly, width, high, min(_LEAST, high))
    field = LabelField(view.on_page)
    marks: list[Mark] = list(outline_marks(assembly, view))
    for layer in setup.layers:
        for outline in outlines_of(layer):
            points = [view(p) for p in outline.flattened(0.2 / view.scale)]
            for a, b in zip(points, points[1:] + points[:1], strict=True):
                if (inside := clipped(a, b, view.on_page)) is not None:
                    field.outlines.take_line(*inside)
    rings = _rings(setup, view)
    for at, radius, ends in rings.values():
        marks.append(Circle(at, radius, Layer.DRILLED_HOLE))
        reach = radius + (_RING if ends else 0.3)
        if ends:
            marks.append(Circle(at, reach, Layer.HEAVY))
        field.take(Rect(*at, *at).grown(reach + 0.3))
    marks += [mark for origin in _origins(setup, view) for mark in _origin_marks(origin, view, field)]
    labels, every = _numbers(setup, rings, field)
    marks += labels
    drawing = Drawing(width, view.on_page.height, tuple(marks))
    return Picture(drawing, every, view.clipped)


_Rings = dict[int, tuple[Point, float, str]]


def _rings(setup: Setup, view: View) -> _Rings:
    """Return each hole of the leader by its number: where it is, how large, and what end it is."""
    ends = dict(zip((p.number for p in setup.places[:2]), ("FIRST", "SECOND"), strict=False))
    if len(setup.places) == 1:
        ends = {}
    wanted = {place.number for place in setup.places}
    return {
        number: (view(at), max(_LEAST_RADIUS, dia / 2 * view.scale), ends.get(number, ""))
        for number, at, dia in holes_of(setup.leader)
        if number in wanted
    }


def _numbers(setup: Setup, rings: _Rings, field: LabelField) -> tuple[list[Mark], bool]:
    """Return the numbers beside the holes, the ends first; and whether all are there."""
    others = [at for at, _, _ in rings.values()]
    marks: list[Mark] = []
    every = True
    for place in setup.places:
        at, radius, end = rings[place.number]
        # The label's rule keeps it off a sight ring, which these marks do not have.
        dia = 2 * max(radius + (_RING if end else 0.0) + 0.3 - SIGHT, 0.0)
        texts = [f"{place.number} {end}"] if end else []
        tries = ((text, size) for text in (*texts, str(place.number)) for size in _NUMBER)
        put = next(
            filter(None, (place_label(field, at, dia, (text,), size, others) for text, size in tries)), []
        )
        marks += put
        every &= bool(put)
    return marks, every


@dataclass(frozen=True, slots=True)
class _Origin:
    """What parts are laid by, in the picture: END 0 of a tube, the datum corner of a panel; and the way."""

    said: str
    at: Point
    nearest: Point


def _origins(setup: Setup, view: View) -> Iterator[_Origin]:
    """Yield where parts are laid by, those in one place once; what is bought has no such place of its own."""
    found: dict[tuple[str, float, float], list[str]] = {}
    near: dict[tuple[str, float, float], Point] = {}
    for letter, layer in zip(LETTERS, setup.layers, strict=False):
        if not isinstance(layer.part, Panel | Tube):
            continue
        local = layer.plane.local
        tube = isinstance(layer.part, Tube)
        up = sum(p.y for p in local) / len(local) if tube else 0.0
        at = view(placed(layer, Point(0.0, up)))
        key = ("END 0" if tube else "DATUM", round(at.x, 1), round(at.y, 1))
        found.setdefault(key, []).append(letter)
        low = up if tube else min(p.y for p in local)
        near.setdefault(key, view(placed(layer, Point(min(p.x for p in local), low))))
    for key, letters in found.items():
        yield _Origin(f"{', '.join(letters)}: {key[0]}", Point(key[1], key[2]), near[key])


def _origin_marks(origin: _Origin, view: View, field: LabelField) -> Iterator[Mark]:
    """Yield the words at an origin, or an arrow towards it where it is out of sight."""
    end, room = origin.at, view.on_page
    if room.left <= end.x <= room.right and room.bottom <= end.y <= room.top:
        yield from place_label(field, end, 0.0, (origin.said,), _WORD, ())
        return
    far = origin.nearest.to(end)
    way = clipped(origin.nearest, end, room.grown(-3.0))
    if way is None or far < _LEAST_RADIUS:
        return
    dx, dy = (end.x - origin.nearest.x) / far, (end.y - origin.nearest.y) / far
    tail = way[1].moved(-9.0 * dx, -9.0 * dy)
    if field.free_line(tail, way[1]):
        field.take_line(tail, way[1])
        yield from arrow(tail, way[1])
        yield from place_label(field, tail, 0.0, (f"to {origin.said}",), _WORD, ())


def key_line(index: int, width: float) -> Drawing:
    """Return a sample of the line that a part is drawn in."""
    return Drawing(width, 5.0, (line(Point(0.0, 2.5), Point(width - 2.0, 2.5), style_of(index)),))
