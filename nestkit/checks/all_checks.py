"""All checks in one list; a new one is one function and one line here."""

from __future__ import annotations

from dataclasses import replace

from nestkit.checks import (
    corners,
    drawn_size,
    drills,
    edges,
    faces,
    growth,
    letters,
    loose,
    overlaps,
    stock,
    tools,
    tube_room,
    tube_stock,
    tubes,
)
from nestkit.checks.findings import Check, Finding
from nestkit.job.model import Job

CHECKS: tuple[Check, ...] = (
    stock.no_stock,
    stock.too_large_for_sheets,
    drawn_size.unit_mistaken,
    tube_stock.no_bar,
    tube_stock.too_long_for_bars,
    tube_stock.saw_without_kerf,
    tools.material_not_for_laser,
    overlaps.holes_leave_part,
    overlaps.openings_leave_part,
    overlaps.holes_meet_holes,
    overlaps.holes_meet_openings,
    overlaps.openings_meet_openings,
    tubes.holes_leave_face,
    tubes.holes_leave_end,
    tubes.holes_of_face_meet,
    tubes.holes_cross_inside,
    tubes.twins_differ,
    tools.cutter_cannot_follow,
    edges.edge_distance,
    edges.web_between_holes,
    edges.web_at_openings,
    tube_room.end_distance,
    tube_room.holes_in_corner,
    corners.corners_get_cutter_radius,
    corners.corners_by_hand,
    corners.corners_by_waterjet,
    tools.hole_below_cutter,
    tools.hole_small_for_laser,
    loose.small_parts_come_loose,
    drills.drill_names_alike,
    drills.drill_sizes_near,
    drills.too_large_by_hand,
    drills.no_such_drill,
    growth.growth_against_frame,
    faces.marks_on_alike_faces,
    letters.letters_not_in_type,
)


def examine(job: Job) -> tuple[Finding, ...]:
    """Return everything that the checks find in a job: errors first, then by part, then by check.

    Panels come before tubes. A part of which no copy is made has no findings: what cannot be made of it
    need not be.
    """
    places = [panel.place for panel in job.panels] + [tube.place for tube in job.tubes]
    order = {place: index for index, place in enumerate(places)}
    found = [finding for check in CHECKS for finding in check(_as_made(job))]
    return tuple(sorted(found, key=lambda f: (f.level != "error", order.get(f.place, len(order)))))


def _as_made(job: Job) -> Job:
    """Return a job with only those parts of which a copy is made, and the groups that have any."""
    groups = (replace(g, panels=tuple(p for p in g.panels if p.made)) for g in job.groups)
    bar_groups = (replace(g, tubes=tuple(t for t in g.tubes if t.made)) for g in job.bar_groups)
    return replace(
        job,
        panels=tuple(p for p in job.panels if p.made),
        groups=tuple(g for g in groups if g.panels),
        tubes=tuple(t for t in job.tubes if t.made),
        bar_groups=tuple(g for g in bar_groups if g.tubes),
    )
