"""Parts and joints built by hand, so that how they meet is tested without the reader."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from nestkit.geometry.points import Point
from nestkit.geometry.section import Section
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import DxfOptions, Job, Paper, Printing
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Drill, Hole
from nestkit.parts.joint import Fastener, Joint, Mate
from nestkit.parts.panel import Panel
from nestkit.parts.tube import HoleGroup, Tube, numbered
from nestkit.stock.ways import Way

SCREW_DIA = 4.826
"""A No. 10 screw, 0.190 in."""
CLEAR = Drill(5.6134, "#2", "test")
"""A hole that leaves it 0.3937 mm to each side."""
TAPPED = Drill(4.0386, "#21", "test", tap="10-32")
PLAY = (CLEAR.dia - SCREW_DIA) / 2

SQUARE = Section("tube", Fraction(25), Fraction(25), Fraction(2))
FLAT = Section("tube", Fraction(40), Fraction(20), Fraction(2))
ROUND = Section("round", Fraction(25), Fraction(25), Fraction(2))
ROD = Section("rod", Fraction(20), Fraction(20))
ANGLE = Section("angle", Fraction(30), Fraction(20), Fraction(3))
STRIP = Section("strip", Fraction(30), Fraction(3))


def pattern(places: Iterable[Sequence[float]], drill: Drill = CLEAR, group: str = "g") -> tuple[Hole, ...]:
    """Return holes at these places in mm, numbered from 1."""
    return tuple(Hole(i, Point(*map(float, at)), drill, group) for i, at in enumerate(places, start=1))


def panel(name: str, places: Iterable[Sequence[float]], drill: Drill = CLEAR, **more: object) -> Panel:
    """Return a panel of 400 x 300 x 3 mm with holes."""
    usual = {
        "material": "polycarbonate",
        "thickness": Fraction(3),
        "width": Fraction(400),
        "height": Fraction(300),
        "shape": "rectangle",
        "outline": rectangle(400, 300),
        "holes": pattern(places, drill),
    }
    return Panel(name, f'panel "{name}"', **{**usual, **more})


def bought(name: str, places: Iterable[Sequence[float]], drill: Drill = CLEAR, **more: object) -> Bought:
    """Return a bought part 1.5 mm thick with holes."""
    return Bought(
        name, f'bought "{name}"', **{"thickness": Fraction(3, 2), **more}, holes=pattern(places, drill)
    )


def row(face: str | None, *at: float, name: str = "g", drill: Drill = CLEAR, **more: object) -> HoleGroup:
    """Return a group of holes along a tube."""
    made = {k: Fraction(str(v)) if k in {"across", "at_deg"} else v for k, v in more.items()}
    return HoleGroup(name, drill, tuple(Fraction(str(a)) for a in at), face=face, **made)


def tube(name: str, section: Section, *groups: HoleGroup, length: int = 400, **more: object) -> Tube:
    """Return a tube with these groups of holes."""
    long = Fraction(length)
    return Tube(
        name, f'tube "{name}"', "aluminium 6061", section, long, numbered(groups, section, long), **more
    )


def mate(part: Panel | Tube | Bought, *numbers: int, **more: object) -> Mate:
    """Return a mate with all holes of a part, or with some."""
    return Mate(part.name, numbers or tuple(hole.number for hole in part.holes), **more)


def joint(
    *mates: Mate, held_by: str = "lock nut", kind: str = "screw", dia: float = SCREW_DIA, **more: object
) -> Joint:
    """Return a joint of these, the heads' side first."""
    return Joint("j", 'joint "j"', Fastener(kind, "10-32", dia, held_by), mates, **more)


def job(*parts: Panel | Tube | Bought, unit: str = "mm") -> Job:
    """Return a job of these parts, without stock."""
    kinds = {kind: tuple(p for p in parts if isinstance(p, kind)) for kind in (Panel, Tube, Bought)}
    way = Way("", "saw", Fraction("3.175"))
    printing = Printing(Paper("A4", 210, 297))
    return Job(
        "test", unit, None, (way,), printing, DxfOptions(), Fraction(1, 2), (), kinds[Panel], (),
        tubes=kinds[Tube], bought=kinds[Bought],
    )  # fmt: skip
