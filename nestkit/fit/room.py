"""Whether a larger hole would come too near to an edge."""

from __future__ import annotations

from dataclasses import replace

from nestkit.checks import edges, tube_room, tubes
from nestkit.checks.findings import Finding
from nestkit.checks.larger import redrilled
from nestkit.fit.assembly import Layer
from nestkit.job.model import Job
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Drill
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube


def room_lost(job: Job, layer: Layer, drill: Drill) -> str:
    """Return what a part's holes would break if a drill made them: a rule they keep now; empty for none."""
    part = layer.part
    if isinstance(part, Bought):
        return ""
    before = {finding.text for finding in _found(job, part)}
    after = _found(job, redrilled(part, layer.numbers, lambda _: drill))
    new = [finding for finding in after if finding.text not in before]
    if not new:
        return ""
    rule = f" ({new[0].rule})" if new[0].rule else ""
    return f"{part.name}: {new[0].text}{rule}"


def _found(job: Job, part: Panel | Tube) -> list[Finding]:
    """Return what the checks of room say of one part alone."""
    if isinstance(part, Panel):
        return list(edges.edge_distance(replace(job, panels=(part,))))
    alone = replace(job, tubes=(part,))
    return [
        *tubes.holes_leave_face(alone),
        *tubes.holes_leave_end(alone),
        *tube_room.end_distance(alone),
        *tube_room.holes_in_corner(alone),
    ]
