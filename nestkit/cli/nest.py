"""``nestkit nest``: lay everything out and write the job folder."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from nestkit.cli.benches import bench_parts, bench_stem
from nestkit.cli.interrupt import first_ends_the_search
from nestkit.cli.progress import Teller, note
from nestkit.cli.run import DONE, WITH_ERRORS
from nestkit.cli.show import findings_text, json_text
from nestkit.estimate.text import estimate_text
from nestkit.job.reader import read_job
from nestkit.make import make
from nestkit.text import counted
from nestkit.writers.folder import check_target, write_folder
from nestkit.writers.job_files import job_files, pack_files
from nestkit.writers.layout_json import result_object


def act(
    path: Path, *, bench: str | None, out: Path | None, seed: int, effort: str, as_json: bool, quiet: bool
) -> int:
    """Lay a job out and write its folder, or only what one ``bench`` needs of it."""
    job = read_job(path)
    parts = None if bench is None else bench_parts(job, bench)
    stem = path.stem if bench is None else f"{path.stem}-for-{bench_stem(job, bench)}"
    target = out if out is not None else Path("output") / stem
    # Said before the search, not after it: a folder in the way would waste the whole run.
    check_target(target)
    with first_ends_the_search() as stop, Teller(quiet=quiet) as tell:
        made = make(job, seed=seed, effort=effort, on_event=tell, stop=stop)
    if parts is None:
        count = write_folder(target, job_files(made.job, made.findings, made.fit, made.layout, made.estimate))
        done = f"; open {target / 'summary.html'} first."
    else:
        files = list(pack_files(made.job, made.layout, parts))
        count = write_folder(target, files)
        done = _pack_said([name for name, _ in files])
    if as_json:
        sys.stdout.write(json_text(result_object(made.job, made.layout, made.estimate)))
    else:
        errors = [f for f in made.findings if f.level == "error"]
        sys.stdout.write(findings_text(errors))
        advice = len(made.findings) - len(errors)
        if advice:
            note(f"{advice} pieces of advice; see them with: nestkit check {path}", quiet=quiet)
        sys.stdout.write(estimate_text(made.job, made.layout, made.estimate))
        sys.stdout.write(f"Written: {count} files in {target}{done}\n")
    return DONE if made.complete else WITH_ERRORS


def _pack_said(names: Sequence[str]) -> str:
    """Say what of a bench's pack was written: each print by its name, the templates counted."""
    prints = [name for name in names if "/" not in name]
    templates = sum(name.endswith(".pdf") for name in names) - len(prints)
    return f": {', '.join([*prints, counted(templates, 'template')])}."
