"""What a check finds in a job: the rules, and its joints tried quickly."""

from __future__ import annotations

from nestkit.checks.all_checks import examine
from nestkit.checks.findings import Finding
from nestkit.job.model import Job

_TRIALS = 2_000
"""Trials of a joint that has no closed form: a check stays quick. ``nestkit fit`` takes more."""


def findings_of(job: Job) -> tuple[Finding, ...]:
    """Return what is found; without joints all that they need is not loaded."""
    if not job.joints:
        return examine(job)
    from nestkit.fit.findings import all_findings
    from nestkit.fit.fit_job import fit_job

    return all_findings(job, fit_job(job, trials=_TRIALS, advise=False))
