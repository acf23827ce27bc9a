"""summary.html: the whole job on one page, self-contained, to read on a phone and to print."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from typing import TYPE_CHECKING

from nestkit import __version__
from nestkit.estimate.estimate import Estimate
from nestkit.fit.result import JobFit
from nestkit.job.model import Job
from nestkit.layout.result import JobLayout
from nestkit.writers.html import said
from nestkit.writers.summary_bars import sticks_part
from nestkit.writers.summary_fit import drills_part, hardware_part, joints_part
from nestkit.writers.summary_parts import (
    advice_part,
    buy_part,
    cautions_part,
    errors_part,
    files_part,
    groups_part,
    parts_part,
    sheets_part,
    unplaced_part,
)
from nestkit.writers.summary_style import STYLE

if TYPE_CHECKING:
    from nestkit.checks.findings import Finding


def summary_html(
    job: Job,
    fit: JobFit,
    layout: JobLayout,
    estimate: Estimate,
    findings: Sequence[Finding],
    files: Sequence[str],
) -> str:
    """Return the page: what to buy first, then why, pictures, parts, findings, cautions, files.

    It loads nothing, runs nothing, and its policy forbids both.
    """
    stopped = ["<p>The search was ended early; this is the best layout found till then.</p>"]
    lines = [
        *_head(job),
        "<body>",
        f"<h1>{said(job.name)}</h1>",
        *([f"<p>{job.date.isoformat()}</p>"] if job.date is not None else []),
        *errors_part(findings),
        *unplaced_part(layout),
        *buy_part(layout, estimate, job.unit),
        *(stopped if layout.stopped else []),
        *groups_part(layout, estimate, job.unit),
        *sheets_part(job, layout),
        *sticks_part(job, layout),
        *parts_part(job),
        *joints_part(job, fit),
        *hardware_part(job, fit),
        *drills_part(job, fit),
        *advice_part(findings),
        *cautions_part(layout),
        *files_part(files),
        f'<p class="small">nestkit {__version__}, seed {layout.seed}, effort {said(layout.effort)}.</p>',
        "</body>",
        "</html>",
    ]
    return "\n".join(lines) + "\n"


def _head(job: Job) -> list[str]:
    digest = base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    return [
        "<!DOCTYPE html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        f"<title>{said(job.name)}</title>",
        f"<style>{STYLE}</style>",
        "</head>",
    ]
