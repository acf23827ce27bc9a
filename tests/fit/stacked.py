"""Joints of the solar boat laid in place by hand, so that hardware is tested without the placing of parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from nestkit.fit.assembly import Assembly, Layer, Loose, Placement, Plane
from nestkit.fit.case import Case, case_of
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import DxfOptions, Fitting, Job, Paper, Part, Printing
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Drill, Hole
from nestkit.parts.joint import Fastener, Joint, Mate
from nestkit.parts.panel import Panel
from nestkit.parts.tube import HoleGroup, Tube, numbered
from nestkit.stock.section import read_section
from nestkit.stock.ways import Way
from nestkit.trade.screws import clearance, plain_screw
from nestkit.units import Unit, parse_length


def inch(text: str) -> Fraction:
    """Return a length in inches in mm."""
    return parse_length(text, "in")


def drill(dia: str = ".221", **more: object) -> Drill:
    """Return a drill by its diameter in inches."""
    return Drill(float(inch(dia)), "", "test", **more)


def panel(
    name: str = "console lid",
    thickness: str = ".118",
    material: str = "polycarbonate",
    holes: int = 2,
    made_by: Drill | None = None,
    **more: object,
) -> Panel:
    """Return a panel with a row of holes; its thickness is in inches unless it says mm."""
    made = made_by or drill()
    row = tuple(Hole(i + 1, Point(20.0 + 30 * i, 20.0), made, "g") for i in range(holes))
    return Panel(
        name, f'panel "{name}"', material, inch(thickness), Fraction(200), Fraction(100), "rectangle",
        rectangle(200, 100), row, **more,
    )  # fmt: skip


def tube(
    name: str = "deck frame",
    section: str = "1 x 1 x 1/16",
    at: Sequence[str] = ("4", "8"),
    length: str = "22",
    *,
    through: bool = True,
    made_by: Drill | None = None,
    more_holes: Sequence[HoleGroup] = (),
    material: str = "aluminium 6061",
    **more: object,
) -> Tube:
    """Return a tube with holes in face A (at 0 degrees where it is round)."""
    shape = read_section(section, "in")
    face = None if shape.is_round else "A"
    places = tuple(inch(text) for text in at)
    groups = (HoleGroup("g", made_by or drill(), places, face, through=through), *more_holes)
    holes = numbered(groups, shape, inch(length))
    return Tube(name, f'tube "{name}"', material, shape, inch(length), holes, **more)


def bought(name: str = "hinge", thickness: str = "", material: str = "", **more: object) -> Bought:
    """Return a bought part with two holes; without a thickness none is known."""
    holes = (Hole(1, Point(0.0, 0.0), drill(), "leaf"), Hole(2, Point(30.0, 0.0), drill(), "leaf"))
    thick = inch(thickness) if thickness else None
    return Bought(name, f'bought "{name}"', holes=holes, thickness=thick, material=material, **more)


def layer(part: Part, *numbers: int, **more: object) -> Layer:
    """Return a part laid as drawn, its holes by their numbers (all of group g without).

    ``more`` goes to its plane: ``holds_thread``, ``mirrored``, or other ``walls`` and ``depth``.
    """
    chosen = numbers or tuple(h.number for h in part.holes if h.group in ("g", "leaf"))
    holes = {h.number: h for h in part.holes}
    dias = tuple(holes[n].drill.dia for n in chosen)
    points = tuple(Point(30.0 * i, 0.0) for i in range(len(chosen)))
    walls, depth = _drilled(part, holes[chosen[0]])
    mate = Mate(part.name, chosen, opposite=bool(more.pop("opposite", False)))
    plane = Plane(mate, part, chosen, points, points, dias, walls, depth)
    return Layer(replace(plane, **more), Placement(), chosen, points, points, dias)


def _drilled(part: Part, hole: object) -> tuple[tuple[float, ...], float]:
    if isinstance(part, Panel):
        return (float(part.thickness),), float(part.thickness)
    if isinstance(part, Bought):
        return (float(part.thickness or 0),), float(part.thickness or 0)
    wall = float(part.section.drilled)
    if part.section.two_walls and part.section.kind != "rod" and hole.through:
        return (wall, wall), float(part.section.b)
    return (wall,), wall


def screw(size: str = "10-32", held_by: str = "lock nut", **more: object) -> Fastener:
    """Return a screw of the tables."""
    return Fastener("screw", plain_screw(size), float(clearance(size.split("x")[0]).major), held_by, **more)


def rivet(size: str = "1/8", **more: object) -> Fastener:
    """Return a blind rivet: a fraction in inches, or millimetres."""
    name = f"{size} in" if "/" in size else f"{size} mm"
    return Fastener("rivet", name, float(inch(name)), "itself", **more)


def wood_screw(size: str = "#8", dia: str = ".164 in", **more: object) -> Fastener:
    """Return a wood screw."""
    return Fastener("wood screw", size, float(inch(dia)), "wood", **more)


def assembly(
    fastener: Fastener,
    *layers: Layer,
    loose: Sequence[Loose] = (),
    name: str = "lid to frame",
    **more: object,
) -> Assembly:
    """Return a joint laid in place; spacers come on top of the mates with holes."""
    mates = [layer.plane.mate for layer in layers]
    for spacer in loose:
        mates.insert(spacer.after, Mate(spacer.part.name, ()))
    joint = Joint(name, f'joint "{name}"', fastener, tuple(mates), **more)
    return Assembly(joint, tuple(layers), tuple(loose))


def case(fastener: Fastener, *layers: Layer, unit: Unit = "in", **more: object) -> Case:
    """Return what the hardware of a joint is judged by."""
    return case_of(assembly(fastener, *layers, **more), unit)


def job(*parts: Part, unit: Unit = "in", spares: str = "0.1") -> Job:
    """Return a job of these parts."""
    return Job(
        name="Solar boat: console",
        unit=unit,
        date=None,
        ways=(Way("saw", "saw", inch("1/8")),),
        printing=Printing(Paper("letter", 215.9, 279.4)),
        dxf=DxfOptions(),
        marking_to=inch("1/32"),
        sheets=(),
        panels=tuple(p for p in parts if isinstance(p, Panel)),
        groups=(),
        tubes=tuple(p for p in parts if isinstance(p, Tube)),
        bought=tuple(p for p in parts if isinstance(p, Bought)),
        fitting=Fitting(spares=Fraction(spares)),
    )
