"""How exactly holes are made and what room they have, in words."""

from __future__ import annotations

from nestkit.fit.accuracy import practised
from nestkit.fit.odds import figure
from nestkit.fit.result import JobFit, JointFit, Zone
from nestkit.job.model import Job
from nestkit.parts.methods import Method
from nestkit.units import Unit, decimal_text


def heat_said(job: Job, fit: JointFit) -> str:
    """Return what the temperatures do that a joint must bear; empty where they do nothing."""
    warmth, bear = fit.warmth, job.fitting.temperatures
    if warmth is None or bear is None:
        return ""
    low, high, made_at = (decimal_text(t, 1) for t in (bear.low, bear.high, bear.made_at))
    return (
        f"from {low} to {high} C holes move up to {caliper(warmth.apart, job.unit)} apart; as made, at "
        f"{made_at} C, the chance is {figure(warmth.as_made.value)}"
    )


def zone_said(job: Job, fit: JointFit) -> str:
    """Return the position zones left: one where all holes have the same."""
    zones = {(zone.part, round(zone.diameter, 6)): zone for zone in fit.zones}
    sizes = {round(zone.diameter, 6) for zone in fit.zones}
    if len(sizes) == 1:
        return f"{_zone(fit.zones[0], job.unit)}, for each hole"
    return "; ".join(f"{part}: {_zone(zone, job.unit)}" for (part, _), zone in zones.items())


def _zone(zone: Zone, unit: Unit) -> str:
    return f"{caliper(zone.diameter, unit)} wide, +-{caliper(zone.per_axis, unit)} per axis"


def caliper(mm: float, unit: Unit) -> str:
    """Return a small length as a caliper reads it, and one place more: ``.0310 in``, ``0.44 mm``."""
    if unit == "in":
        return f"{mm / 25.4:.4f} in".removeprefix("0")
    return f"{mm:.2f} mm"


def methods_said(fit: JointFit) -> str:
    """Return how each part's holes are made; :func:`accuracy_lines` has the figures."""
    told: dict[str, list[str]] = {}
    for accuracy, layer in zip(fit.accuracies, fit.assembly.layers, strict=True):
        told.setdefault(accuracy.method, []).append(layer.part.name)
    return "; ".join(f"{' and '.join(dict.fromkeys(names))}: {how}" for how, names in told.items())


def accuracy_said(job: Job, found: JobFit) -> list[str]:
    """Return how exact each method in use is, with its source; practice pieces with what they leave open."""
    used = dict.fromkeys(accuracy for fit in found.joints for accuracy in fit.accuracies)
    rows = [
        (one.method, f"+-{caliper(2 * one.sigma, job.unit)} in 95 of 100, each axis", one.source)
        for one in used
    ]
    methods = dict.fromkeys(piece.method for piece in job.fitting.practice)
    return [": ".join(row[:2]) + f"; {row[2]}" for row in rows] + [practice_said(job, m) for m in methods]


def practice_said(job: Job, method: Method) -> str:
    """Return what practice pieces of a method say: their scatter, how sure it is, and a steady offset."""
    own = practised([piece for piece in job.fitting.practice if piece.method == method])
    unit = job.unit
    said = (
        f"{method} by practice: {own.marks} marks, sigma {caliper(own.sigma, unit)} an axis, between "
        f"{caliper(own.least, unit)} and {caliper(own.most, unit)} (95 %)"
    )
    if own.drifts:
        way = f"{_signed(own.mean_x, unit)} to the right, {_signed(own.mean_y, unit)} up"
        said += f"; all marks are off alike, {way}: measure to one edge of the line, from one datum"
    return said


def _signed(mm: float, unit: Unit) -> str:
    return caliper(mm, unit) if mm >= 0 else f"-{caliper(-mm, unit)}"
