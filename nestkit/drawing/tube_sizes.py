"""Sizes along a tube as marking-out says them: inch fractions and millimetres, and what each is out by."""

from __future__ import annotations

from fractions import Fraction

from nestkit.drawing.marking_table import error_text, measured_text
from nestkit.job.model import Job
from nestkit.parts.marking import rounded
from nestkit.units import MM_PER_INCH, Unit, length_text

_USUAL_STEP: dict[Unit, Fraction] = {"in": MM_PER_INCH / 32, "mm": Fraction(1, 2)}


def units_of(job: Job) -> tuple[Unit, Unit]:
    """Return both units, the job's first."""
    return ("in", "mm") if job.unit == "in" else ("mm", "in")


def step_of(job: Job, unit: Unit) -> Fraction:
    """Return the step in mm that sizes are rounded to: the job's in its own unit, the usual in the other."""
    return job.marking_to if unit == job.unit else _USUAL_STEP[unit]


def place_names(job: Job) -> tuple[str, ...]:
    """Return the heads of the columns of a place along a tube."""
    one, other = units_of(job)
    return f"from 0 [{one}]", "out by", f"from 0 [{other}]", "out by"


def place_cells(job: Job, at: Fraction) -> tuple[str, ...]:
    """Return a place along a tube in both units, each with what it is out by."""
    cells = []
    for unit in units_of(job):
        dimension = rounded(float(at), step_of(job, unit))
        cells += [measured_text(dimension, unit), error_text(dimension, unit)]
    return tuple(cells)


def size_text(job: Job, size: Fraction, unit: Unit) -> str:
    """Return a size rounded in a unit, and in brackets what it is out by if it is."""
    dimension = rounded(float(size), step_of(job, unit))
    out = error_text(dimension, unit)
    return f"{measured_text(dimension, unit)} {unit}{'' if out == 'exact' else f' (out {out})'}"


def other_text(job: Job, size: Fraction) -> str:
    """Return a length in the unit that the job is not in."""
    return f"{length_text(size, 'mm', places=1)} mm" if job.unit == "in" else f"{length_text(size, 'in')} in"
