"""Which parts lie too near to each other: true arcs, parts in the openings of others included.

Straight edges are judged by shapely as they are. Where an arc is near, the distance between the two lines
is worked out by exact formulas. Only where parts may touch, so that it matters how deep one enters the other,
are arcs flattened, to a millionth of a millimetre.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
import shapely.affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from nestkit.geometry.distances import boundary
from nestkit.geometry.outline import Outline
from nestkit.geometry.overlay import common

COARSE, FINE = 0.002, 1e-6
"""Millimetres by which chords stray from arcs: to find what is near, and to judge what touches."""


@dataclass(frozen=True)
class Body:
    """A part, or anything else with an outline, as it lies; others may lie in its openings."""

    outline: Outline
    openings: tuple[Outline, ...] = ()

    @cached_property
    def lines(self) -> tuple[Outline, ...]:
        """All closed lines around the material."""
        return self.outline, *self.openings

    @cached_property
    def round(self) -> bool:
        """Say whether it has an arc."""
        return any(v.bulge for o in self.lines for v in o.vertices)

    @cached_property
    def coarse(self) -> Polygon:
        """The area, its arcs flattened well enough to find what is near."""
        return self._flattened(COARSE)

    @cached_property
    def fine(self) -> Polygon:
        """The area, its arcs flattened well enough to judge what touches."""
        return self._flattened(FINE)

    def _flattened(self, tolerance: float) -> Polygon:
        return Polygon(self.outline.flattened(tolerance), [o.flattened(tolerance) for o in self.openings])


def too_near(bodies: Sequence[Body], least: float, slip: float) -> list[tuple[int, int, float]]:
    """Return the pairs nearer than ``least`` mm by more than ``slip``, by index, with their distance.

    The distance is 0 where they overlap. With a ``least`` of 0 bodies may touch: those pairs are returned of
    which one enters the other by more than ``slip``, measured by a disc in what they share.
    """
    if len(bodies) < 2:
        return []
    areas = [b.coarse for b in bodies]
    tree = shapely.STRtree(areas)
    pairs = tree.query(areas, predicate="dwithin", distance=least + 2 * COARSE).T
    pairs = pairs[pairs[:, 0] < pairs[:, 1]]
    if not len(pairs):
        return []
    every = np.array(areas, dtype=object)
    away = shapely.distance(every[pairs[:, 0]], every[pairs[:, 1]])
    found = []
    for (i, j), coarse in zip(pairs.tolist(), away.tolist(), strict=True):
        stray = COARSE * (bodies[i].round + bodies[j].round)
        if coarse > stray + least - slip and coarse > stray:
            continue
        real = _apart(bodies[i], bodies[j], coarse, least, slip)
        if real is not None:
            found.append((i, j, real))
    return sorted(found)


def _apart(a: Body, b: Body, coarse: float, least: float, slip: float) -> float | None:
    """Return how far two bodies are apart, None where that is enough."""
    if least <= slip:
        return 0.0 if _enters(a, b, slip) else None
    if not (a.round or b.round):
        return coarse if coarse < least - slip else None
    if coarse == 0.0 and _thicker(common(a.coarse, b.coarse), 3 * COARSE):
        return 0.0
    # Neither has much of the other in it, so the nearest points lie on their lines.
    real = min(boundary(x).apart(boundary(y), least) for x in a.lines for y in b.lines)
    return real if real < least - slip else None


def _enters(a: Body, b: Body, slip: float) -> bool:
    """Say whether two bodies share more than a touch."""
    if not (a.round or b.round):
        return _thicker(common(a.coarse, b.coarse), slip)
    rough = common(a.coarse, b.coarse)
    if _thicker(rough, 3 * COARSE):
        return True
    return _thicker(common(a.fine, b.fine), slip - 2 * FINE)


def _thicker(area: BaseGeometry, least: float) -> bool:
    """Say whether a disc of diameter ``least`` fits into an area."""
    for part in shapely.get_parts(area):
        if part.area > 0.0:
            # Near the origin, with the disc as the unit: slivers far out would be lost in rounding.
            middle = np.array(part.centroid.coords[0])
            near = shapely.affinity.translate(part, *(-middle))
            if not shapely.affinity.scale(near, 1 / least, 1 / least, origin=(0, 0)).buffer(-0.5).is_empty:
                return True
    return False
