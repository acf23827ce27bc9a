"""Another drill for a hole: where the shop does not own the one wanted, or to lay out fewer of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from fractions import Fraction

from nestkit.checks.drills import ALIKE, nearly_alike
from nestkit.checks.larger import newly_too_near
from nestkit.fit.drill_words import drill_said, row_drill
from nestkit.fit.drilled import Drilled
from nestkit.parts.holes import Drill
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.trade.drills import SAME, DrillRow
from nestkit.trade.pilots import is_large
from nestkit.trade.rules import Rule
from nestkit.trade.screws import FITS, ClearanceRow, UnknownFit, UnknownScrew, clearance, tap
from nestkit.units import Unit, decimal_text, inches_text

LEAST_THREAD, MOST_THREAD = Fraction(50), Fraction(85)
"""Percent of thread that another tap drill may leave (common practice)."""


def loosest(screw: str) -> ClearanceRow | None:
    """Return the loosest clearance hole of a screw (loose, coarse); None for one the tables do not have."""
    try:
        system = clearance(screw).system
        return clearance(screw, FITS[system][-1])
    except (UnknownScrew, UnknownFit):
        return None


def thread_percent(thread: str, dia: float) -> float:
    """Return how much of its thread's height a tap leaves in a hole of ``dia`` mm.

    >>> round(thread_percent("10-32", 4.0386), 1), round(thread_percent("1/4-20", 5.1054), 1)
    (76.4, 75.4)

    Raises :class:`~nestkit.trade.screws.UnknownScrew`.
    """
    row = tap(thread)
    return float(row.percent) * (float(row.major) - dia) / float(row.major - row.dia)


def instead_of(drill: Drill, holes: Sequence[Drilled], owned: Iterable[DrillRow], unit: Unit) -> str:
    """Return what to use where the shop does not own a drill, empty where it does.

    ``holes`` are all for one purpose. A clearance hole may be as wide as the loosest fit of its screw and
    its distance to the edge allow, a tap drill leaves 50 to 85 % of the thread, any other drill is less than
    rule R102's .010 in off; what must fit exactly has no other.
    """
    if is_large(drill.dia):
        return ""  # a step drill or a hole saw makes it
    rows = sorted(owned, key=lambda row: (abs(float(row.dia) - drill.dia), row.dia, row.name))
    if rows and abs(float(rows[0].dia) - drill.dia) <= SAME:
        same = [row for row in rows if abs(float(row.dia) - drill.dia) <= SAME]
        if any(row.name == drill.name for row in same):
            return ""
        return f"use {drill_said(row_drill(same[0]), unit)}, the same size"
    kind = holes[0].purpose.kind
    if kind == "clearance":
        return _next_up(drill, holes, rows, unit)
    if kind == "tap":
        return _for_tap(drill, rows, unit)
    near = [row for row in rows if nearly_alike(float(row.dia), drill.dia)]
    if kind == "exact":
        near = [row for row in near if abs(float(row.dia) - drill.dia) <= ALIKE]
    if not near:
        return buy(drill)
    return f"use {drill_said(row_drill(near[0]), unit)}, {_difference(float(near[0].dia) - drill.dia, unit)}"


def buy(drill: Drill) -> str:
    """Return what is to be said where nothing else will do."""
    if not drill.name:
        return "no drill has this size: name the one to use"
    return f"buy the {drill.name} in" if "/" in drill.name else f"buy the {drill.name}"


def _next_up(drill: Drill, holes: Sequence[Drilled], rows: Sequence[DrillRow], unit: Unit) -> str:
    """The next owned drill above, as far as the loosest fit and the edge rules go."""
    most = loosest(holes[0].purpose.screw)
    larger = [row for row in rows if float(row.dia) > drill.dia]
    if most is None or most.hole_max is None or not larger or larger[0].dia > most.hole_max:
        return buy(drill)
    said = drill_said(row_drill(larger[0]), unit)
    if broken := spoiled(holes, float(larger[0].dia)):
        return f"{buy(drill)}; {said} brings holes too near to an edge ({broken.id})"
    return f"use {said}, within the {most.fit} fit of {holes[0].purpose.screw}"


def _for_tap(drill: Drill, rows: Sequence[DrillRow], unit: Unit) -> str:
    thread = drill.tap or ""
    for row in rows:
        percent = thread_percent(thread, float(row.dia))
        if LEAST_THREAD <= percent <= MOST_THREAD:
            return f"use {drill_said(row_drill(row), unit)}: {decimal_text(percent, 0)} % of the thread"
    return buy(drill)


def _difference(by: float, unit: Unit) -> str:
    if abs(by) <= ALIKE:
        return "the same hole"
    size = decimal_text(abs(by), 2) if unit == "mm" else inches_text(abs(by))
    return f"{size} {unit} {'larger' if by > 0 else 'smaller'}"


def spoiled(holes: Iterable[Drilled], dia: float) -> Rule | None:
    """Return the edge rule that some holes would newly break with a diameter of ``dia`` mm, or None."""
    numbers: dict[str, set[int]] = defaultdict(set)
    parts: dict[str, Panel | Tube] = {}
    for hole in holes:
        numbers[hole.part.name].add(hole.number)
        parts[hole.part.name] = hole.part
    found = (newly_too_near(part, numbers[name], dia) for name, part in parts.items())
    return next((by for by in found if by is not None), None)


Size = tuple[float, str]
"""What tells one drill from another in the hand: its diameter and its name."""


def merges(holes: Iterable[Drilled], kept: Iterable[Drill], unit: Unit) -> dict[Size, str]:
    """Return for each drill that another one can stand in for, so that it need not be laid out, that other.

    All of its holes must bear the larger drill: those of screws within the loosest fit where they belong to a
    joint, and with no edge rule newly broken; tap drills never; other holes only where both drills make the
    same hole (within .001 in). ``kept`` are laid out in any case, as pilots are.
    """
    by_size: dict[Size, list[Drilled]] = defaultdict(list)
    drills = {}
    for hole in holes:
        size = (hole.drill.dia, hole.drill.name)
        by_size[size].append(hole)
        drills[size] = hole.drill
    stay = {(drill.dia, drill.name): drill for drill in kept}
    found: dict[Size, str] = {}
    for size in sorted(drills, reverse=True):
        if size not in stay and (larger := _merged(by_size[size], size, stay)) is not None:
            found[size] = f"{drill_said(larger, unit)}, {_difference(larger.dia - size[0], unit)}"
        else:
            stay[size] = drills[size]
    return found


def _merged(holes: Sequence[Drilled], size: Size, stay: dict[Size, Drill]) -> Drill | None:
    """The nearest larger drill that all these holes bear."""
    larger = [d for d in stay.values() if d.dia >= size[0] and nearly_alike(d.dia, size[0])]
    for drill in sorted(larger, key=lambda d: (d.dia, d.name)):
        if all(_bears(hole, drill.dia) for hole in holes) and spoiled(holes, drill.dia) is None:
            return drill
    return None


def _bears(hole: Drilled, dia: float) -> bool:
    if hole.purpose.kind == "tap" or is_large(hole.drill.dia):
        return False
    if dia - hole.drill.dia <= ALIKE:
        return True
    if hole.purpose.kind != "clearance":
        return False
    most = loosest(hole.purpose.screw)
    return not hole.in_joint or (most is not None and most.hole_max is not None and dia <= most.hole_max)
