"""All checks in one list; a new one is one function and one line here."""

from __future__ import annotations

from dataclasses import replace

from nestkit.checks import corners, drills, edges, faces, growth, letters, overlaps, stock, tools
from nestkit.checks.findings import Check, Finding
from nestkit.job.model import Job

CHECKS: tuple[Check, ...] = (
    stock.no_stock,
    stock.too_large_for_sheets,
    tools.material_not_for_laser,
    overlaps.holes_leave_part,
    overlaps.openings_leave_part,
    overlaps.holes_meet_holes,
    overlaps.holes_meet_openings,
    overlaps.openings_meet_openings,
    tools.cutter_cannot_follow,
    edges.edge_distance,
    edges.web_between_holes,
    edges.web_at_openings,
    corners.corners_get_cutter_radius,
    corners.corners_by_hand,
    corners.corners_by_waterjet,
    tools.hole_below_cutter,
    tools.hole_small_for_laser,
    drills.drill_names_alike,
    drills.drill_sizes_near,
    drills.too_large_by_hand,
    drills.no_such_drill,
    growth.growth_against_frame,
    faces.marks_on_alike_faces,
    letters.letters_not_in_type,
)


def examine(job: Job) -> tuple[Finding, ...]:
    """Return everything that the checks find in a job: errors first, then by panel, then by check.

    A panel of which no copy is made has no findings: what cannot be made of it need not be.
    """
    order = {panel.place: index for index, panel in enumerate(job.panels)}
    found = [finding for check in CHECKS for finding in check(_as_made(job))]
    return tuple(sorted(found, key=lambda f: (f.level != "error", order.get(f.place, len(order)))))


def _as_made(job: Job) -> Job:
    """Return a job with only those panels of which a copy is made, and the groups that have any."""
    groups = (replace(g, panels=tuple(p for p in g.panels if p.made)) for g in job.groups)
    return replace(
        job, panels=tuple(p for p in job.panels if p.made), groups=tuple(g for g in groups if g.panels)
    )
