"""One bench of a job, as ``--for`` names it: its parts, and its name in a folder's."""

from __future__ import annotations

import difflib

from nestkit.errors import UserError
from nestkit.job.model import Job
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.writers.names import file_stems

_NO_BENCH = "no bench"


def bench_parts(job: Job, name: str) -> tuple[Panel | Tube, ...]:
    """Return the parts that are ``for`` a bench, in the order of the job.

    Case and space around it do not count. An empty name stands for the parts that are for no bench.
    Raises ``UserError`` for a bench that the job does not have, with the nearest one or all of them.
    """
    found = tuple(p for p in job.parts if _plain(p.used_for) == _plain(name))
    if found:
        return found
    if not _plain(name):
        raise UserError("every part of the job is for a bench; name one with --for, or leave it out")
    benches = {_plain(p.used_for): p.used_for for p in job.parts if p.used_for}
    near = difflib.get_close_matches(_plain(name), benches, 1)
    if not benches:
        hint = 'no part of the job has a "for"'
    elif near:
        hint = f'did you mean "{benches[near[0]]}"?'
    else:
        hint = f"the job has {', '.join(sorted(benches.values()))}"
    raise UserError(f'no part is for "{name[:80]}"; {hint}')


def bench_stem(job: Job, name: str) -> str:
    """Return a bench's name as a part of a folder's: plain, and another for each bench of the job."""
    benches = list(dict.fromkeys(_plain(p.used_for) for p in job.parts))
    stems = file_stems(bench or _NO_BENCH for bench in benches)
    return stems[benches.index(_plain(name))]


def _plain(name: str) -> str:
    return name.strip().casefold()
