"""A panel's outline from a file: its outline, its openings and its drill holes, in the panel's own frame."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from nestkit.errors import UserError
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.job.beside import file_beside
from nestkit.job.drills_of import drill_of_dia
from nestkit.job.entry import Entry
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.options import LARGEST_DRILLED, Options, read_options
from nestkit.job.shown import shown
from nestkit.job.text import file_bytes
from nestkit.job.values import text
from nestkit.parts.holes import Hole, Opening
from nestkit.parts.panel import DrawnFrom
from nestkit.units import GRID_PER_MM, LARGEST, SMALLEST, Unit, grid_mm, grid_up

if TYPE_CHECKING:
    from nestkit.job.outlines.drawn import Drawn
    from nestkit.job.outlines.figures import Ring
    from nestkit.job.outlines.loops import Part

DRAWN = "drawn"
"""The group that holes from an outline file are in."""

ENDINGS = (".dxf", ".svg")

NOISE = 1e-6
"""Millimetres by which a size may be off a whole step of the layout's grid and still be that step."""


@dataclass(frozen=True, slots=True)
class FromFile:
    """What an outline file gives a panel; the lower left of the box is 0, 0."""

    width: Fraction
    height: Fraction
    outline: Outline
    holes: tuple[Hole, ...]
    openings: tuple[Opening, ...]
    drawn: DrawnFrom


def read_outline(entry: Entry, folder: Path) -> FromFile | None:
    """Return what the outline file of a panel gives; None where anything of it is wrong, which is noted."""
    options = read_options(entry)
    name = text(entry, "outline", required=True, longest=255)
    if not name:
        return None
    path = file_beside(entry, "outline", name, folder, ENDINGS)
    if path is None or options is None:
        return None
    try:
        data = file_bytes(path, name)
    except UserError as fault:
        reason, _, remedy = str(fault).partition("; ")
        entry.wrong("outline", reason, remedy[:1].upper() + remedy[1:])
        return None
    kind: Literal["dxf", "svg"] = "dxf" if path.suffix.lower() == ".dxf" else "svg"
    try:
        return from_bytes(data, kind, name, options, entry.notes.unit)
    except OutlineFault as fault:
        entry.wrong("outline", f"{shown(name)}: {fault.text}", fault.remedy)
        return None


def from_bytes(data: bytes, kind: Literal["dxf", "svg"], name: str, options: Options, unit: Unit) -> FromFile:
    """Return what a file's bytes give a panel. Raises :class:`OutlineFault`."""
    # Readers of drawings are needed only for jobs that have any.
    from nestkit.job.outlines.drawn import drawn_of
    from nestkit.job.outlines.loops import in_rows
    from nestkit.job.outlines.picking import cut_of, part_of

    found = drawn_of(data, kind, options.unit, unit, options.layers, float(options.join))
    part, picked = part_of(found, options.part)
    rings, openings = cut_of(found, part, options.layers, options.drill_up_to)
    width, height = _sides(found, part)
    dx, dy = -part.outer.box.left, -part.outer.box.bottom
    place = f"outline {shown(name)}"
    return FromFile(
        width,
        height,
        _moved(part.outer.outline, dx, dy),
        tuple(
            Hole(i, _clean(ring.centre, dx, dy), drill_of_dia(_dia(found, ring), unit), DRAWN)
            for i, ring in enumerate(in_rows(rings), 1)
        ),
        tuple(
            Opening("cutout", _moved(o.outline, dx, dy), f"{place}, opening {i}")
            for i, o in enumerate(openings, 1)
        ),
        DrawnFrom(name, (*picked, *found.notes), found.sketch.factor),
    )


def _sides(found: Drawn, part: Part) -> tuple[Fraction, Fraction]:
    box, long = part.outer.box, found.sketch.long
    if min(box.width, box.height) < float(SMALLEST) - NOISE or max(box.width, box.height) > LARGEST:
        text = f"the part at {found.sketch.where(box.centre)} is {long(box.width)} x {long(box.height)}"
        remedy = 'Sizes run from 0.1 mm to 100 m: is the unit right? outline_unit = "mm" says it'
        raise OutlineFault(text, remedy)
    return _on_grid(box.width), _on_grid(box.height)


def _dia(found: Drawn, ring: Ring) -> Fraction:
    dia = _on_grid_if_near(2 * ring.radius)
    if dia > LARGEST_DRILLED:
        where, long = found.sketch.where(ring.centre), found.sketch.long(2 * ring.radius)
        text = f"the hole at {where} has a diameter of {long}, too large to be drilled"
        raise OutlineFault(text, "Take its layer out of holes in outline_layers: then it is cut out")
    return dia


def _on_grid(side: float) -> Fraction:
    """Return a side of the box on the layout's grid: the step that it is meant to be, else rounded up."""
    return grid_mm(grid_up(Fraction(side) - Fraction(NOISE)))


def _on_grid_if_near(mm: float) -> Fraction:
    step = Fraction(round(mm * GRID_PER_MM), GRID_PER_MM)
    return step if abs(step - Fraction(mm)) <= Fraction(NOISE) else Fraction(repr(mm))


def _clean(p: Point, dx: float, dy: float) -> Point:
    return Point(round(p.x + dx, 9) + 0.0, round(p.y + dy, 9) + 0.0)


def _moved(outline: Outline, dx: float, dy: float) -> Outline:
    """Return an outline moved, the digits that adding has made up taken off."""
    return Outline(tuple(Vertex(*_clean(v.point, dx, dy), v.bulge) for v in outline.vertices))
