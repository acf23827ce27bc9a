"""``nestkit estimate``: what to buy, what it costs and weighs; writes nothing."""

from __future__ import annotations

import sys
from pathlib import Path

from nestkit.cli.interrupt import first_ends_the_search
from nestkit.cli.progress import Teller
from nestkit.cli.run import DONE, WITH_ERRORS
from nestkit.cli.show import findings_text, json_text
from nestkit.estimate.text import estimate_text
from nestkit.job.reader import read_job
from nestkit.job.spares import with_spares
from nestkit.make import make
from nestkit.writers.layout_json import result_object


def act(path: Path, *, spare: int, seed: int, effort: str, as_json: bool, quiet: bool) -> int:
    """Reckon what a job takes, with ``spare`` further copies of every part."""
    job = with_spares(read_job(path), spare)
    with first_ends_the_search() as stop, Teller(quiet=quiet) as tell:
        made = make(job, seed=seed, effort=effort, advise=False, on_event=tell, stop=stop)
    if as_json:
        sys.stdout.write(json_text(result_object(made.job, made.layout, made.estimate)))
    else:
        sys.stdout.write(findings_text([f for f in made.findings if f.level == "error"]))
        if spare:
            sys.stdout.write(f"With {spare} more of every part in case one is spoiled.\n\n")
        sys.stdout.write(estimate_text(made.job, made.layout, made.estimate))
    return DONE if made.complete else WITH_ERRORS
