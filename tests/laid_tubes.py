"""Tubes and sticks of the solar boat, built by hand: jobs and layouts that need no reader and no solver."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import chain

from nestkit.geometry.section import Section
from nestkit.job.model import BarGroup, DxfOptions, Job, Paper, Printing
from nestkit.job.settings import known_paper
from nestkit.layout.bars.result import BarsLayout, CutStick, PlacedTube, UnplacedTube
from nestkit.layout.result import Bound, JobLayout
from nestkit.parts.holes import Drill
from nestkit.parts.tube import HoleGroup, Tube, numbered
from nestkit.stock.bar import Bar
from nestkit.stock.section import read_section
from nestkit.stock.ways import Way
from nestkit.units import Unit, parse_length

INCH = Fraction(254, 10)
SAW = Way("", "saw", Fraction(1))
ALUMINIUM = "aluminium 6061"

NUMBER_7 = Drill(5.1054, "#7", "drill table")
SCREW = Drill(5.6134, "#2", "ASME B18.2.8, normal fit", screw="10-32", fit="normal", fastener_dia=4.826)
M5 = Drill(5.5, "5.5 mm", "ISO 273, medium fit", screw="M5", fit="medium", fastener_dia=5.0)

Size = str | int | Fraction


def mm(size: Size) -> Fraction:
    """Return a size in mm: a text is in inches, a number in mm."""
    return parse_length(size, "in") if isinstance(size, str) else Fraction(size)


def group(
    name: str, face: str | int, *at: Size, drill: Drill = NUMBER_7, across: Size | None = None, **more: object
) -> HoleGroup:
    """Return holes on a face, or at an angle, in a row along the tube; ``more``: through, from_end."""
    places = tuple(mm(a) for a in at)
    if isinstance(face, int):
        return HoleGroup(name, drill, places, at_deg=Fraction(face), **more)
    return HoleGroup(name, drill, places, face, across=None if across is None else mm(across), **more)


def tube(name: str, section: str | Section, length: Size, *groups: HoleGroup, **more: object) -> Tube:
    """Return a tube of aluminium with groups of holes, its section as a job in inches writes it."""
    made = read_section(section, "in") if isinstance(section, str) else section
    long = mm(length)
    usual = {"place": f'tube "{name}"', "material": ALUMINIUM, "holes": numbered(groups, made, long)}
    return Tube(name=name, section=made, length=long, **{**usual, **more})


def bar(section: str | Section, length: Size = "96", *, name: str = "", **more: object) -> Bar:
    """Return a stick of aluminium, 96 inches long, a quarter of an inch trimmed off each end."""
    made = read_section(section, "in") if isinstance(section, str) else section
    called = name or f"{section if isinstance(section, str) else made.words} stock"
    usual = {"material": ALUMINIUM, "price": Fraction(14), "trim": INCH / 4 * (made.kind != "roll")}
    return Bar(name=called, place=f'bar "{called}"', section=made, length=mm(length), **{**usual, **more})


def job(
    *tubes: Tube,
    bars: Sequence[Bar] | None = None,
    unit: Unit = "in",
    paper: str | Paper = "letter",
    name: str = "Solar boat: deck",
    step: Fraction | None = None,
) -> Job:
    """Return a job of tubes, each section of each material a group; without ``bars`` each has its own."""
    grouped: dict[tuple[object, ...], list[Tube]] = {}
    for part in tubes:
        grouped.setdefault((part.material, part.section.stock_key), []).append(part)
    if bars is None:
        bars = [bar(parts[0].section, material=parts[0].material) for parts in grouped.values()]
    groups = []
    for (material, key), parts in grouped.items():
        own = tuple(b for b in bars if (b.material, b.section.stock_key) == (material, key))
        way = None if parts[0].section.kind == "roll" else SAW
        groups.append(BarGroup(str(material), parts[0].section, way, tuple(parts), own))
    return Job(
        name=name,
        unit=unit,
        date=None,
        ways=(SAW,),
        printing=Printing(known_paper(paper) if isinstance(paper, str) else paper),
        dxf=DxfOptions(),
        marking_to=step or (INCH / 32 if unit == "in" else Fraction(1, 2)),
        sheets=(),
        panels=(),
        groups=(),
        bars=tuple(bars),
        tubes=tuple(tubes),
        bar_groups=tuple(groups),
    )


def laid(made: Job) -> JobLayout:
    """Return a layout in which every stick takes as many parts as it holds, in the order of the job."""
    return JobLayout((), 1, "normal", bars=tuple(_laid_group(own) for own in made.bar_groups))


def _laid_group(own: BarGroup) -> BarsLayout:
    unplaced = []
    loads: list[list[PlacedTube]] = []
    stock = own.bars[0] if own.bars else None
    for part in own.tubes:
        for copy, opposite in chain(*part.numbered(one_hand=part.either_hand)):
            if stock is None or part.length > stock.usable:
                unplaced.append(UnplacedTube(part, copy, opposite, "no stick holds it"))
                continue
            start = loads[-1][-1].start + loads[-1][-1].length + own.kerf if loads else stock.length
            if start + part.length > stock.length - stock.trim:
                loads.append([])
                start = stock.trim
            loads[-1].append(PlacedTube(part, copy, opposite, start, part.length))
    sticks = [_stick(stock, number, parts, own) for number, parts in enumerate(loads, 1) if stock]
    cost = sum((s.cost for s in sticks), Fraction(0))
    bound = Bound(Fraction(len(sticks)), "all parts and cuts together take that much length")
    return BarsLayout(own, "price", tuple(sticks), tuple(unplaced), cost, bound, None)


def _stick(stock: Bar, number: int, parts: list[PlacedTube], own: BarGroup) -> CutStick:
    last = parts[-1].start + parts[-1].length + own.kerf
    left = max(Fraction(0), stock.length - stock.trim - last)
    kept = not stock.roll and left >= (300 if stock.keep is None else stock.keep)
    return CutStick(stock, number, False, stock.price or stock.length, tuple(parts), left, kept)


# The deck of the boat: frames and rails of square tube, spacers, an angle for the mast's foot, an edge trim.

DECK_FRAME = tube(
    "deck frame",
    "1 x 1 x 1/16",
    "22",
    group("lid side", "A", "1/2", "4", "8", "12", "16", "21 1/2", through=True),
    group("rail", "B", "2 5/32", "11", "19 27/32", drill=SCREW),
    quantity=4,
    used_for="deck",
    revision="B",
)
SIDE_RAIL = tube(
    "side rail",
    "1 x 1 x 1/16",
    "48",
    group("frames", "A", "1", "12 1/3", "24", "35 2/3", "47", drill=SCREW),
    group("lamp", "B", "6.3", across="3/8"),
    quantity=1,
    opposite_hand=1,
    used_for="hull",
)
SPACER = tube("spacer", "round 1/2 x 1/16", "1 1/4", quantity=12, used_for="deck")
MAST_FOOT = tube(
    "mast foot angle",
    "angle 1 x 1 x 1/8",
    "6",
    group("deck", "A", "1", "3", "5", across="5/8", drill=SCREW),
    group("mast", "B", "2", "4", across="5/8"),
    quantity=2,
)
EDGE_TRIM = tube("edge trim", "roll 1/2", "40", quantity=2, material="rubber", used_for="hatch")
MAST = tube(
    "mast",
    "round 1 x 1/16",
    "30",
    group("stay", 0, "1", "29", through=True),
    group("lamp", 120, "10", "20 5/16"),
)


def boat(unit: Unit = "in", **more: object) -> Job:
    """Return the deck's job."""
    return job(DECK_FRAME, SIDE_RAIL, SPACER, MAST_FOOT, EDGE_TRIM, MAST, unit=unit, **more)
