"""The drill of a bare diameter, as the trade tables know it."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from nestkit.parts.holes import Drill
from nestkit.trade import drills
from nestkit.units import Unit

NO_DRILL = "as the job gives it; no drill of the tables has this size"


@lru_cache(maxsize=256)
def drill_of_dia(dia: Fraction, unit: Unit) -> Drill:
    """Return what makes a hole of a diameter in mm: the drill of that size, or none by name."""
    row = drills.named(dia, unit)
    return Drill(float(dia), row.name, row.source) if row is not None else Drill(float(dia), "", NO_DRILL)
