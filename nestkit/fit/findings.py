"""What the joints of a job add to what the checks found."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.checks.all_checks import examine
from nestkit.checks.findings import AS_DRAWN, Finding, listed
from nestkit.fit.odds import figure, odds
from nestkit.fit.result import Conflict, JobFit, JointFit
from nestkit.job.model import Job
from nestkit.trade.rules import rule

MODEL = "position zones by ASME Y14.5 and the accuracy of each method"
"""What stands behind a chance."""


def all_findings(job: Job, found: JobFit) -> tuple[Finding, ...]:
    """Return what the checks and the joints of a job give rise to, errors first."""
    both = (*examine(job), *joint_findings(found))
    return tuple(sorted(both, key=lambda finding: finding.level != "error"))


def joint_findings(found: JobFit) -> tuple[Finding, ...]:
    """Return errors for joints that cannot meet, advice for those that seldom do, and hardware conflicts."""
    findings = [finding for fit in found.joints for finding in _of_joint(fit)]
    findings += _conflicts(found)
    return tuple(sorted(findings, key=lambda finding: finding.level != "error"))


def _of_joint(fit: JointFit) -> Iterator[Finding]:
    place = fit.assembly.joint.place
    for fault in fit.assembly.faults:
        yield Finding("error", "", place, fault.text, fault.remedy, AS_DRAWN)
    if fit.chance is None or fit.chance.value >= fit.goal:
        return
    text = (
        f"{odds(fit.chance.value)} go together without filing (chance {figure(fit.chance.value)}; "
        f"{figure(float(fit.goal))} is asked)"
    )
    best = fit.advice[0] if fit.advice else None
    remedy = "nestkit fit says what helps: larger holes, finer marks, drilling together, and how much"
    if best is not None:
        warning = f"; mind: {best.warning}" if best.warning else ""
        remedy = f"{best.text}: {odds(best.chance.value)}{warning}"
    yield Finding("advice", "", place, text, remedy, MODEL)


def _also(conflict: Conflict) -> str:
    return f"; so it is in {listed(conflict.also)}" if conflict.also else ""


def _conflicts(found: JobFit) -> Iterator[Finding]:
    places = {fit.name: fit.assembly.joint.place for fit in found.joints}
    for conflict in found.hardware.conflicts:
        source = rule(conflict.rule).behind() if conflict.rule else AS_DRAWN
        yield Finding(
            "error" if conflict.error else "advice",
            conflict.rule,
            places.get(conflict.joint, conflict.joint),
            f"{conflict.text}{_also(conflict)}",
            conflict.remedy,
            source,
        )
