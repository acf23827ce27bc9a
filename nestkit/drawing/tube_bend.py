"""How paper bends round a tube: corner radius, fold and girth, and where a print says they come from."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nestkit.drawing.template_checks import MARK_RULE
from nestkit.geometry.round_wrap import usual_girth
from nestkit.job.model import Job
from nestkit.parts.tube import Tube
from nestkit.stock.section import corner
from nestkit.trade.rules import rule
from nestkit.units import with_unit

FOLD_RULE = "R109"
"""What office paper adds at a fold."""


@dataclass(frozen=True, slots=True)
class Bend:
    """Corner radius, fold and girth in mm to unroll a tube with, those that do not apply 0.

    ``fact`` is a word and what to say of it, ``sure`` whether what matters was measured.
    """

    corner: float = 0.0
    fold: float = 0.0
    girth: float = 0.0
    fact: tuple[str, str] = ("", "")
    sure: bool = True


def bend_of(job: Job, tube: Tube) -> Bend:
    """Return how paper bends round a tube: as measured, else as the tables have it, else sharp."""
    by = rule(FOLD_RULE)
    fold = float(by.mm(by.typical)) if job.printing.fold is None else job.printing.fold
    if tube.section.is_round:
        return _round(job, tube, fold)
    if tube.paper == "strips" or tube.section.kind not in {"tube", "angle"}:
        return Bend()
    if tube.section.kind == "angle":
        return Bend(fold=fold, fact=("Heel", "reckoned as sharp"))
    return _corner(job, tube, fold)


def _corner(job: Job, tube: Tube, fold: float) -> Bend:
    ask = "Measure it and write corner_radius"
    known = corner(tube.section, tube.material)
    if tube.corner is not None:
        radius, said = tube.corner, "as measured"
    elif known is not None:
        radius, said = known.radius, f"usual ({known.rule.said()}). {ask}"
    else:
        radius, said = Fraction(0), f"not known, reckoned as sharp. {ask}"
    text = f"outside radius {with_unit(radius, job.unit)}, {said}"
    return Bend(float(radius), fold, fact=("Corners", text), sure=tube.corner is not None)


def _round(job: Job, tube: Tube, fold: float) -> Bend:
    by = rule(MARK_RULE)
    if tube.girth is not None:
        girth, said = float(tube.girth), "as measured"
    else:
        girth = usual_girth(tube.section, fold)
        said = f"reckoned from {with_unit(tube.section.a, job.unit)} across"
    text = (
        f"{with_unit(girth, job.unit)}, {said}. If the edges gap or overlap by more than "
        f"{with_unit(by.mm(by.typical), job.unit)}, measure around the tube and write girth"
    )
    return Bend(girth=girth, fact=("Around", text), sure=tube.girth is not None)
