"""What proves a marked panel before the first drill: two diagonals, one distance that no mirror keeps."""

from __future__ import annotations

import bisect
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.drawing.rulers import accepted
from nestkit.geometry.points import Point
from nestkit.parts.holes import Hole
from nestkit.parts.marking import check_pairs
from nestkit.parts.panel import Panel
from nestkit.trade.rules import rule
from nestkit.units import Unit

MARK_RULE = "R049"
"""How true a mark through a checked template is, along each axis."""
PEN_RULE = "R047"
"""The same of one measured with a steel rule and a sharp pencil or pen; also of a line laid on an edge."""

_ALIKE = 0.01


@dataclass(frozen=True, slots=True)
class Check:
    """A distance to measure between two punch marks, or from the corner at DATUM to one.

    ``says`` is what must be read, and what may be: ``out`` mm either way. ``corner`` says that it is
    measured from the corner.
    """

    between: str
    length: float
    out: Fraction
    says: str
    holes: tuple[int, ...]
    corner: bool = False


def between_marks(away: float, unit: Unit, by_rule: str = MARK_RULE) -> str:
    """Return what must be read between two marks and what may be: each is out by a rule's typical error."""
    by = rule(by_rule)
    return accepted(Fraction(away), 2 * by.mm(by.typical), unit)


def checks_of(
    view: Panel, holes: Sequence[Hole], unit: Unit, *, corner: Point | None, by_rule: str = MARK_RULE
) -> tuple[Check, ...]:
    """Return what to measure once the ``holes`` of a panel are marked and before the first is drilled.

    Up to two pairs of holes, the furthest apart first; then the distance to a hole from the datum
    ``corner`` (in the panel's frame, None where the part has none yet) that would differ most if
    the print lay mirrored or turned: it finds the wrong face and the wrong corner, which diagonals
    do not. Each mark may be out by a rule's typical error: two of them by twice that, one by once.
    """
    by = rule(by_rule)
    one = by.mm(by.typical)
    checks = [
        Check(f"{a} to {b}", away, 2 * one, between_marks(away, unit, by_rule), (a, b))
        for a, b, away in check_pairs(holes)
    ]
    odd = None if corner is None else _odd_one(view, holes, corner)
    if odd is not None and corner is not None:
        away = corner.to(odd.at)
        says = accepted(Fraction(away), one, unit)
        checks.append(Check(f"DATUM corner to {odd.number}", away, one, says, (odd.number,), corner=True))
    return tuple(checks)


def _odd_one(view: Panel, holes: Sequence[Hole], corner: Point) -> Hole | None:
    """The hole whose distance from the datum corner is least like any that is found from another corner.

    A corner from which the same distances are found is left out: turned or mirrored to there the
    pattern is the same. Of holes alike in this the furthest is taken.
    """
    wide, high = float(view.width), float(view.height)
    unlike: list[list[float]] = []
    for other in (Point(0, 0), Point(wide, 0), Point(wide, high), Point(0, high)):
        found: dict[float, list[float]] = {}
        for twin in holes:
            found.setdefault(twin.dia, []).append(other.to(twin.at))
        for away in found.values():
            away.sort()
        near = [_nearest(corner.to(h.at), found[h.dia]) for h in holes]
        if max(near, default=0.0) > _ALIKE:
            unlike.append(near)
    order = [min((near[i] for near in unlike), default=0.0) for i in range(len(holes))]
    ranked = zip(order, holes, strict=True)
    best = max(
        ranked, key=lambda r: (round(r[0], 3), round(corner.to(r[1].at), 3), -r[1].number), default=None
    )
    return None if best is None else best[1]


def _nearest(value: float, among: Sequence[float]) -> float:
    """How far a value is from the nearest of some in rising order."""
    at = bisect.bisect_left(among, value)
    return min(abs(value - other) for other in among[max(0, at - 1) : at + 1])
