"""Whether a screw passes all parts of a joint when each is made exactly as drawn."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from itertools import combinations

from nestkit.fit.assembly import Layer, Plane
from nestkit.fit.zones import radial_play

NOTHING = 1e-6
"""Millimetres that are none."""


def plays_of(plane: Plane, dias: Sequence[float], fastener: float) -> tuple[float, ...]:
    """Return how far a screw may lie from the middle of each of a part's holes, 0 where the part holds it."""
    if plane.holds_thread:
        return (0.0,) * len(dias)
    return tuple(max(0.0, radial_play(dia, fastener)) for dia in dias)


def all_pass(layers: Sequence[Layer], fastener: float, *, held: bool) -> bool:
    """Say whether every screw passes, if the parts may shift and turn a little unless they are held."""
    plays = [plays_of(layer.plane, layer.dias, fastener) for layer in layers]
    screws = range(len(layers[0].points)) if layers else range(0)
    if all(_one_passes([layer.points[s] for layer in layers], [p[s] for p in plays]) for s in screws):
        return True
    return not held and _pass_when_moved(layers, plays)


def _one_passes(centres: Sequence[tuple[float, float]], plays: Sequence[float]) -> bool:
    """Say whether circles of these radii have a point in common: a middle, or where two of them cross."""
    circles = [(complex(*c), r) for c, r in zip(centres, plays, strict=True)]
    places = [middle for middle, _ in circles]
    for (a, r), (b, s) in combinations(circles, 2):
        apart = abs(b - a)
        if apart > r + s + NOTHING:
            return False
        if apart > max(abs(r - s), NOTHING):
            along = min(r, max(-r, (apart**2 + r**2 - s**2) / (2 * apart)))
            up = cmath.sqrt(max(0.0, r**2 - along**2))
            places += [a + (b - a) / apart * (along + side * 1j * up) for side in (1, -1)]
    return any(all(abs(place - c) <= r + NOTHING for c, r in circles) for place in places)


def _pass_when_moved(layers: Sequence[Layer], plays: Sequence[tuple[float, ...]]) -> bool:
    from nestkit.fit.spread import Spread, Wall
    from nestkit.fit.trials import tried

    first = layers[0].points
    walls = []
    for number, (layer, play) in enumerate(zip(layers, plays, strict=True)):
        off = tuple(p.less(f) for p, f in zip(layer.points, first, strict=True))
        walls.append(Wall(number, play, off, (0.0, 0.0)))
    return tried(Spread(first, tuple(walls)), 1, seed=1).value == 1.0
