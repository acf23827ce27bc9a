"""Groups of tubes and bars for tests, built by hand and at random."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import strategies as st

from nestkit.geometry.section import Section
from nestkit.job.model import BarGroup
from nestkit.parts.holes import Drill
from nestkit.parts.tube import HoleGroup, Tube, numbered
from nestkit.stock.bar import Bar
from nestkit.stock.ways import Way

SQUARE = Section("tube", Fraction(25), Fraction(25), Fraction(2))
ROLL = Section("roll", Fraction(20), Fraction(0))
SAW = Way("", "saw", Fraction(1))
DRILL = Drill(5.0, "5 mm", "as drawn")


def tube(name: str, length, *, hands: bool = False, section: Section = SQUARE, **counts: int) -> Tube:
    """Return a tube; with ``hands`` a hole off the middle makes its hands differ."""
    made = Tube(name, f'tube "{name}"', "aluminium 6061", section, Fraction(length), **counts)
    if not hands:
        return made
    hole = HoleGroup("a", DRILL, (made.length / 2,), "A", across=Fraction(5))
    return replace(made, holes=numbered((hole,), section, made.length))


def bar(name: str, length, **keys) -> Bar:
    """Return a bar of the square section."""
    keys = {
        k: Fraction(v) if k in ("price", "trim", "keep") and v is not None else v for k, v in keys.items()
    }
    section = keys.pop("section", SQUARE)
    return Bar(name, f'bar "{name}"', "aluminium 6061", section, Fraction(length), **keys)


def grouped(tubes, bars, way: Way | None = SAW) -> BarGroup:
    """Return a group of what was built by hand."""
    section = tubes[0].section if tubes else SQUARE
    return BarGroup("aluminium 6061", section, way, tuple(tubes), tuple(bars))


@st.composite
def groups(draw):
    """Return small groups: odd fractions of millimetres, hands, kerf, trims, prices or none, on hand."""
    some = st.fractions(20, 600, max_denominator=64)
    tubes = [
        tube(
            f"part {i}",
            draw(some),
            hands=draw(st.booleans()),
            quantity=draw(st.integers(0, 5)),
            opposite_hand=draw(st.integers(0, 2)),
            spare=draw(st.integers(0, 1)),
            spare_if_room=draw(st.integers(0, 2)),
        )
        for i in range(draw(st.integers(1, 5)))
    ]
    priced = draw(st.booleans())
    bars = [
        bar(
            f"bar {i}",
            draw(st.fractions(100, 1200, max_denominator=64)),
            price=draw(st.integers(0, 40)) if priced else None,
            on_hand=draw(st.integers(0, 3)),
            buy=draw(st.booleans()),
            trim=draw(st.sampled_from(["0", "5", "3.175"])),
        )
        for i in range(draw(st.integers(0, 3)))
    ]
    kerf = draw(st.sampled_from([Fraction(0), Fraction(1), Fraction(127, 40), Fraction(5, 3)]))
    prefer = draw(st.sampled_from(["offcut", "few cuts"]))
    return grouped(tubes, bars, replace(SAW, kerf=kerf, prefer=prefer))
