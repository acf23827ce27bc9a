"""Rules of thumb, each with its basis."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from fractions import Fraction

from nestkit.errors import ToolFault
from nestkit.trade.tables import basis_text, number, read
from nestkit.units import MM_PER_INCH


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of thumb: least, typical and most in ``unit`` (None where it has none).

    ``unit`` is a length (``mm``, ``in``), a multiple (``hole_dia``, ``fastener_dia``, ``thickness``,
    ``cutter_dia``, ``cutter_radius``, ``kerf``), or ``bool``, ``text`` and others as printed.
    """

    id: str
    topic: str
    material: str
    process: str
    quantity: str
    least: Fraction | None
    typical: Fraction | None
    most: Fraction | None
    unit: str
    basis: str
    source: str
    confidence: str
    note: str

    def said(self) -> str:
        """Return the rule's id and basis in one line.

        >>> rule("R014").said()
        'R014, common practice, no source; confidence low'
        """
        return f"{self.id}, {self.behind()}"

    def behind(self) -> str:
        """Return what stands behind the rule: its basis, sources, and whether that is little."""
        low = "; confidence low" if self.confidence == "low" else ""
        return f"{basis_text(self.basis, self.source)}{low}"

    def mm(self, value: Fraction | None) -> Fraction:
        """Return one of the rule's lengths in mm.

        Raises :class:`~nestkit.errors.ToolFault` when the rule is not a length or has no such value.
        """
        if value is None or self.unit not in {"mm", "in"}:
            raise ToolFault(f"rule {self.id} ({self.unit}) was read as a length it does not have")
        return value * MM_PER_INCH if self.unit == "in" else value


@functools.cache
def _rules() -> dict[str, Rule]:
    return {
        row["id"]: Rule(
            id=row["id"],
            topic=row["topic"],
            material=row["material"],
            process=row["process"],
            quantity=row["quantity"],
            least=number(row["least"]),
            typical=number(row["typical"]),
            most=number(row["most"]),
            unit=row["unit"],
            basis=row["basis"],
            source=row["source"],
            confidence=row["confidence"],
            note=row["note"],
        )
        for row in read("rules")
    }


def all_rules() -> tuple[Rule, ...]:
    """Return every rule in the order of the table."""
    return tuple(_rules().values())


def rule(id: str) -> Rule:
    """Return a rule by its number, such as ``R026``.

    Raises :class:`~nestkit.errors.ToolFault` for a number that the table does not have.
    """
    found = _rules().get(id)
    if found is None:
        raise ToolFault(f"there is no rule {id} in the table of rules")
    return found
