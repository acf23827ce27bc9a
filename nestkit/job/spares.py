"""A job with more spares than it asks for."""

from __future__ import annotations

from dataclasses import replace

from nestkit.job.model import Job
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube


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
