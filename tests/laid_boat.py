"""A solar boat laid out by hand: jobs with their layouts, for tests that need no solver."""

from __future__ import annotations

from fractions import Fraction

from nestkit.geometry.points import Point
from nestkit.geometry.shapes import corners_cut, disc, mixed_corners, rectangle, slot
from nestkit.job.model import DxfOptions, Group, Job, Paper, Printing
from nestkit.layout.result import Bound, Cut, CutSheet, GroupLayout, JobLayout, Offcut, PlacedPart, Unplaced
from nestkit.parts.holes import Drill, Hole, Mark, Opening
from nestkit.parts.panel import Panel
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Margin, Way

INCH = Fraction(254, 10)
LETTER = Paper("letter", 215.9, 279.4)
A4 = Paper("a4", 210.0, 297.0)

NUMBER_2 = Drill(5.6134, "#2", "C1", screw="10-32", fit="normal", fastener_dia=4.826)
NUMBER_7 = Drill(5.1054, "#7", "D1")
FINE = Drill(2.5, "2.5 mm", "D4")


def holes(*places: tuple[float, float], drill: Drill = NUMBER_2, group: str = "hinge") -> tuple[Hole, ...]:
    """Return numbered holes at places in mm."""
    return tuple(Hole(i, Point(*at), drill, group) for i, at in enumerate(places, start=1))


def placed(
    panel: Panel, copy: int, x: float | Fraction, y: float | Fraction, turn: int = 0, opposite: bool = False
):
    """Return a panel on a sheet, its box worked out."""
    if turn % 90:
        box = (panel.mirrored() if opposite else panel).outline.turned(turn).bounds
        size = Fraction(box.width), Fraction(box.height)
    else:
        size = (panel.height, panel.width) if turn % 180 else (panel.width, panel.height)
    return PlacedPart(panel, copy, opposite, Fraction(x), Fraction(y), turn, *size)


# The job of the contract's layout.json: one lid on a sheet 24 x 48 in, sawn.

LID = Panel(
    name="console lid",
    place='panel "console lid"',
    material="polycarbonate",
    thickness=Fraction("2.9972"),
    width=Fraction("368.3"),
    height=Fraction("247.65"),
    shape="rectangle",
    outline=rectangle(368.3, 247.65, radius=6.35),
    holes=holes((12.7, 12.7), (127.0, 12.7), (241.3, 12.7), (355.6, 12.7)),
    openings=(Opening("cutout", rectangle(101.6, 50.8, radius=6.35, at=Point(127.0, 127.0)), "cutouts[0]"),),
    marks=(Mark(Point(25.4, 38.1), "LID A", 9.525),),
    used_for="console",
    revision="A",
)
PC = Sheet(
    name="PC 1/8 2x4",
    place='sheet "PC 1/8 2x4"',
    material="polycarbonate",
    thickness=Fraction("2.9972"),
    width=24 * INCH,
    height=48 * INCH,
    sold_as=Fraction("3.175"),
    price=Fraction("38.50"),
)
SAW = Way("", "saw", Fraction("3.175"))


def lid_job(*, unit: str = "in", dxf: DxfOptions | None = None) -> tuple[Job, JobLayout]:
    """Return the contract's example of layout.json as a job and its layout."""
    group = Group("polycarbonate", PC.thickness, SAW, SAW.kerf, Margin(), (LID,), (PC,))
    sheet = CutSheet(
        stock=PC,
        number=1,
        on_hand=False,
        cost=Fraction("38.5"),
        parts=(placed(LID, 1, 0, 0, 90),),
        offcuts=(
            Offcut(Fraction("250.825"), Fraction(0), Fraction("358.775"), Fraction("1219.2")),
            Offcut(Fraction(0), Fraction("371.475"), Fraction("247.65"), Fraction("847.725")),
        ),
        cuts=(
            Cut(1, "sheet", "x", Fraction("247.65"), Fraction(0), Fraction("1219.2"), True),
            Cut(2, "1a", "y", Fraction("368.3"), Fraction(0), Fraction("247.65"), True),
        ),
    )
    laid = GroupLayout(
        group,
        "price",
        (sheet,),
        (),
        Fraction("38.5"),
        Bound(Fraction(1), "there is at least one part"),
        Bound(Fraction("38.5"), "one sheet is needed and none costs less"),
    )
    job = Job(
        name="Solar boat: console and hatches",
        unit=unit,
        date=None,
        ways=(SAW,),
        printing=Printing(LETTER),
        dxf=dxf or DxfOptions(),
        marking_to=INCH / 32,
        sheets=(PC,),
        panels=(LID,),
        groups=(group,),
    )
    return job, JobLayout((laid,), 1, "normal")


# A routed job in mm: every kind of outline, both hands, all quarter turns and one free angle.

BRACKET = Panel(
    name="motor bracket",
    place='panel "motor bracket"',
    material="birch plywood",
    thickness=Fraction(12),
    width=Fraction(180),
    height=Fraction(120),
    shape="points",
    outline=mixed_corners(
        [
            (Point(0, 0), 0, 0),
            (Point(180, 0), 15, 0),
            (Point(180, 60), 0, 12),
            (Point(90, 60), 10, 0),
            (Point(90, 120), 20, 0),
            (Point(0, 120), 0, 0),
        ]
    ),
    holes=holes((20, 20), (160, 25), (45, 95), drill=FINE, group="pilot"),
    openings=(Opening("slot", slot(Point(60, 40), 50, 9, 30), "slots[0]"),),
    marks=(Mark(Point(20, 60), "MOTOR 50%", 8),),
    used_for="drive",
    quantity=2,
    opposite_hand=2,
)
HATCH = Panel(
    name="hatch cover",
    place='panel "hatch cover"',
    material="birch plywood",
    thickness=Fraction(12),
    width=Fraction(240),
    height=Fraction(240),
    shape="disc",
    outline=disc(240),
    openings=(Opening("cutout", disc(60, centre=Point(120, 120)), "cutouts[0]"),),
    holes=holes((120, 20), (220, 120), (120, 220), (20, 120), drill=Drill(8.0, "8 mm", "D4"), group="rim"),
    used_for="hatches",
)
GUSSET = Panel(
    name="=gusset",
    place='panel "=gusset"',
    material="birch plywood",
    thickness=Fraction(12),
    width=Fraction(150),
    height=Fraction(100),
    shape="points",
    outline=corners_cut([Point(0, 0), Point(150, 0), Point(0, 100)]),
    turn="any",
    quantity=2,
)
PLY = Sheet(
    "Ply 12", 'sheet "Ply 12"', "birch plywood", Fraction(12), Fraction(1220), Fraction(610), grain="x"
)
RACK = Sheet(
    "ply 12!",
    'sheet "ply 12!"',
    "birch plywood",
    Fraction(12),
    Fraction(600),
    Fraction(300),
    on_hand=1,
    buy=False,
)
ROUTER = Way("sponsor", "router", Fraction("6.35"))


def routed_job(*, unit: str = "mm", dxf: DxfOptions | None = None) -> tuple[Job, JobLayout]:
    """Return a routed job without prices: a sheet to buy, one on hand, and a part without a place."""
    margin = Margin(*(Fraction(20),) * 4)
    group = Group(
        "birch plywood",
        Fraction(12),
        ROUTER,
        Fraction("12.7"),
        margin,
        (BRACKET, HATCH, GUSSET),
        (PLY, RACK),
        ("R026, common practice, no source",),
    )
    bought = CutSheet(
        stock=PLY,
        number=1,
        on_hand=False,
        cost=PLY.area_m2,
        parts=(
            placed(BRACKET, 1, 20, 20, 0),
            placed(BRACKET, 2, 213, 20, 90),
            placed(BRACKET, 1, Fraction("20.1"), 160, 180, opposite=True),
            placed(BRACKET, 2, 213, 213, 270, opposite=True),
            placed(GUSSET, 1, 400, 20, 30),
        ),
        offcuts=(Offcut(Fraction(600), Fraction(20), Fraction(600), Fraction(570)),),
        cuts=(),
    )
    rack = CutSheet(RACK, 1, True, Fraction(0), (placed(HATCH, 1, 20, 20),), (), ())
    laid = GroupLayout(
        group,
        "m2",
        (bought, rack),
        (Unplaced(GUSSET, 2, False, "no sheet has room left"),),
        PLY.area_m2,
        None,
        None,
    )
    job = Job(
        name="Solar boat: drive",
        unit=unit,
        date=None,
        ways=(SAW, ROUTER),
        printing=Printing(A4),
        dxf=dxf or DxfOptions(),
        marking_to=Fraction("0.5"),
        sheets=(PLY, RACK),
        panels=(BRACKET, HATCH, GUSSET),
        groups=(group,),
    )
    return job, JobLayout((laid,), 7, "quick", stopped=True)


def simple_panel(name: str, width: float, height: float, **more: object) -> Panel:
    """Return a plain rectangle of birch plywood 12 mm."""
    return Panel(
        name=name,
        place=f'panel "{name}"',
        material="birch plywood",
        thickness=Fraction(12),
        width=Fraction(width),
        height=Fraction(height),
        shape="rectangle",
        outline=rectangle(width, height),
        **more,
    )
