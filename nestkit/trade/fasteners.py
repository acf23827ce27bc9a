"""What goes with a screw: its pitch, nuts, washers, heads, and the lengths that it is sold in."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.errors import ToolFault
from nestkit.trade.screws import System, plain_screw
from nestkit.trade.tables import basis_text, number, read
from nestkit.units import MM_PER_INCH, parse_length

NutKind = Literal["nut", "lock nut"]
HeadShape = Literal["pan", "flat"]


@dataclass(frozen=True, slots=True)
class Thread:
    """A screw's thread: ``size`` is ``#10``, ``1/4`` or ``M5``, ``text`` the whole name, lengths in mm.

    ``pitch`` is None where the tables have no such thread. ``open`` says that the name leaves the pitch open
    (``#10``): then it is the coarsest, which asks for the longest screw.
    """

    size: str
    text: str
    system: System
    pitch: Fraction | None
    open: bool = False


@dataclass(frozen=True, slots=True)
class NutRow:
    """A nut: its greatest height and width across flats in mm."""

    kind: NutKind
    height: Fraction
    across: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class WasherRow:
    """A flat washer: its nominal thickness, outside and hole diameter in mm."""

    thickness: Fraction
    outside: Fraction
    hole: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class HeadRow:
    """A screw's head: its greatest diameter and height in mm; a flat one to its sharp edge."""

    shape: HeadShape
    dia: Fraction
    height: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class LengthsRow:
    """The lengths that a screw is usually sold in, in mm, the shortest first."""

    lengths: tuple[Fraction, ...]
    source: str


def table_mm(row: dict[str, str], column: str) -> Fraction:
    """Return a length of a table in mm, which the row's unit says.

    Raises :class:`~nestkit.errors.ToolFault` for an empty cell.
    """
    value = number(row[column])
    if value is None:
        raise ToolFault(f"a trade table has no {column} in {row}")
    return value * MM_PER_INCH if row["unit"] == "in" else value


def table_lengths(row: dict[str, str]) -> tuple[Fraction, ...]:
    """Return a row's lengths in mm, the shortest first."""
    return tuple(
        parse_length(text, "in" if row["unit"] == "in" else "mm") for text in row["lengths"].split(";")
    )


def row_source(row: dict[str, str], what: str) -> str:
    """Return what a row is and what stands behind it."""
    low = "; confidence low" if row["confidence"] == "low" else ""
    return f"{what}; {basis_text(row['basis'], row['source'])}{low}"


def thread(screw: str) -> Thread:
    """Return the thread of a screw: ``10-32``, ``#10``, ``1/4-20``, ``M5`` (coarse) or ``M5x0.8``.

    >>> thread("No. 10-32").size, thread("M5x0.80").text, thread("#10").open
    ('#10', 'M5', True)

    Raises :class:`~nestkit.trade.screws.UnknownScrew` for a text that names no screw.
    """
    text = plain_screw(screw)
    size, pitch = _parted(text)
    system: System = "metric" if size.startswith("M") else "inch"
    known = [row for row in _pitches() if row[0] == size]
    if pitch:
        found = next((row[2] for row in known if row[1] == pitch), None)
        coarse = system == "metric" and bool(known) and known[0][1] == pitch
        return Thread(size, size if coarse else text, system, found)
    if system == "metric":
        return Thread(size, size, system, known[0][2] if known else None)
    return Thread(size, size, system, max((row[2] for row in known), default=None), open=len(known) > 1)


def _parted(text: str) -> tuple[str, str]:
    """Return size and pitch of a screw's plain name: ``10-32`` is ``#10`` and ``32``."""
    if text.startswith("M"):
        size, _, pitch = text.partition("x")
        return size, pitch
    size, _, pitch = text.partition("-")
    return (f"#{size}" if pitch and "/" not in size else size), pitch


@functools.cache
def _pitches() -> tuple[tuple[str, str, Fraction], ...]:
    """Return size, pitch as it is written, and pitch in mm of every thread of the tap table."""
    rows = []
    for row in read("tap_drills"):
        size, written = _parted(plain_screw(row["thread"]))
        pitch = MM_PER_INCH / int(row["tpi"]) if row["tpi"] else Fraction(row["pitch_mm"])
        rows.append((size, written, pitch))
    return tuple(rows)


@functools.cache
def nut(kind: NutKind, size: str) -> NutRow | None:
    """Return the nut for a screw size (``#10``, ``1/4``, ``M5``), or None where the tables have none.

    >>> float(nut("nut", "M5").height), nut("lock nut", "M2")
    (4.7, None)
    """
    for row in read("nuts"):
        if (row["kind"], row["screw"]) == (kind, size):
            source = row_source(row, row["standard"])
            return NutRow(kind, table_mm(row, "height_max"), table_mm(row, "across_flats"), source)
    return None


@functools.cache
def washer(size: str) -> WasherRow | None:
    """Return the flat washer for a screw size, or None where the tables have none."""
    for row in read("washers"):
        if (row["kind"], row["screw"]) == ("flat", size):
            thickness, outside = table_mm(row, "thickness"), table_mm(row, "outside_dia")
            source = row_source(row, row["standard"])
            return WasherRow(thickness, outside, table_mm(row, "hole"), source)
    return None


@functools.cache
def head(shape: HeadShape, size: str) -> HeadRow | None:
    """Return the head of a screw size, or None where the tables have none."""
    for row in read("heads"):
        if (row["head"], row["screw"]) == (shape, size):
            source = row_source(row, row["standard"])
            return HeadRow(shape, table_mm(row, "dia_max"), table_mm(row, "height_max"), source)
    return None


@functools.cache
def screw_lengths(size: str) -> LengthsRow | None:
    """Return the lengths that a screw size is sold in, or None where the tables have none."""
    for row in read("screw_lengths"):
        if row["screw"] == size:
            return LengthsRow(table_lengths(row), row_source(row, row["standard"]))
    return None
