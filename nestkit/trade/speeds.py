"""How fast a drill turns and how fast it is fed, for the materials that the rules know."""

from __future__ import annotations

from nestkit.errors import ToolFault
from nestkit.trade.drills import drill
from nestkit.trade.materials import family
from nestkit.trade.rules import Rule, rule
from nestkit.units import MM_PER_INCH, Unit, decimal_text, parse_length

SPEED_RULES = {"polycarbonate": ("R064", "R065", "R066")}
"""Rules by drill, the smallest first; R067, any drill at 500 to 1500 rpm, is less sure and only read."""
COOLING_RULES = {"polycarbonate": "R069"}

_SLACK = 1e-6


def drill_speed(dia: float, material: str, unit: Unit) -> str:
    """Return speed and feed for a drill of ``dia`` mm by the rule of its size or the next above it.

    Nothing is worked out between two rules. Empty for a material without rules, and over the largest.

    >>> drill_speed(5.6134, "polycarbonate", "in"), drill_speed(5.6134, "plywood", "in")
    ('1500 rpm, .002 in/rev (R065)', '')
    """
    rules = (rule(name) for name in SPEED_RULES.get(family(material), ()))
    by = next((r for r in rules if dia <= _size(r) + _SLACK), None)
    return f"{decimal_text(by.typical or 0)} rpm, {_feed(by, unit)} ({by.id})" if by is not None else ""


def cooling(material: str) -> str:
    """Return how the rules want a drill cooled in a material: a text, and the rule; empty without one.

    >>> cooling("polycarbonate")
    'compressed air or water; no cutting oil (crazing); peck and clear chips (R069)'
    """
    name = COOLING_RULES.get(family(material))
    return f"{rule(name).note} ({name})" if name is not None else ""


def _size(by: Rule) -> float:
    found = drill(by.process.removeprefix("drill "))
    if found is None:
        raise ToolFault(f"rule {by.id} is for {by.process!r}, which names no drill of the drill table")
    return float(found.dia)


def _feed(by: Rule, unit: Unit) -> str:
    """The feed a turn, which stands in the rule's note in inches."""
    inches, _, tail = by.note.removeprefix("feed ").partition(" ")
    if tail != "in/rev":
        raise ToolFault(f"the note of rule {by.id} says no feed in in/rev: {by.note!r}")
    mm = parse_length(inches, "in")
    if unit == "mm":
        return f"{decimal_text(mm, 3)} mm/rev"
    return f"{decimal_text(mm / MM_PER_INCH, 4).removeprefix('0')} in/rev"
