"""What a printer makes of a length: its scale, how sure that is, and which holes it endangers."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.parts.panel import Panel

FAR_OUT = Fraction(2, 100)
"""A scale further from 1 than this is no printer's own: the page was printed to fit."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Measured / nominal along one side of the paper.

    ``uncertainty`` is the share by which the readings leave it open, ``spread`` the share by which
    they differ from each other.
    """

    value: float
    uncertainty: float
    spread: float

    @property
    def fit_to_page(self) -> bool:
        """Say whether it is so far out that the page must have been scaled on its way."""
        return abs(self.value - 1) > FAR_OUT

    @property
    def out_of_square(self) -> bool:
        """Say whether two rulers side by side differ by more than their readings can."""
        return self.spread > 2 * math.sqrt(2) * self.uncertainty


def scale_of(nominal: Fraction, readings: Sequence[Fraction], read_to: Fraction) -> Scale:
    """Return the scale from readings of rulers of one nominal length, all in mm.

    ``read_to`` is how closely one end can be read. Each end of a ruler adds its own error, so one
    reading leaves the scale open by about 1.4 times ``read_to`` over the length, and more of them
    by less in proportion to the square root of their number.
    """
    if not readings:
        raise ValueError("a scale needs a reading or more")
    shares = [reading / nominal for reading in readings]
    uncertainty = math.sqrt(2 / len(shares)) * float(read_to / nominal)
    return Scale(float(sum(shares, Fraction(0)) / len(shares)), uncertainty, float(max(shares) - min(shares)))


@dataclass(frozen=True, slots=True)
class Pattern:
    """The hole of a panel that a scale error endangers most.

    ``spare`` is how far the centres of two like clearance holes may be apart for the screw still to
    pass (hole less screw), ``error`` how far the print may put the hole from its place, both in mm.
    """

    panel: Panel
    hole: int
    distance: float
    spare: float
    error: float

    @property
    def holds(self) -> bool:
        """Say whether the screw still passes."""
        return self.error <= self.spare


def error_at(x: float, y: float, share_x: float, share_y: float) -> float:
    """Return how far a hole at ``x, y`` from the datum is off when the scales are off by these shares."""
    return math.hypot(share_x * x, share_y * y)


def endangered(panels: Iterable[Panel], share_x: float, share_y: float) -> tuple[Pattern, ...]:
    """Return for each panel with screw holes the one that loses most of its spare offset.

    The shares are those by which the scale along the paper's short and long side may be out; how the
    panel will lie on the paper is not known here, so the worse of both ways counts.
    """
    found = []
    for panel in panels:
        worst: Pattern | None = None
        for hole in panel.holes:
            if hole.drill.screw is None or hole.drill.fastener_dia is None:
                continue
            x, y = hole.at
            error = max(error_at(x, y, share_x, share_y), error_at(x, y, share_y, share_x))
            spare = hole.dia - hole.drill.fastener_dia
            if worst is None or error * worst.spare > worst.error * spare:
                worst = Pattern(panel, hole.number, math.hypot(x, y), spare, error)
        if worst is not None:
            found.append(worst)
    return tuple(found)
