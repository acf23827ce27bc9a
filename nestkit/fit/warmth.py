"""What the temperatures that a joint must bear take of its chance."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from nestkit.fit.assembly import Assembly
from nestkit.fit.chance import chance_of, worst_spread
from nestkit.fit.result import Warmth
from nestkit.fit.spread import Spread
from nestkit.fit.spread_of import Plan
from nestkit.job.model import Job
from nestkit.parts.gangs import Gang


def warmth_of(
    job: Job, assembly: Assembly, plan: Plan, gangs: Sequence[Gang], trials: int, seed: int
) -> Warmth | None:
    """Return the chance where a joint is made, and how far holes grow apart; None without temperatures.

    Also None where all parts grow alike.
    """
    as_made, *others = worst_spread(job, assembly, plan, gangs)
    apart = max((_apart(as_made, other) for other in others), default=0.0)
    return Warmth(chance_of(as_made, trials, seed), apart) if apart > 0 else None


def _apart(made: Spread, other: Spread) -> float:
    """Return how far the holes of a screw are further apart than where the joint was made, in mm."""
    grown: list[list[complex]] = []
    for wall, warm in zip(made.walls, other.walls, strict=True):
        moved = [complex(*b) - complex(*a) for a, b in zip(wall.bias, warm.bias, strict=True)]
        if wall.follows is not None:
            moved = [own + led for own, led in zip(moved, grown[wall.follows], strict=True)]
        grown.append(moved)
    return max(
        (abs(p - q) for a, b in combinations(grown, 2) for p, q in zip(a, b, strict=True)), default=0.0
    )
