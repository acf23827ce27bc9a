"""Drills by name and by size."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, cast

from nestkit.trade.tables import basis_text, read
from nestkit.units import MM_PER_INCH, Unit

Series = Literal["number", "letter", "fraction", "metric"]

SAME = Fraction(5, 10_000)
"""Millimetres within which a diameter is a drill's own."""

_PREFERRED: dict[Unit, tuple[Series, ...]] = {
    "in": ("fraction", "number", "letter", "metric"),
    "mm": ("metric", "fraction", "number", "letter"),
}


@dataclass(frozen=True, slots=True)
class DrillRow:
    """A drill: its series, its name as the shop says it, and its exact diameter in mm."""

    series: Series
    name: str
    dia: Fraction
    source: str


@functools.cache
def all_drills() -> tuple[DrillRow, ...]:
    """Return every drill: #80 to #1, A to Z, fractions by 64ths to 1 in, metric from 1 to 14.5 mm."""
    rows = []
    for row in read("drills"):
        if row["series"] == "metric":
            dia = Fraction(row["diameter_mm"])
        else:
            dia = Fraction(row["diameter_in"]) * MM_PER_INCH
        source = f"drill table; {basis_text(row['basis'], row['source'])}"
        rows.append(DrillRow(cast(Series, row["series"]), row["name"], dia, source))
    return tuple(rows)


@functools.cache
def _by_name() -> dict[str, DrillRow]:
    return {row.name: row for row in all_drills()}


@functools.cache
def _metric() -> dict[Fraction, DrillRow]:
    return {row.dia: row for row in all_drills() if row.series == "metric"}


def drill(name: str) -> DrillRow | None:
    """Return the drill of a name, or None.

    Names are ``#7``, ``F``, ``1/4`` or ``1/4 in``, and for metric drills ``5.5`` or ``5.5 mm``: a
    bare decimal or whole number is millimetres (one inch is ``1 in``).

    >>> drill("#7").name, drill("5.50").name, drill("e").dia, drill("#90")
    ('#7', '5.5 mm', Fraction(127, 20), None)
    """
    clean = " ".join(name.split())
    metric = re.fullmatch(r"(\d{1,3}(?:\.\d{1,6})?|\.\d{1,6})(?: ?mm)?", clean, re.IGNORECASE | re.ASCII)
    if metric:
        return _metric().get(Fraction(metric[1]))
    clean = clean.upper().replace("# ", "#")
    fraction = re.fullmatch(r"(\d{1,2}/\d{1,2}) ?(?:IN|\")", clean, re.ASCII)
    if fraction:
        clean = fraction[1]
    elif clean in {"1 IN", "1IN", '1"'}:
        clean = "1 in"
    return _by_name().get(clean)


def nearest(dia: Fraction, within: Fraction) -> tuple[DrillRow, ...]:
    """Return the drills whose diameter is at most ``within`` mm from ``dia`` mm, the nearest first."""
    near = [row for row in all_drills() if abs(row.dia - dia) <= within]
    return tuple(sorted(near, key=lambda row: abs(row.dia - dia)))


def named(dia: Fraction, unit: Unit = "in") -> DrillRow | None:
    """Return the drill of exactly this diameter in mm (to 0.0005 mm), or None.

    Where two have it (1/4 in and E, 1/2 in and 12.7 mm), an inch job gets the fraction and a mm
    job the metric drill.
    """
    near = nearest(dia, SAME)
    return min(near, key=lambda row: _PREFERRED[unit].index(row.series)) if near else None
