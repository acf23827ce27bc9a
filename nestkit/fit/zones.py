"""Position zones and clearances of bolted joints, by the formulas of ASME Y14.5-2009, appendix B.

A hole's position tolerance is a *diameter*: its axis may lie anywhere in a round zone of that size. H is the
smallest clearance hole, F the largest fastener. All lengths are millimetres, or all inches.
"""

from __future__ import annotations

import math


def floating_zone(hole: float, fastener: float) -> float:
    """Return the zone of each part when the fastener goes through clearance holes in all: T = H - F.

    >>> round(floating_zone(3.94, 3.5), 2)
    0.44
    """
    return hole - fastener


def fixed_zone(hole: float, fastener: float) -> float:
    """Return the zone of each of two parts when one of them holds the fastener: T = (H - F) / 2.

    >>> round(fixed_zone(3.94, 3.5), 2)
    0.22
    """
    return (hole - fastener) / 2


def radial_play(hole: float, fastener: float) -> float:
    """Return how far a fastener's axis may lie from the axis of its clearance hole: (H - F) / 2.

    Two such holes let one fastener through as long as their axes are apart by no more than the sum
    of both plays; a hole that holds the fastener has none.
    """
    return (hole - fastener) / 2


def position_error(dx: float, dy: float) -> float:
    """Return the position error as Y14.5 counts it, the diameter 2 * sqrt(dx^2 + dy^2).

    >>> round(position_error(0.10, 0.15), 4)
    0.3606
    """
    return 2 * math.hypot(dx, dy)


def per_axis(zone: float) -> float:
    """Return the +- per axis whose square just fits inside a round zone: T / (2 * sqrt(2)).

    >>> round(per_axis(0.0310), 4)
    0.011
    """
    return zone / (2 * math.sqrt(2))
