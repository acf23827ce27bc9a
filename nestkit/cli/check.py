"""``nestkit check``: every mistake, or what was understood, with the findings."""

from __future__ import annotations

import sys
from pathlib import Path

from nestkit.cli.run import DONE, WITH_ERRORS
from nestkit.cli.show import check_object, findings_text, json_text
from nestkit.fit.checking import findings_of
from nestkit.job.reader import read_job
from nestkit.job.understood import understood


def act(path: Path, *, as_json: bool, quiet: bool) -> int:
    """Check a job file and say back what it means."""
    job = read_job(path)
    findings = findings_of(job)
    errors = sum(f.level == "error" for f in findings)
    if as_json:
        sys.stdout.write(json_text(check_object((), findings)))
        return WITH_ERRORS if errors else DONE
    if not quiet:
        sys.stdout.write("\n".join(understood(job)) + "\n\n")
    sys.stdout.write(findings_text(findings))
    advice = len(findings) - errors
    sys.stdout.write(
        f"No mistakes; {errors} {'error' if errors == 1 else 'errors'} and {advice} "
        f"{'piece' if advice == 1 else 'pieces'} of advice found. Next: nestkit nest {path}\n"
    )
    return WITH_ERRORS if errors else DONE
