"""The picture of a joint: its parts on top of each other, seen from the heads, with the screws' room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.joint_key import LETTERS, put_key, put_title
from nestkit.drawing.joint_labels import SMALL, LabelField, put_labels
from nestkit.drawing.joint_rings import Exaggeration, exaggerated
from nestkit.drawing.joint_view import (
    View,
    clipped,
    holes_of,
    outline_marks,
    outlines_of,
    placed,
    style_of,
    view_of,
)
from nestkit.drawing.layers import Layer as Style
from nestkit.drawing.model import Circle, Drawing, Fill, Mark, line
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_labels import Field, place_label
from nestkit.fit.assembly import Layer
from nestkit.fit.result import JointFit
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc
from nestkit.job.model import Job
from nestkit.parts.tube import Tube
from nestkit.units import Unit

WIDTH = 180.0
HIGHEST = 192.0
"""A line more of the key, which a smaller picture may bring, stays below 200 mm."""
_EDGE = 2.0
_PICTURE, _LEAST_PICTURE = 96.0, 62.0
_SMALL_HOLE = 1.5
_GREY = 0.86
_BENDING = ("cable tie", "hook-and-loop")


def joint_picture(job: Job, fit: JointFit) -> Drawing | None:
    """Return all parts of a joint in their place; None for ties and tapes, which bend."""
    assembly = fit.assembly
    if not assembly.layers or assembly.joint.fastener.kind in _BENDING:
        return None
    flow, high = _page(job, fit, _PICTURE)
    too_high = flow.height + 2 * _EDGE - HIGHEST
    if too_high > 0:
        flow, _ = _page(job, fit, high - too_high)
    height = flow.height + 2 * _EDGE
    title = f"joint {assembly.joint.name}, seen from the heads"
    return Drawing(WIDTH, height, flow.marks(_EDGE, height - _EDGE), title)


def _page(job: Job, fit: JointFit, height: float) -> tuple[Flow, float]:
    """Return the page with a picture of at most this height, and how high the picture is."""
    flow = Flow(WIDTH - 2 * _EDGE)
    put_title(flow, fit.assembly.joint, job.unit)
    flow.gap(1.5)
    view = view_of(fit.assembly, flow.width, height, min(_LEAST_PICTURE, height))
    shown = exaggerated(fit, view.scale)
    drawn = _drawn(fit, view, shown, job.unit)
    flow.picture(Drawing(flow.width, view.on_page.height, drawn.marks))
    flow.gap(1.5)
    put_key(flow, fit.assembly, shown, job.unit, drawn.notes)
    return flow, view.on_page.height


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A picture, and what its key should say of it besides what it always says."""

    marks: tuple[Mark, ...]
    notes: tuple[str, ...]


def _drawn(fit: JointFit, view: View, shown: Exaggeration, unit: Unit) -> _Drawn:
    layers = fit.assembly.layers
    field = _taken(layers, view, shown)
    marks = [*_zones(view, shown), *outline_marks(fit.assembly, view), *_holes(layers, view)]
    cut_off = False
    for offset in shown.offsets:
        start = view(offset.start)
        dx, dy = offset.end.x - offset.start.x, offset.end.y - offset.start.y
        end = start.moved(dx * shown.factor, dy * shown.factor)
        seen = clipped(start, end, view.on_page)
        if seen is not None:
            cut_off |= seen[1].to(end) > 0.01
            field.take_line(*seen)
            marks += arrow(*seen)
    labels, notes = put_labels(fit, view, shown, field, unit)
    ends = tuple(_ends(layers, view, field))
    long = ("An arrow that leaves the picture is longer than shown.",) if cut_off else ()
    near = ("Only what is near the holes is shown.",) if view.clipped else ()
    return _Drawn((*marks, *labels, *ends), (*long, *notes, *near))


def _taken(layers: Sequence[Layer], view: View, shown: Exaggeration) -> LabelField:
    """Return the field in which words find a place, clear of outlines, holes and rings."""
    field = LabelField(view.on_page)
    for ring in shown.rings:
        field.take(Rect(*view(ring.at), *view(ring.at)).grown(ring.radius * shown.factor + 0.3))
    for layer in layers:
        for _, point, dia in holes_of(layer):
            field.take(Rect(*view(point), *view(point)).grown(dia / 2 * view.scale + 0.3))
        for outline in outlines_of(layer):
            points = [view(p) for p in outline.flattened(0.2 / view.scale)]
            for a, b in zip(points, points[1:] + points[:1], strict=True):
                if (inside := clipped(a, b, view.on_page)) is not None:
                    field.outlines.take_line(*inside)
    return field


def _zones(view: View, shown: Exaggeration) -> Iterator[Mark]:
    """Yield the zones in which the centres of a screw's holes may lie, below everything else."""
    for ring in shown.rings:
        centre, radius = view(ring.at), ring.radius * shown.factor
        if radius > 0:
            yield Fill(disc(2 * radius, centre=centre), _GREY)
            yield Circle(centre, radius, Style.FINE)


def _holes(layers: Sequence[Layer], view: View) -> Iterator[Mark]:
    for index, layer in enumerate(layers):
        for _, point, dia in holes_of(layer):
            radius = dia / 2 * view.scale
            # Dashes of a very small circle are only a blot.
            yield Circle(view(point), radius, style_of(index) if radius >= _SMALL_HOLE else Style.FINE)


def _ends(layers: Sequence[Layer], view: View, field: Field) -> Iterator[Mark]:
    """Yield END 0 for each tube: at it, or an arrow towards it where it is out of sight."""
    for k, layer in enumerate(layers):
        local = layer.plane.local
        if not isinstance(layer.part, Tube):
            continue
        middle = sum(p.y for p in local) / len(local)
        end = view(placed(layer, Point(0.0, middle)))
        nearest = view(placed(layer, Point(min(p.x for p in local), middle)))
        room = view.on_page
        if room.left <= end.x <= room.right and room.bottom <= end.y <= room.top:
            yield from place_label(field, end, 0.0, (f"{LETTERS[k]}: END 0",), SMALL, ())
            continue
        way = clipped(nearest, end, room.grown(-3.0))
        if way is None:
            continue
        far = nearest.to(end)
        dx, dy = (end.x - nearest.x) / far, (end.y - nearest.y) / far
        tip = way[1]
        tail, inside = tip.moved(-9.0 * dx, -9.0 * dy), tip.moved(-12.0 * dx, -12.0 * dy)
        if field.free_line(tail, tip):
            field.take_line(tail, tip)
            yield from arrow(tail, tip)
            yield from place_label(field, inside, 0.0, (f"to {LETTERS[k]}: END 0",), SMALL, ())


def arrow(start: Point, end: Point) -> tuple[Mark, ...]:
    """Return a line with a filled head; a short one is all head."""
    length = start.to(end)
    dx, dy = (end.x - start.x) / length, (end.y - start.y) / length
    head = min(2.4, length)
    back = end.moved(-head * dx, -head * dy)
    side = 0.35 * head
    corners = (end, back.moved(-side * dy, side * dx), back.moved(side * dy, -side * dx))
    return line(start, back, Style.PART_EDGE), Fill(Outline(tuple(Vertex(*c) for c in corners)), 0.0)
