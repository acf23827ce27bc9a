"""What ``nestkit fit --json`` prints: joints, hardware and drills, lengths in the job's unit."""

from __future__ import annotations

from typing import Any

from nestkit.fit.result import Advice, Chance, DrillUse, JobFit, JointFit, ScrewFit
from nestkit.job.model import Job
from nestkit.units import MM_PER_INCH, Unit
from nestkit.writers.hardware import hardware_rows

_PLACES = 6


def fit_object(job: Job, found: JobFit) -> dict[str, Any]:
    """Return what is known of a job's joints as the object that ``--json`` prints."""
    return {
        "unit": job.unit,
        "chance": _chance(found.chance),
        "joints": [_joint(fit, job.unit) for fit in found.joints],
        "hardware": hardware_rows(job, found.hardware),
        "drills": [_drill(use) for use in found.drills],
    }


def _joint(fit: JointFit, unit: Unit) -> dict[str, Any]:
    assembly = fit.assembly
    zone = min(fit.zones, key=lambda z: z.diameter, default=None)
    return {
        "name": fit.name,
        "zone": None if zone is None else _length(zone.diameter, unit),
        "zone_per_axis": None if zone is None else _length(zone.per_axis, unit),
        "chance": _chance(fit.chance),
        "standard_error": None if fit.chance is None else round(fit.chance.error, _PLACES),
        "trials": None if fit.chance is None else fit.chance.trials,
        "asked": float(fit.goal),
        "made": assembly.joint.quantity,
        "faults": [{"text": fault.text, "remedy": fault.remedy} for fault in assembly.faults],
        "parts": [
            {
                "part": layer.part.name,
                "turn_deg": round(layer.placement.turn_deg % 360, _PLACES),
                "mirrored": layer.plane.mirrored,
                "x": _length(layer.placement.move.x, unit),
                "y": _length(layer.placement.move.y, unit),
                "method": accuracy.method,
                "sigma": _length(accuracy.sigma, unit),
            }
            for layer, accuracy in zip(assembly.layers, fit.accuracies, strict=False)
        ],
        "holes": [_screw(screw, fit, unit) for screw in fit.screws],
        "advice": [_advice(advice) for advice in fit.advice],
    }


def _screw(screw: ScrewFit, fit: JointFit, unit: Unit) -> dict[str, Any]:
    zones = {(zone.part, zone.hole): zone for zone in fit.zones}
    first = fit.assembly.layers[0].points[screw.number - 1]
    return {
        "number": screw.number,
        "chance": _chance(screw.chance),
        "clearance": _length(screw.clearance, unit),
        "parts": [
            {
                "part": part,
                "hole": number,
                "zone": _length(zones[part, number].diameter, unit),
                "off_x": _length(layer.points[screw.number - 1].x - first.x, unit),
                "off_y": _length(layer.points[screw.number - 1].y - first.y, unit),
            }
            for (part, number), layer in zip(screw.holes, fit.assembly.layers, strict=True)
        ],
    }


def _advice(advice: Advice) -> dict[str, Any]:
    return {
        "kind": advice.kind,
        "text": advice.text,
        "chance": _chance(advice.chance),
        "warning": advice.warning,
    }


def _drill(use: DrillUse) -> dict[str, Any]:
    return {
        "drill": use.drill.name,
        "mm": round(use.drill.dia, _PLACES),
        "holes": [{"part": part.name, "in_one": one, "copies": copies} for part, one, copies in use.holes],
        "order": list(use.order),
        "speed": use.speed,
        "instead": use.instead,
        "merge": use.merge,
    }


def _chance(chance: Chance | None) -> float | None:
    return None if chance is None else round(chance.value, _PLACES)


def _length(mm: float, unit: Unit) -> float:
    """Return a length in the job's unit; what is 0 has no sign."""
    return round(mm / float(MM_PER_INCH) if unit == "in" else mm, _PLACES) + 0.0
