"""Sticks of the solar boat as a layout gives them, built by hand or by the quick cut lists."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from hypothesis import strategies as st

from nestkit.geometry.mitre import Mitre
from nestkit.job.model import BarGroup, DxfOptions, Job, Paper, Printing
from nestkit.layout.bars.problem import LengthProblem, Piece, Stick, measure_of
from nestkit.layout.bars.quick import quick
from nestkit.layout.bars.result import BarsLayout, CutStick, PlacedTube, UnplacedTube
from nestkit.layout.result import JobLayout
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar
from nestkit.stock.section import read_section
from nestkit.stock.ways import Way
from nestkit.units import GRID_PER_MM, Unit, parse_length

HACKSAW = Way("hacksaw", "saw", Fraction("1.016"))
KEEP = Fraction(150)
LETTER = Paper("letter", 215.9, 279.4)
PAPERS = {
    "letter": LETTER,
    "A4": Paper("A4", 210.0, 297.0),
    "A5": Paper("A5", 148.0, 210.0),
    "roll 24 in": Paper("roll 24 in", 609.6, None),
    "smallest": Paper("100 x 100 mm", 100.0, 100.0),
}


def inch(size: str) -> Fraction:
    """Return a length in inches as exact millimetres."""
    return parse_length(size, "in")


def tube(name: str, length: str | Fraction, section: str = "1 x 1 x 1/16", **more: object) -> Tube:
    """Return a cut length without holes."""
    exact = inch(length) if isinstance(length, str) else length
    return Tube(name, f'tube "{name}"', "aluminium 6061", read_section(section, "in"), exact, **more)


def bar(
    name: str, length: str | Fraction = "96", section: str = "1 x 1 x 1/16", trim: str = "1/4", **more: object
) -> Bar:
    """Return a stock length."""
    exact = inch(length) if isinstance(length, str) else length
    made = read_section(section, "in")
    return Bar(name, f'bar "{name}"', "aluminium 6061", made, exact, trim=inch(trim), **more)


def stick(
    stock: Bar, number: int, tubes: list[tuple[Tube, int]], kerf: Fraction, copies: Counter, **more: bool
) -> CutStick:
    """Return a stick with so many of each tube, one after the other; ``opposite``: opposite hands."""
    opposite, on_hand = more.get("opposite", False), more.get("on_hand", False)
    at, parts = stock.trim, []
    for part, count in tubes:
        for _ in range(count):
            copies[part.name, opposite] += 1
            parts.append(PlacedTube(part, copies[part.name, opposite], opposite, at, part.length))
            at += part.length + kerf
    left = max(Fraction(0), stock.length - stock.trim - at)
    return CutStick(stock, number, on_hand, Fraction(0 if on_hand else 14), tuple(parts), left, left >= KEEP)


def layout_of(
    sticks: list[CutStick], way: Way | None = HACKSAW, unplaced: tuple[UnplacedTube, ...] = ()
) -> BarsLayout:
    """Return a group's layout of sticks."""
    tubes = {p.tube.name: p.tube for s in sticks for p in s.parts} | {u.tube.name: u.tube for u in unplaced}
    first = next(iter(tubes.values()))
    bars = {s.stock.name: s.stock for s in sticks}
    group = BarGroup(first.material, first.section, way, tuple(tubes.values()), tuple(bars.values()))
    cost = sum((s.cost for s in sticks), Fraction(0))
    return BarsLayout(group, "price", tuple(sticks), unplaced, cost, None, None)


def whole(*groups: BarsLayout, unit: Unit = "in", paper: Paper = LETTER) -> tuple[Job, JobLayout]:
    """Return a job and its layout, sticks only."""
    job = Job(
        name="Solar boat: deck and rails",
        unit=unit,
        date=None,
        ways=(HACKSAW,),
        printing=Printing(paper),
        dxf=DxfOptions(),
        marking_to=Fraction("0.79375"),
        sheets=(),
        panels=(),
        groups=(),
        bars=tuple(b for g in groups for b in g.group.bars),
        tubes=tuple(t for g in groups for t in g.group.tubes),
        bar_groups=tuple(g.group for g in groups),
    )
    return job, JobLayout((), 1, "normal", bars=groups)


def boat_frames() -> BarsLayout:
    """Square tube: three sticks alike, one with mitred and opposite parts, one on hand with a long rest."""
    frame, rail, spacer = tube("deck frame", "22"), tube("side rail", "14 1/2"), tube("spacer", "1 1/2")
    corner = Mitre.on("A", Fraction(45))
    bow = tube("bow frame", "30", mitres=(corner, Mitre.on("B", Fraction("22.5"))), revision="B")
    stock, short = bar("square 1 x 1/16"), bar("square short", "48", on_hand=1)
    copies: Counter = Counter()
    kerf = HACKSAW.kerf
    sticks = [stick(stock, n, [(frame, 3), (rail, 1), (spacer, 7)], kerf, copies) for n in (1, 2, 3)]
    sticks.append(stick(stock, 4, [(bow, 2), (spacer, 12)], kerf, copies, opposite=True))
    sticks.append(stick(short, 1, [(frame, 1), (spacer, 2)], kerf, copies, on_hand=True))
    return layout_of(sticks)


def boat_angle() -> BarsLayout:
    """Angle: one stick of feet for the mast, and a part that found no stick."""
    foot = tube("mast foot angle", "4 1/8", "angle 1 x 1 x 1/8")
    long = tube("keel angle", "120", "angle 1 x 1 x 1/8")
    stock = bar("angle 1 x 1/8", "72", "angle 1 x 1 x 1/8")
    why = "it is longer than any stick, 72 in less two trims"
    return layout_of(
        [stick(stock, 1, [(foot, 8)], HACKSAW.kerf, Counter())], unplaced=(UnplacedTube(long, 1, False, why),)
    )


def boat_trim() -> BarsLayout:
    """Edge trim off a roll: scissors, no kerf."""
    lid, hatch = tube("edge trim lid", "22", "roll 1"), tube("edge trim hatch", "14 1/2", "roll 1")
    stock = bar("edge trim", "600", "roll 1", "0")
    return layout_of([stick(stock, 1, [(lid, 3), (hatch, 20)], Fraction(0), Counter())], way=None)


def metric_rails(name: str = "rail") -> BarsLayout:
    """Sticks in millimetres with a full one, one whose end the blade shaves, and one tight."""
    kerf = Fraction(2)
    stock = bar("square 25", Fraction(2000), trim="0")
    half, shaved = tube(f"{name} half", Fraction(999)), tube(f"{name} long", Fraction("1998.5"))
    third = tube(f"{name} third", Fraction("664.4"))
    copies: Counter = Counter()
    sticks = [
        stick(stock, 1, [(half, 2)], kerf, copies),
        stick(stock, 2, [(shaved, 1)], kerf, copies),
        stick(stock, 3, [(third, 3)], kerf, copies),
    ]
    return layout_of(sticks, Way("", "saw", kerf))


def from_list(problem: LengthProblem, names: int) -> BarsLayout:
    """Return the quick cut list of a problem as a layout; the pieces of a length are of several tubes."""
    measure = measure_of(problem)
    found = quick(problem, measure, [p.quantity for p in problem.pieces])
    mm = [Fraction(p.length, GRID_PER_MM) for p in problem.pieces]
    tubes = [[tube(f"part {p}, {n}", length) for n in range(names)] for p, length in enumerate(mm)]
    stocks = [
        bar(f"stock {n}", Fraction(s.length, GRID_PER_MM), trim=f"{Fraction(s.trim, GRID_PER_MM)} mm")
        for n, s in enumerate(problem.sticks)
    ]
    kerf = Fraction(problem.kerf, GRID_PER_MM)
    copies: Counter = Counter()
    numbers: Counter = Counter()
    sticks = []
    for load in found.loads:
        numbers[load.stick] += 1
        # Shorter pieces first, and names in turn: neither order is the plan's.
        parts = [(tubes[p][(n + len(sticks)) % names], 1) for p, count in load.pieces for n in range(count)]
        made = stick(stocks[load.stick], numbers[load.stick], parts[::-1], kerf, copies)
        sticks.append(made)
    return layout_of(sticks, Way("", "saw", kerf))


@st.composite
def problems(draw: st.DrawFn) -> LengthProblem:
    """Return cut lists in 1/64 in or 1/10 mm: kerf, trim, one or two stock lengths."""
    step = draw(st.sampled_from([15875, 4000]))
    lengths = draw(st.lists(st.integers(20, 900), min_size=1, max_size=6, unique=True))
    pieces = tuple(Piece(length * step, draw(st.integers(1, 12))) for length in sorted(lengths, reverse=True))
    trim, kerf = draw(st.integers(0, 20)) * step, draw(st.integers(0, 8)) * step
    sticks = tuple(
        Stick(length * step, trim, None, Fraction(length))
        for length in draw(st.lists(st.integers(1000, 3000), min_size=1, max_size=2, unique=True))
    )
    return LengthProblem(pieces, sticks, kerf)


def large_list(kinds: int = 60, number: int = 5000) -> BarsLayout:
    """Return the quick cut list of very many tubes, lengths from 4 to 40 inches."""
    each = number // kinds
    pieces = tuple(Piece((2560 - 37 * n) * 15875, each) for n in range(kinds))
    return from_list(
        LengthProblem(pieces, (Stick(96 * 64 * 15875, 16 * 15875, None, Fraction(14)),), 40640), 1
    )
