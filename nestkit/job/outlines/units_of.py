"""What one unit of a drawing is: as the job says, else the file, else as in the job."""

from __future__ import annotations

from nestkit.job.outlines.fault import OutlineFault
from nestkit.units import Unit

WORDS: dict[Unit, str] = {"in": "inches", "mm": "millimetres"}
MM: dict[Unit, float] = {"in": 25.4, "mm": 1.0}

# $INSUNITS of the DXF reference, those a part may be drawn in.
_CODES: dict[int, tuple[str, float]] = {
    1: ("inches", 25.4),
    2: ("feet", 304.8),
    4: ("millimetres", 1.0),
    5: ("centimetres", 10.0),
    6: ("metres", 1000.0),
    8: ("microinches", 25.4e-6),
    9: ("mils", 25.4e-3),
    10: ("yards", 914.4),
    13: ("microns", 1e-3),
    14: ("decimetres", 100.0),
}


def unit_taken(asked: Unit | None, job: Unit, said: tuple[str, float] | None) -> tuple[str, float]:
    """Return the unit in words and in mm: ``asked`` by the panel, ``said`` by the file, else the job's."""
    if asked is not None:
        return f"in {WORDS[asked]}, as outline_unit says", MM[asked]
    if said is not None:
        return f"in {said[0]}, as the file says", said[1]
    return f"in {WORDS[job]}, as the job (the file has no unit)", MM[job]


def of_code(code: int) -> tuple[str, float] | None:
    """Return the unit of a code of $INSUNITS; None for 0, which is none."""
    if code == 0:
        return None
    if code not in _CODES:
        raise OutlineFault(
            f"$INSUNITS is {code}, no unit that parts are drawn in", 'Write outline_unit = "mm" or "in"'
        )
    return _CODES[code]
