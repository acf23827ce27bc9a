"""How exactly holes come out: by the method of a part, by the shop's own figure, by a practice piece.

A figure of +- t per axis is turned into a standard deviation by t = 2 sigma for work by hand and t = 3 sigma
for a machine's specification. That is a choice, stated wherever a figure is shown.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nestkit.fit.result import Accuracy
from nestkit.job.model import Job, Part
from nestkit.parts.bought import Bought
from nestkit.parts.methods import Method, Practice
from nestkit.parts.tube import Tube
from nestkit.trade.rules import rule
from nestkit.units import with_unit

RULES: dict[Method, str] = {
    "tape and marker": "R046",
    "rule and pencil": "R047",
    "scribe and punch": "R048",
    "template": "R049",
    "router": "R054",
    "laser": "R053",
    "waterjet": "R128",
    "match drilled": "R051",
    "as bought": "R129",
}
"""The rule that gives the figure of each method."""

_CUT: tuple[Method, ...] = ("router", "laser", "waterjet")
_BY_MACHINE: frozenset[Method] = frozenset({*_CUT, "as bought"})
_SIGMAS = {True: 3, False: 2}


def method_of(job: Job, part: Part, dias: Sequence[float]) -> Method:
    """Return how holes of these diameters in a part are made: as it says, else as the job usually does.

    What a machine cuts has its own method, unless one of the holes is narrower than its cut.
    """
    if part.method is not None:
        return part.method
    if isinstance(part, Bought):
        return "as bought"
    by_hand = job.fitting.method or "template"
    if isinstance(part, Tube):
        return by_hand
    way = job.way_of(part)
    by_machine = next((method for method in _CUT if method == way.how), None)
    return by_hand if by_machine is None or any(way.by_hand(dia) for dia in dias) else by_machine


def accuracy(job: Job, method: Method) -> Accuracy:
    """Return the standard deviation per axis of a method: by practice, by the shop's figure, by the table."""
    pieces = [piece for piece in job.fitting.practice if piece.method == method]
    if pieces:
        own = practised(pieces)
        return Accuracy(method, own.sigma, f"own practice, {own.marks} marks")
    times = _SIGMAS[method in _BY_MACHINE]
    own_figure = dict(job.fitting.accuracy).get(method)
    if own_figure is not None:
        said = f"own figure +-{with_unit(own_figure, job.unit)} as {times} sigma"
        return Accuracy(method, float(own_figure) / times, said)
    by = rule(RULES[method])
    figure = by.mm(by.typical)
    said = f"+-{with_unit(figure, job.unit)} as {times} sigma ({by.said()})"
    return Accuracy(method, float(figure) / times, said)


@dataclass(frozen=True, slots=True)
class Practised:
    """What practice pieces say, in mm: sigma per axis with its 95 percent interval, and the mean offset.

    The mean is left out of sigma: marks that are all off alike move a pattern as a whole. ``drifts`` says
    that the mean is more than chance would make it: something is measured wrongly every time.
    """

    marks: int
    sigma: float
    least: float
    most: float
    mean_x: float
    mean_y: float

    @property
    def drifts(self) -> bool:
        """Say whether the mean is off by more than 3 of its own standard errors."""
        return math.hypot(self.mean_x, self.mean_y) > 3 * self.sigma * math.sqrt(2 / self.marks)


def practised(pieces: Sequence[Practice]) -> Practised:
    """Return what one practice piece or more of one method say together; each has its own mean.

    Raises ``ValueError`` where there are no two marks on any piece.
    """
    squares, freedom, marks = 0.0, 0, 0
    sum_x = sum_y = 0.0
    for piece in pieces:
        off = [(m.x - w.x, m.y - w.y) for w, m in zip(piece.wanted, piece.measured, strict=True)]
        mean_x, mean_y = (sum(v[axis] for v in off) / len(off) for axis in (0, 1))
        squares += sum((dx - mean_x) ** 2 + (dy - mean_y) ** 2 for dx, dy in off)
        freedom += 2 * (len(off) - 1)
        marks += len(off)
        sum_x, sum_y = sum_x + mean_x * len(off), sum_y + mean_y * len(off)
    if freedom == 0:
        raise ValueError("a practice piece needs two marks or more")
    sigma = math.sqrt(squares / freedom)
    low, high = (sigma / math.sqrt(_chi_square(freedom, z) / freedom) for z in (1.959964, -1.959964))
    return Practised(marks, sigma, low, high, sum_x / marks, sum_y / marks)


def _chi_square(freedom: int, z: float) -> float:
    """Return a quantile of chi-square by its normal deviate (Wilson and Hilferty, 1931; 1 % off at most)."""
    part = 2 / (9 * freedom)
    return freedom * (1 - part + z * math.sqrt(part)) ** 3
