"""Tubes of the boat to make templates of: deck frames, rails and spacers, an angle, a strip, round tube."""

from __future__ import annotations

import datetime
from fractions import Fraction

from nestkit.geometry.mitre import Mitre
from nestkit.geometry.section import Section
from nestkit.job.model import BarGroup, DxfOptions, Job, Printing
from nestkit.parts.tube import HoleGroup, Tube, numbered
from nestkit.stock.ways import Way
from tests.drawing.bench import M5, NO_2, NO_7, PAPERS, QUARTER

INCH = Fraction(254, 10)
SQUARE = Section("tube", INCH, INCH, INCH / 16)
FLAT = Section("tube", Fraction(40), Fraction(20), Fraction(2))
SLIM = Section("tube", Fraction(20), Fraction(10), Fraction(1))
SMALL = Section("tube", INCH / 4, INCH / 4, INCH / 32)
ROUND = Section("round", INCH, INCH, INCH / 16)
ROD = Section("rod", Fraction(10), Fraction(10))
ANGLE = Section("angle", INCH, INCH * 3 / 4, INCH / 8)
STRIP = Section("strip", INCH, INCH / 8)


def holes(name, drill, at, **more):
    """A group of holes at millimetres along the tube."""
    more = {k: Fraction(v) if k in {"across", "at_deg"} else v for k, v in more.items()}
    return HoleGroup(name, drill, tuple(Fraction(a) for a in at), **more)


def tube(section, *groups, length=200, name="deck frame", material="aluminium 6061", **more):
    """A tube with groups of holes."""
    long = Fraction(length)
    return Tube(name, f"tube {name!r}", material, section, long, numbered(groups, section, long), **more)


def inches(*values):
    """Inches in millimetres."""
    return [Fraction(v) * INCH for v in values]


def frame(**more):
    """A 6 in square tube drilled through from A, and from B in one wall."""
    return tube(
        SQUARE,
        holes("lid side", NO_7, inches("1/2", 2, 4, "11/2"), face="A", through=True),
        holes("hinge", NO_2, inches("1", "3"), face="B"),
        length=6 * INCH,
        **({"used_for": "deck", "quantity": 2, "revision": "A"} | more),
    )


def rail(**more):
    """A 48 in rail with through rows on both ways and a mitre."""
    return tube(
        SQUARE,
        holes("panel", NO_7, [Fraction(40 + 60 * i) for i in range(20)], face="A", through=True),
        holes("bracket", QUARTER, [50, 600, 1180], face="D", across=8),
        length=48 * INCH,
        name="side rail",
        mitres=(Mitre.on("A", Fraction(45)), None),
        **more,
    )


def spacer(**more):
    """A narrow tube, whose labels find no room on it."""
    return tube(
        SMALL, holes("pin", M5, [8, 20, 32, 70], face="A", through=True), length=100, name="spacer", **more
    )


def post(**more):
    """A round tube with holes around it and a mitred end."""
    return tube(
        ROUND,
        holes("through", NO_7, [20, 90], at_deg=0, through=True),
        holes("side", NO_2, [60], at_deg=125),
        length=150,
        name="mast post",
        mitres=(None, Mitre(Fraction(30), Fraction(90))),
        **more,
    )


def pin(**more):
    """A rod drilled through twice, crosswise."""
    return tube(
        ROD,
        holes("split", M5, [10], at_deg=0, through=True),
        holes("cross", M5, [60], at_deg=90, through=True),
        length=80,
        name="rudder pin",
        **more,
    )


def heel(**more):
    """An angle with holes in both legs."""
    return tube(
        ANGLE,
        holes("deck", NO_2, [15, 65, 115], face="A"),
        holes("side", NO_7, [40, 90], face="B", across=9),
        length=130,
        name="mount angle",
        **more,
    )


def flat(**more):
    """A flat strip with a row."""
    return tube(STRIP, holes("row", M5, [10, 35, 60, 110], face="A"), length=120, name="clamp strip", **more)


def job(part, *, unit="in", paper="letter", scale_x=1.0, scale_y=1.0, fold=None, all_pages=False):
    """A job of one tube."""
    way = Way("", "saw", Fraction(1))
    return Job(
        name="Solar boat: console and hatches",
        unit=unit,
        date=datetime.date(2026, 3, 1),
        ways=(way,),
        printing=Printing(PAPERS[paper], scale_x, scale_y, all_pages, fold),
        dxf=DxfOptions(),
        marking_to=Fraction("0.79375"),
        sheets=(),
        panels=(),
        groups=(),
        tubes=(part,),
        bar_groups=(BarGroup(part.material, part.section, way, (part,), ()),),
    )
