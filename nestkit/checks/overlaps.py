"""Holes and openings that leave the part, or meet one another: errors by plain measuring."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.checks.findings import NOTHING, Finding, holes_said, listed, measured, opening_said
from nestkit.checks.near import close_pairs
from nestkit.geometry.distances import boundary
from nestkit.job.model import Job
from nestkit.units import with_unit


def holes_leave_part(job: Job) -> Iterator[Finding]:
    """A hole lies wholly on its part."""
    for panel in job.panels:
        edge = boundary(panel.outline)
        out, worst = [], 0.0
        for hole in panel.holes:
            left = edge.depth(hole.at) - hole.dia / 2
            if left <= NOTHING:
                out.append(hole)
                worst = min(worst, left)
        if out:
            far = f", by up to {with_unit(-worst, job.unit)}" if worst < -NOTHING else ""
            verb = "reaches" if len(out) == 1 else "reach"
            yield measured(
                panel.place,
                f"{holes_said(out)} {verb} over the edge of the part{far}",
                "move the hole inwards, make it smaller, or cut a notch instead",
            )


def holes_meet_holes(job: Job) -> Iterator[Finding]:
    """Holes of a part do not run into each other."""
    for panel in job.panels:
        pairs = []
        for a, b in close_pairs(panel.holes, 0.0):
            web = a.at.to(b.at) - (a.dia + b.dia) / 2
            if web <= NOTHING:
                same = a.at.to(b.at) <= NOTHING
                pairs.append(f"{a.number} and {b.number}{' at one place' if same else ''}")
        if pairs:
            yield measured(
                panel.place,
                f"holes run into each other: {listed(pairs)}",
                "move one, leave out the one that is there twice, or make a slot of them",
            )


def holes_meet_openings(job: Job) -> Iterator[Finding]:
    """Holes of a part do not run into its openings."""
    for panel in job.panels:
        met = []
        for opening in panel.openings:
            edge = boundary(opening.outline)
            into = [
                hole
                for hole in panel.holes
                if edge.near(hole.at, hole.dia / 2) and edge.depth(hole.at) >= -hole.dia / 2 - NOTHING
            ]
            if into:
                met.append(f"{holes_said(into)} and {opening_said(opening, panel)}")
        if met:
            yield measured(
                panel.place,
                f"holes run into an opening: {listed(met)}",
                "move the hole or the opening apart",
            )


def openings_leave_part(job: Job) -> Iterator[Finding]:
    """An opening lies wholly on its part."""
    for panel in job.panels:
        edge = boundary(panel.outline)
        out = []
        for opening in panel.openings:
            line = boundary(opening.outline)
            if edge.apart(line, NOTHING) <= NOTHING or edge.depth(opening.outline.vertices[0].point) <= 0:
                out.append(opening_said(opening, panel))
        if out:
            verb = "reaches" if len(out) == 1 else "reach"
            yield measured(
                panel.place,
                f"{listed(out)} {verb} over the edge of the part",
                "move it inwards, or write a notch, which is open to the edge",
            )


def openings_meet_openings(job: Job) -> Iterator[Finding]:
    """Openings of a part do not run into each other."""
    for panel in job.panels:
        pairs = []
        for i, a in enumerate(panel.openings):
            for b in panel.openings[i + 1 :]:
                one, other = boundary(a.outline), boundary(b.outline)
                if not one.near_box(other.box, NOTHING):
                    continue
                if (
                    one.apart(other, NOTHING) <= NOTHING
                    or one.depth(b.outline.vertices[0].point) >= 0
                    or other.depth(a.outline.vertices[0].point) >= 0
                ):
                    pairs.append(f"{opening_said(a, panel)} and {opening_said(b, panel)}")
        if pairs:
            yield measured(
                panel.place,
                f"openings run into each other: {listed(pairs)}",
                "move them apart, or write them as one opening by its points",
            )
