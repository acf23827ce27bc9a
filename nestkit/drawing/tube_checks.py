"""What proves a marked tube before the first drill: a distance between two marks, and one from end 0."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from nestkit.drawing.rulers import accepted
from nestkit.drawing.template_checks import MARK_RULE, PEN_RULE, Check
from nestkit.parts.tube import Tube, WallMark
from nestkit.trade.rules import rule
from nestkit.units import Unit

CUT_RULE = "R097"
"""How true a sawn end is."""

PageOf = Callable[[WallMark], int]


def tube_checks(view: Tube, unit: Unit, page_of: PageOf | None = None) -> tuple[Check, ...]:
    """Return what to measure: two marks furthest apart in a line; from end 0 to one that tells the ends.

    Mitres are sawn last, so end 0 is square while this is measured. ``page_of`` gives the page of a mark
    where each page is laid by itself: then marks of two pages may be out by R047 more for each page, and so
    may one from end 0.
    """
    checks: list[Check] = []
    mark, pen = rule(MARK_RULE), rule(PEN_RULE)
    one, laid = mark.mm(mark.typical), pen.mm(pen.typical)
    best: tuple[Fraction, WallMark, WallMark] | None = None
    lines: dict[object, list[WallMark]] = {}
    for found in view.marks:
        lines.setdefault((found.spot.face, found.spot.across, found.spot.at_deg), []).append(found)
    for same in lines.values():
        low, high = min(same, key=lambda m: m.spot.at), max(same, key=lambda m: m.spot.at)
        away = high.spot.at - low.spot.at
        if away > 0 and (best is None or away > best[0]):
            best = (away, low, high)
    if best is not None:
        away, low, high = best
        out = 2 * one + (2 * laid if page_of and page_of(low) != page_of(high) else 0)
        between = f"{low.number} to {high.number}{_on(low)}"
        checks.append(Check(between, float(away), out, accepted(away, out, unit), (low.number, high.number)))
    if view.marks:
        # Turned end for end, the same distance would be read from the wrong end.
        odd = max(view.marks, key=lambda m: (abs(2 * m.spot.at - view.length), m.spot.at, -m.number))
        out = one + (laid if page_of else 0)
        says = accepted(odd.spot.at, out, unit)
        checks.append(Check(f"END 0 to {odd.number}{_on(odd)}", float(odd.spot.at), out, says, (odd.number,)))
    return tuple(checks)


def _on(mark: WallMark) -> str:
    return f" on {mark.spot.face}" if mark.spot.face else ""
