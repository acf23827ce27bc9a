"""``nestkit template``: 1:1 drilling templates only."""

from __future__ import annotations

import difflib
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from nestkit.cli.benches import bench_parts, bench_stem
from nestkit.cli.run import DONE
from nestkit.cli.show import json_text
from nestkit.drawing.tube_template import has_template
from nestkit.errors import UserError
from nestkit.job.model import Job
from nestkit.job.reader import read_job
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.writers.folder import write_folder
from nestkit.writers.job_files import template_files

_MOST_NAMES = 8


def act(
    path: Path,
    parts: Sequence[str],
    *,
    bench: str | None,
    back: bool,
    all_pages: bool,
    out: Path | None,
    as_json: bool,
    quiet: bool,
) -> int:
    """Write the templates of the named parts, of one bench's, or of all."""
    job = read_job(path)
    if all_pages:
        job = replace(job, printing=replace(job.printing, all_pages=True))
    chosen = wanted(job, parts) if bench is None else of_bench(job, parts, bench)
    stem = path.stem
    if bench is not None:
        stem += f"-for-{bench_stem(job, bench)}"
    target = out if out is not None else Path("output") / f"{stem}-templates"
    files = list(template_files(job, chosen, back=back))
    bare = _bare(chosen)
    if not files:
        raise UserError(f"there is nothing to print: {bare}")
    if bare and not quiet:
        sys.stderr.write(f"{bare[:1].upper()}{bare[1:]}.\n")
    count = write_folder(target, files)
    if as_json:
        sys.stdout.write(json_text({"folder": target.as_posix(), "files": [name for name, _ in files]}))
    else:
        if not quiet:
            sys.stdout.write("".join(f"{name}\n" for name, _ in files) + "\n")
        sys.stdout.write(f"Written: {count} files in {target}. Print the PDF at 100 %, do not fit to page.\n")
    return DONE


def _bare(parts: Sequence[Panel | Tube]) -> str:
    """Say which cut lengths have nothing to mark; empty where there is none of that kind."""
    names = [f'"{p.name}"' for p in parts if isinstance(p, Tube) and not has_template(p)]
    if not names:
        return ""
    more = f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
    needs = "needs" if len(names) == 1 else "need"
    return f"no holes and no mitres, so {', '.join(names[:_MOST_NAMES])}{more} {needs} no template"


def of_bench(job: Job, names: Sequence[str], bench: str) -> tuple[Panel | Tube, ...]:
    """Return the parts of a bench, those of these names where there are any.

    Raises ``UserError`` for a part that is for another bench.
    """
    own = bench_parts(job, bench)
    if not names:
        return own
    parts = wanted(job, names)
    for part in parts:
        if part.name not in {p.name for p in own}:
            whose = f'for "{part.used_for}"' if part.used_for else "for no bench"
            raise UserError(f'"{part.name}" is {whose}, not "{bench[:80]}"; leave out the part or --for')
    return parts


def wanted(job: Job, names: Sequence[str]) -> tuple[Panel | Tube, ...]:
    """Return the parts of these names, all without a name; ``UserError`` for one unknown or not made."""
    by_name = {p.name: p for p in job.parts}
    for name in names:
        if name not in by_name:
            near = difflib.get_close_matches(name, by_name, 1)
            hint = f'did you mean "{near[0]}"?' if near else f"the job has {', '.join(by_name)}"
            raise UserError(f'no part is called "{name[:80]}"; {hint}')
        if not by_name[name].made:
            raise UserError(f'"{name}" is not made: its quantity is 0; give it one, or leave it out')
    return tuple(p for p in job.parts if not names or p.name in names)
