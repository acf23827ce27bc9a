"""A part of a joint where it was laid on the first one, and which of its holes met which."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nestkit.fit.assembly import Plane
from nestkit.fit.pairing import Near, paired
from nestkit.fit.placing import FAR, Match
from nestkit.geometry.points import Point


@dataclass(frozen=True, slots=True)
class Laid:
    """A part's plane and how it lies on the reference's."""

    plane: Plane
    match: Match

    @property
    def partner(self) -> dict[int, int]:
        """Which of its holes goes with which of the reference's, by their places in the planes."""
        return dict(self.match.pairs)

    def off(self, reference: Plane, i: int) -> complex:
        """Return how far its hole lies from hole ``i`` of the reference, in the joint's plane."""
        here = self.match.placement(self.plane.points[self.partner[i]])
        there = reference.points[i]
        return complex(here.x - there.x, here.y - there.y)

    def alone(self) -> tuple[int, ...]:
        """Return the numbers of its holes that have no partner."""
        met = {j for _, j in self.match.pairs}
        return tuple(n for j, n in enumerate(self.plane.numbers) if j not in met)

    def unmet(self, reference: Plane) -> tuple[int, ...]:
        """Return the numbers of the reference's holes that have no partner here."""
        met = self.partner
        return tuple(n for i, n in enumerate(reference.numbers) if i not in met)


def completed(reference: Sequence[Point], other: Sequence[Point], match: Match) -> Match:
    """Return a match in which holes that did not meet go with what is left nearby, up to 25 mm away."""
    met = {i for i, _ in match.pairs}, {j for _, j in match.pairs}
    fixed = [i for i in range(len(reference)) if i not in met[0]]
    left = [j for j in range(len(other)) if j not in met[1]]
    if not fixed or not left:
        return match
    still = [complex(*reference[i]) for i in fixed]
    moved = [complex(*match.placement(other[j])) for j in left]
    more = paired(Near(still, FAR), moved)
    pairs = tuple(sorted((*match.pairs, *((fixed[a], left[b]) for a, b in more))))
    largest = max((match.largest, *(abs(still[a] - moved[b]) for a, b in more)))
    return replace(match, pairs=pairs, largest=largest)
