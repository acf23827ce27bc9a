"""Large plastic sheets that grow against the frame they are screwed to."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from nestkit.checks.findings import Finding, by_rule
from nestkit.geometry.points import Point
from nestkit.job.model import Job
from nestkit.trade.materials import family
from nestkit.trade.rules import rule
from nestkit.units import with_unit

DIRECTIONS = 16
"""Directions in which the outermost holes are looked for; the spread is short by 0.5 percent at most."""


def growth_against_frame(job: Job) -> Iterator[Finding]:
    """Polycarbonate screwed to aluminium has room in its holes for what it grows over 30 degrees C.

    It grows between its outermost screws; the room is what the tightest hole leaves its screw.
    """
    by, growth = rule("R070"), rule("R123")
    for panel in job.panels:
        screwed = [h for h in panel.holes if h.drill.screw and h.drill.fastener_dia]
        if family(panel.material) != "polycarbonate" or len(screwed) < 2:
            continue
        room, tightest = min((h.dia - (h.drill.fastener_dia or 0.0), h.number) for h in screwed)
        spread = _spread([h.at for h in screwed])
        grows = float(growth.mm(growth.typical)) * spread / 1000
        if grows > room:
            least, most = by.mm(by.least), by.mm(by.most)
            yield by_rule(
                "advice",
                by,
                panel.place,
                f"its screws lie up to {with_unit(spread, job.unit)} apart: over 30 C it grows "
                f"{with_unit(grows, job.unit)} more than an aluminium frame, and hole {tightest} leaves "
                f"its screw {with_unit(room, job.unit)}",
                f"slot the far holes, or make them {with_unit(least, job.unit)} to "
                f"{with_unit(most, job.unit)} larger, with wide washers",
            )


def _spread(points: Sequence[Point]) -> float:
    """Return the distance between two of the points that lie as far apart as any, or nearly so."""
    outermost: set[Point] = set()
    for step in range(DIRECTIONS):
        c, s = math.cos(math.pi * step / DIRECTIONS), math.sin(math.pi * step / DIRECTIONS)
        along = [(p.x * c + p.y * s, p) for p in points]
        outermost |= {min(along)[1], max(along)[1]}
    return max(a.to(b) for a in outermost for b in outermost)
