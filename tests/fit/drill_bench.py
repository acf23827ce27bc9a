"""Small jobs for tests of drills and joints: panels and tubes with holes for screws, built by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import BarGroup, DxfOptions, Group, Job, Paper, Printing
from nestkit.parts.holes import Drill, Hole
from nestkit.parts.joint import Fastener, Joint, Mate
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.stock.ways import Margin, Way
from nestkit.trade import screws
from nestkit.trade.drills import drill as drill_row
from nestkit.units import Unit

SAW = Way("", "saw", Fraction("3.175"))
ROUTER = Way("router", "router", Fraction("6.35"))


def for_screw(screw: str, fit: str | None = None) -> Drill:
    """The clearance drill of a screw as the reader takes it from the table."""
    row = screws.clearance(screw, fit)
    return Drill(float(row.hole), row.drill, row.source, screw, row.fit, None, float(row.major))


def for_tap(thread: str) -> Drill:
    """The tap drill of a thread as the reader takes it from the table."""
    row = screws.tap(thread)
    return Drill(float(row.dia), row.drill, row.source, tap=row.thread, fastener_dia=float(row.major))


def named(name: str) -> Drill:
    """A drill of the table that the job names."""
    row = drill_row(name)
    assert row is not None
    return Drill(float(row.dia), row.name, row.source)


def panel(name: str, *drills: Drill, material: str = "polycarbonate", step: float = 30.0, **more: object):
    """A panel of 400 x 100 mm with a row of holes along its middle."""
    holes = tuple(Hole(i, Point(step * i, 50.0), drill, "row") for i, drill in enumerate(drills, start=1))
    usual = {
        "place": f'panel "{name}"',
        "thickness": Fraction("2.9972"),
        "width": Fraction(400),
        "height": Fraction(100),
        "shape": "rectangle",
        "outline": rectangle(400, 100),
        "holes": holes,
    }
    return Panel(name=name, material=material, **{**usual, **more})


def job(
    *parts: Panel | Tube, unit: Unit = "in", way: Way = SAW, joints: tuple[Joint, ...] = (), **more: object
) -> Job:
    """A job of some parts; all its panels are cut one way."""
    panels = tuple(p for p in parts if isinstance(p, Panel))
    tubes = tuple(t for t in parts if isinstance(t, Tube))
    groups = tuple(Group(p.material, p.thickness, way, way.kerf, Margin(), (p,), ()) for p in panels)
    bars = tuple(BarGroup(t.material, t.section, SAW, (t,), ()) for t in tubes)
    made = Job(
        name="Solar boat: console",
        unit=unit,
        date=None,
        ways=(way,),
        printing=Printing(Paper("letter", 215.9, 279.4)),
        dxf=DxfOptions(),
        marking_to=Fraction("25.4") / 32,
        sheets=(),
        panels=panels,
        groups=groups,
        tubes=tubes,
        bar_groups=bars,
        joints=joints,
    )
    return replace(made, **more)


def joint(*mates: Mate, screw: str = "10-32", held_by: str = "lock nut", **more: object) -> Joint:
    """A joint of screws through some parts."""
    kind = more.pop("kind", "screw")
    dia = 3.175 if kind == "rivet" else float(screws.clearance(screw).major)
    fastener = Fastener(kind, screw, dia, held_by)
    return Joint("lid to post", 'joint "lid to post"', fastener, mates, **more)


def owned(*names: str) -> tuple:
    """Drills of the table that a shop owns."""
    rows = tuple(drill_row(name) for name in names)
    assert all(rows)
    return rows
