"""All files of the job folder, with what each is for."""

from __future__ import annotations

import pickle
import re
from pathlib import Path

from nestkit.estimate.estimate import estimate
from nestkit.fit.chance import TRIALS
from nestkit.fit.findings import all_findings
from nestkit.fit.fit_job import fit_job
from nestkit.job.reader import read_data
from nestkit.layout.lay_out import lay_out
from nestkit.page.bench import Line
from nestkit.page.objects import Object
from nestkit.text import counted
from nestkit.writers.job_files import job_files

_PAGE = re.compile(rb"/Type\s*/Page\b(?!s)")
_WHAT = (
    ("layout.json", "the layout, for programs"),
    ("buy.csv", "what to buy"),
    ("parts.csv", "every copy and where it lies"),
    ("hardware.csv", "screws, nuts, washers"),
    ("summary.html", "the whole job on one page"),
    ("saw_plan.pdf", "every cut with its setting"),
    ("cut_plan.pdf", "every stick and its cuts"),
    ("marking_out.pdf", "where to mark holes by rule"),
    ("bench_cards.pdf", "a card for each part"),
    ("drill_together.pdf", "parts drilled together"),
    ("labels.pdf", "labels to stick on"),
    ("sheets/hand_over.txt", "note for the shop that cuts"),
    ("sheets/", "a sheet"),
    ("parts/", "a part to cut"),
    ("joints/", "a joint"),
    ("templates/", "1:1 template"),
)
"""What a file is for, by how its path begins; the first that fits."""


def work(line: Line, tree: Object, folder: Path, pickled: bytes) -> list[tuple[str, bytes, str]]:
    """Return every file of a layout that is known, or else of one made now: path, content, what it is."""
    if pickled:
        job, layout = pickle.loads(pickled)
    else:
        job = read_data(tree, folder)
        layout = lay_out(job, stop=line.stop)
    fit = fit_job(job, trials=TRIALS["normal"], seed=layout.seed)
    files = job_files(job, all_findings(job, fit), fit, layout, estimate(job, layout))
    return [(name, content, _what(name, content)) for name, content in files]


def _what(name: str, content: bytes) -> str:
    said = next((what for start, what in _WHAT if name.startswith(start)), "")
    if not name.endswith(".pdf"):
        return said
    return f"{said}, {counted(len(_PAGE.findall(content)), 'page')}"
