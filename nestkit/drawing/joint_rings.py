"""Rings and offsets in the picture of a joint, and how many times true size they are drawn to be seen."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nestkit.fit.result import JointFit
from nestkit.fit.zones import radial_play
from nestkit.geometry.points import Point

FACTORS = (100, 50, 20, 10, 5, 2, 1)
"""How many times true size rings and offsets may be drawn; 2 and 1 only where 5 would be too large."""
_LARGEST_RING, _LEAST_RING = 6.0, 1.5
_SHARE = 0.35
"""A ring takes at most this share of the way to the next screw."""
_LONGEST_ARROW = 30.0
_APART = 0.9
"""Millimetres on the page between a ring and the edge of a hole."""
OFF = 0.05
"""Millimetres from which holes that do not meet are shown: less is what rounding of sizes leaves."""


@dataclass(frozen=True, slots=True)
class Ring:
    """Where a screw is, and how far apart the centres of its two tightest holes may be; mm, joint's plane."""

    at: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Offset:
    """How far a hole lies from the first part's as drawn; mm, joint's plane."""

    screw: int
    start: Point
    end: Point

    @property
    def length(self) -> float:
        """How far that is."""
        return self.start.to(self.end)


@dataclass(frozen=True, slots=True)
class Exaggeration:
    """Rings and offsets, and how many times true size both are drawn."""

    factor: int
    rings: tuple[Ring, ...]
    offsets: tuple[Offset, ...]


def exaggerated(fit: JointFit, scale: float) -> Exaggeration:
    """Return rings and offsets with a factor at which they can be seen, and rings keep off one another.

    ``scale`` is that of the picture.
    """
    layers = fit.assembly.layers
    count = min(len(layer.points) for layer in layers)
    rings = tuple(Ring(layers[0].points[i], max(_clearance(fit, i), 0.0)) for i in range(count))
    offsets = tuple(
        Offset(i, layers[0].points[i], layer.points[i])
        for layer in layers[1:]
        for i in range(count)
        if layers[0].points[i].to(layer.points[i]) >= OFF
    )
    apart = min((a.at.to(b.at) for i, a in enumerate(rings) for b in rings[i + 1 :]), default=math.inf)
    most = min(_LARGEST_RING, max(_SHARE * apart * scale, _LEAST_RING))
    widest = max((ring.radius for ring in rings), default=0.0)
    longest = max((offset.length for offset in offsets), default=0.0)
    holes = [dia / 2 * scale for layer in layers for dia in layer.dias]
    fits = [f for f in FACTORS if widest * f <= most and longest * f <= _LONGEST_ARROW] or [FACTORS[-1]]
    factor = next((f for f in fits[:2] if _told_from(widest * f, holes)), fits[0])
    return Exaggeration(factor, rings, offsets)


def _told_from(radius: float, holes: list[float]) -> bool:
    """Say whether a ring on the page lies well inside or outside of every hole's edge."""
    return all(abs(radius - hole) > _APART for hole in holes)


def _clearance(fit: JointFit, screw: int) -> float:
    """How far the centres of a screw's two tightest holes may be apart, in mm."""
    if screw < len(fit.screws):
        return fit.screws[screw].clearance
    fastener = fit.assembly.joint.fastener.dia
    plays = sorted(
        0.0 if layer.plane.holds_thread else radial_play(layer.dias[screw], fastener)
        for layer in fit.assembly.layers
    )
    return sum(plays[:2])
