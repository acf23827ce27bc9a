"""``nestkit nest``: lay everything out and write the job folder."""

from __future__ import annotations

import sys
from pathlib import Path

from nestkit.cli.interrupt import first_ends_the_search
from nestkit.cli.progress import Teller, note
from nestkit.cli.run import DONE, WITH_ERRORS
from nestkit.cli.show import findings_text, json_text
from nestkit.estimate.text import estimate_text
from nestkit.job.reader import read_job
from nestkit.make import make
from nestkit.writers.folder import check_target, write_folder
from nestkit.writers.job_files import job_files
from nestkit.writers.layout_json import result_object


def act(path: Path, *, out: Path | None, seed: int, effort: str, as_json: bool, quiet: bool) -> int:
    """Lay a job out and write its folder."""
    job = read_job(path)
    target = out if out is not None else Path("output") / path.stem
    # Said before the search, not after it: a folder in the way would waste the whole run.
    check_target(target)
    with first_ends_the_search() as stop, Teller(quiet=quiet) as tell:
        made = make(job, seed=seed, effort=effort, on_event=tell, stop=stop)
    count = write_folder(target, job_files(made.job, made.findings, made.layout, made.estimate))
    if as_json:
        sys.stdout.write(json_text(result_object(made.job, made.layout, made.estimate)))
    else:
        errors = [f for f in made.findings if f.level == "error"]
        sys.stdout.write(findings_text(errors))
        advice = len(made.findings) - len(errors)
        if advice:
            note(f"{advice} pieces of advice; see them with: nestkit check {path}", quiet=quiet)
        sys.stdout.write(estimate_text(made.job, made.layout, made.estimate))
        sys.stdout.write(f"Written: {count} files in {target}; open {target / 'summary.html'} first.\n")
    return DONE if made.complete else WITH_ERRORS
