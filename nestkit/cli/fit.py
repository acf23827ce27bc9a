"""``nestkit fit``: do the joints go together, what would help, hardware and drills; writes nothing."""

from __future__ import annotations

import sys
from pathlib import Path

from nestkit.cli.run import DONE, WITH_ERRORS
from nestkit.cli.show import json_text
from nestkit.fit.chance import TRIALS
from nestkit.fit.drill_words import drill_lines
from nestkit.fit.findings import joint_findings
from nestkit.fit.fit_job import fit_job
from nestkit.fit.hardware_words import error_lines, hardware_lines
from nestkit.fit.words import fit_lines, last_line
from nestkit.job.reader import read_job
from nestkit.writers.fit_json import fit_object


def act(path: Path, *, seed: int, effort: str, as_json: bool, quiet: bool) -> int:
    """Say of each joint of a job whether it goes together, and what is to be bought and drilled for them."""
    job = read_job(path)
    found = fit_job(job, trials=TRIALS[effort], seed=seed)
    errors = any(finding.level == "error" for finding in joint_findings(found))
    if as_json:
        sys.stdout.write(json_text(fit_object(job, found)))
        return WITH_ERRORS if errors else DONE
    lines = fit_lines(job, found)
    if quiet:
        lines += error_lines(found.hardware)
    else:
        lines += [*hardware_lines(job, found.hardware), "", *drill_lines(job, found.drills), ""]
    sys.stdout.write("\n".join([*lines, last_line(found)]) + "\n")
    return WITH_ERRORS if errors else DONE
