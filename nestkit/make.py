"""The whole way: from a job to everything that is known about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from nestkit.checks.findings import Finding
from nestkit.estimate.estimate import Estimate, estimate
from nestkit.fit.chance import TRIALS
from nestkit.fit.findings import all_findings
from nestkit.fit.fit_job import fit_job
from nestkit.fit.result import JobFit
from nestkit.job.model import Job
from nestkit.layout.events import Progress
from nestkit.layout.lay_out import lay_out
from nestkit.layout.result import JobLayout


@dataclass(frozen=True, slots=True)
class Made:
    """A job with its findings, its joints, its verified layout and what it takes."""

    job: Job
    findings: tuple[Finding, ...]
    fit: JobFit
    layout: JobLayout
    estimate: Estimate

    @property
    def complete(self) -> bool:
        """Say whether every part has a place and no finding is an error."""
        return self.layout.complete and not any(f.level == "error" for f in self.findings)


def make(
    job: Job,
    *,
    seed: int = 1,
    effort: str = "normal",
    advise: bool = True,
    on_event: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Made:
    """Check a job, lay it out, and reckon what it takes; writes nothing.

    Without ``advise`` joints are tried less, and nothing is said of what would help them. ``on_event`` hears
    how the search goes; ``stop`` is asked whether it shall end with the best layout so far. Raises
    :class:`~nestkit.errors.ToolFault` when a layout fails its verification.
    """
    fit = fit_job(job, trials=TRIALS[effort if advise else "quick"], seed=seed, advise=advise)
    layout = lay_out(job, seed=seed, effort=effort, on_event=on_event, stop=stop)
    return Made(job, all_findings(job, fit), fit, layout, estimate(job, layout))
