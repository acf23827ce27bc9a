"""What is drilled first: the pilot of a hole, the drills between, and what opens a large one by hand."""

from __future__ import annotations

from nestkit.errors import ToolFault
from nestkit.trade.drills import DrillRow, drill
from nestkit.trade.materials import family
from nestkit.trade.rules import rule
from nestkit.units import Unit

PILOT_RULE = "R061"
"""Over which diameter a pilot comes first; its note gives 1/8 in as the usual pilot."""
LARGEST_RULE = "R103"
"""The largest twist drill by hand."""

LARGE_TOOL = "step drill or hole saw"

_PILOT: dict[Unit, str] = {"in": "1/8", "mm": "3 mm"}
_BETWEEN: dict[Unit, str] = {"in": "1/4", "mm": "6 mm"}
_MOST_AT_ONCE = 2.5
"""A drill that follows a pilot in polycarbonate is at most this many times as wide (common practice)."""
_GRABBED = ("polycarbonate", "acrylic")
"""They grab or chip at the drill: piloted from the least diameter of the rule, others from the typical."""
_SLACK = 1e-6


def pilots_for(dia: float, material: str, unit: Unit) -> tuple[DrillRow, ...]:
    """Return the drills to use before the final one of ``dia`` mm, the smallest first; often none.

    By rule R061 a hole over 6 mm (polycarbonate and acrylic: over 4 mm) has a pilot, 1/8 in or
    3 mm; by R062 polycarbonate also gets a drill between, 1/4 in or 6 mm, where the final one is
    more than 2.5 times the pilot. What a step drill or hole saw opens needs the pilot alone.

    >>> [row.name for row in pilots_for(9.525, "polycarbonate", "in")]
    ['1/8', '1/4']
    """
    kind, by = family(material), rule(PILOT_RULE)
    over = by.mm(by.least if kind in _GRABBED else by.typical)
    if dia <= float(over) + _SLACK:
        return ()
    pilot = _row(_PILOT[unit])
    if kind == "polycarbonate" and not is_large(dia) and dia > _MOST_AT_ONCE * float(pilot.dia) + _SLACK:
        return (pilot, _row(_BETWEEN[unit]))
    return (pilot,)


def is_large(dia: float) -> bool:
    """Say whether a hole is too large for a twist drill by hand (rule R103: over 1/2 in)."""
    by = rule(LARGEST_RULE)
    return dia > float(by.mm(by.typical)) + _SLACK


def by_hand_tool(dia: float) -> str:
    """Return what makes a hole of ``dia`` mm by hand: ``drill``, over 1/2 in ``step drill or hole saw``.

    >>> by_hand_tool(12.7), by_hand_tool(19.05)
    ('drill', 'step drill or hole saw')
    """
    return LARGE_TOOL if is_large(dia) else "drill"


def spoken(row: DrillRow) -> str:
    """Return a drill's name with the unit that a fraction alone leaves open: ``1/8 in``, ``#7``, ``3 mm``."""
    return f"{row.name} in" if row.series == "fraction" and not row.name.endswith("in") else row.name


def _row(name: str) -> DrillRow:
    found = drill(name)
    if found is None:
        raise ToolFault(f"the drill table has no {name}, the usual pilot")
    return found
