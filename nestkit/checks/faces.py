"""Parts that may be turned over, though one face carries what must be seen."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.checks.findings import AS_DRAWN, Finding, listed
from nestkit.job.model import Job
from nestkit.job.shown import shown


def marks_on_alike_faces(job: Job) -> Iterator[Finding]:
    """A part whose faces are alike has no mark: turned over, the mark would lie beneath."""
    for panel in job.panels:
        if panel.faces == "alike" and panel.marks:
            texts = listed((shown(mark.text) for mark in panel.marks), 2)
            one = len(panel.marks) == 1
            yield Finding(
                "advice",
                "",
                panel.place,
                f"its faces are alike, but {texts} {'is' if one else 'are'} on one of them: "
                f"turned over, the part hides {'it' if one else 'them'}",
                'write faces = "differ", or leave the mark out and write it by hand on the face that shows',
                AS_DRAWN,
            )
