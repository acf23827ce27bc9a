"""Gap and margin of a way of cutting where the job leaves them to the rules table."""

from __future__ import annotations

from fractions import Fraction

from nestkit.stock.ways import Margin, Way
from nestkit.trade.rules import Rule, rule


def settled_by_rules(way: Way, thickness: Fraction) -> tuple[Fraction, Margin, tuple[str, ...]]:
    """Return gap and margin of a way for stock of a thickness, and which rules gave what it leaves open."""
    said = []
    gap, margin = way.gap, way.margin
    if gap is None:
        gap, by = _usual_gap(way, thickness)
        gap = max(gap, way.kerf)
        said.append(f"gap by {by.said()}")
    if margin is None:
        around, rule_of_margin = _usual_margin(way)
        margin = Margin(around, around, around, around)
        if rule_of_margin is not None:
            said.append(f"margin by {rule_of_margin.said()}")
    return gap, margin, tuple(said)


def _usual_gap(way: Way, thickness: Fraction) -> tuple[Fraction, Rule]:
    if way.how == "saw":
        return way.kerf, rule("R027")
    if way.how == "router":
        by = rule("R026")
        return (by.typical or Fraction(2)) * way.kerf, by
    if way.how == "jigsaw":
        by = rule("R105")
        return by.mm(by.typical), by
    by, floor = (rule("R028"), rule("R116")) if way.how == "laser" else (rule("R114"), rule("R115"))
    times = (by.least or Fraction(1)) * thickness
    least = floor.mm(floor.typical)
    return (times, by) if times >= least else (least, floor)


def _usual_margin(way: Way) -> tuple[Fraction, Rule | None]:
    """Return the border not used; a saw uses the whole sheet."""
    if way.how == "saw":
        return Fraction(0), None
    by = rule({"router": "R029", "jigsaw": "R119", "laser": "R117", "waterjet": "R118"}[way.how])
    return by.mm(by.typical), by
