"""Blind rivets by grip, the washers behind them, rivet nuts, and wood screws."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from fractions import Fraction

from nestkit.trade.fasteners import LengthsRow, WasherRow, row_source, table_lengths, table_mm, washer
from nestkit.trade.tables import read
from nestkit.units import MM_PER_INCH

SAME = Fraction(5, 1000)
"""Millimetres within which two diameters are one: 1/8 in and 3.2 mm are 0.025 apart."""


@dataclass(frozen=True, slots=True)
class RivetRow:
    """A blind rivet: what it grips, its drill, and the hole it wants, in mm.

    Inch rivets go by ``code``, metric ones by the ``length`` of their body.
    """

    dia: Fraction
    code: str
    length: Fraction | None
    grip_least: Fraction
    grip_most: Fraction
    drill: str
    hole_least: Fraction
    hole_most: Fraction
    source: str
    sure: bool


@dataclass(frozen=True, slots=True)
class RivetNutRow:
    """A rivet nut: its hole, what it grips, and its length over all before it is set, in mm."""

    thread: str
    hole: Fraction
    grip_least: Fraction
    grip_most: Fraction
    body: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class WoodScrewRow:
    """A wood screw: its largest diameter in mm, its pilot drills, and the lengths it is sold in."""

    size: str
    major: Fraction
    pilot_soft: str
    pilot_hard: str
    lengths: LengthsRow


@functools.cache
def _rivets() -> tuple[RivetRow, ...]:
    rows = []
    for row in read("rivets"):
        inch = row["unit"] == "in"
        dia = Fraction(row["dia"]) * (MM_PER_INCH if inch else 1)
        rows.append(
            RivetRow(
                dia=dia,
                code=row["code"],
                length=Fraction(row["length"]) if row["length"] else None,
                grip_least=table_mm(row, "grip_least"),
                grip_most=table_mm(row, "grip_most"),
                drill=row["drill"],
                hole_least=table_mm(row, "hole_least"),
                hole_most=table_mm(row, "hole_most"),
                source=row_source(row, row["standard"]),
                sure=row["confidence"] != "low",
            )
        )
    return tuple(rows)


def rivets(dia: Fraction) -> tuple[RivetRow, ...]:
    """Return the blind rivets of a diameter in mm, the least grip first; empty where the table has none.

    >>> rivets(Fraction("3.175"))[1].code, rivets(Fraction("3.2"))[0].drill, rivets(Fraction(9))
    ('42', '3.3 mm', ())
    """
    return tuple(row for row in _rivets() if abs(row.dia - dia) <= SAME)


_BACKING = {"1/8": "#4", "5/32": "#6", "3/16": "#8", "3.2": "M3", "4": "M4", "4.8": "M5"}
"""Flat washers whose hole is that of a rivet: what serves where there is no washer made for rivets."""


@functools.cache
def backing_washer(dia: Fraction) -> tuple[str, WasherRow] | None:
    """Return the screw size whose flat washer goes behind a rivet of a diameter in mm, and the washer.

    None for a rivet that the tables do not have.
    """
    for row in read("rivets"):
        own = Fraction(row["dia"]) * (MM_PER_INCH if row["unit"] == "in" else 1)
        if abs(own - dia) <= SAME:
            size = _BACKING[row["dia"]]
            found = washer(size)
            return None if found is None else (size, found)
    return None


@functools.cache
def rivet_nut(thread: str) -> RivetNutRow | None:
    """Return the rivet nut of a thread (``10-32``, ``M5``), or None where the table has none."""
    for row in read("rivet_nuts"):
        if row["thread"] == thread:
            return RivetNutRow(
                thread=thread,
                hole=table_mm(row, "hole"),
                grip_least=table_mm(row, "grip_least"),
                grip_most=table_mm(row, "grip_most"),
                body=table_mm(row, "body"),
                source=row_source(row, "rivet nuts of the trade"),
            )
    return None


@functools.cache
def wood_screw(major: Fraction) -> WoodScrewRow | None:
    """Return the wood screw of a largest diameter in mm, or None where the table has none.

    >>> wood_screw(Fraction("4.1656")).size, wood_screw(Fraction(4)).pilot_soft
    ('#8', '2.8 mm')
    """
    for row in read("wood_screws"):
        own = table_mm(row, "major")
        if abs(own - major) <= SAME:
            lengths = LengthsRow(table_lengths(row), row_source(row, "wood screws of the trade"))
            return WoodScrewRow(row["size"], own, row["pilot_soft"], row["pilot_hard"], lengths)
    return None
