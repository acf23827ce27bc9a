"""``nestkit estimate``: what to buy, what it costs and weighs; writes nothing."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

from nestkit.cli.interrupt import first_ends_the_search
from nestkit.cli.progress import Teller
from nestkit.cli.run import DONE, WITH_ERRORS
from nestkit.cli.show import findings_text, json_text
from nestkit.estimate.text import estimate_text
from nestkit.job.model import Job
from nestkit.job.reader import read_job
from nestkit.make import make
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
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


def with_spares(job: Job, spare: int) -> Job:
    """Return the job with ``spare`` further copies of every part."""

    def more(panels: tuple[Panel, ...]) -> tuple[Panel, ...]:
        return tuple(replace(p, spare=p.spare + spare) for p in panels)

    def longer(tubes: tuple[Tube, ...]) -> tuple[Tube, ...]:
        return tuple(replace(t, spare=t.spare + spare) for t in tubes)

    groups = tuple(replace(g, panels=more(g.panels)) for g in job.groups)
    bar_groups = tuple(replace(g, tubes=longer(g.tubes)) for g in job.bar_groups)
    return replace(
        job, panels=more(job.panels), groups=groups, tubes=longer(job.tubes), bar_groups=bar_groups
    )
