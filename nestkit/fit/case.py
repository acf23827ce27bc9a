"""A joint with all that its hardware is judged by."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.fit.assembly import Assembly, Layer
from nestkit.fit.length_of import Length
from nestkit.fit.lengths import screw_length
from nestkit.fit.stack import Stack, stack_of
from nestkit.parts.holes import Drill
from nestkit.units import Unit


@dataclass(frozen=True, slots=True)
class Case:
    """A joint's parts in place, its stack, and the length of its fastener; ``unit`` is that of the words."""

    assembly: Assembly
    stack: Stack
    length: Length
    unit: Unit

    @property
    def name(self) -> str:
        """The joint's name."""
        return self.assembly.joint.name

    @property
    def screws(self) -> int:
        """How many fasteners one such joint takes, also where its parts could not be laid in place.

        A joint of parts without holes takes one: a tape, or a tie around both.
        """
        by_holes = max((len(mate.holes) for mate in self.assembly.joint.mates), default=0)
        return max(self.assembly.screws, by_holes, 1)

    @property
    def in_nuts(self) -> bool:
        """Say whether nuts hold the far end."""
        return self.stack.fastener.kind == "screw" and self.stack.fastener.held_by in ("lock nut", "nut")


def case_of(assembly: Assembly, unit: Unit) -> Case:
    """Return what the hardware of an assembly is judged by."""
    stack = stack_of(assembly)
    return Case(assembly, stack, screw_length(stack, unit), unit)


def drills_of(layer: Layer) -> tuple[Drill, ...]:
    """Return the drills of a layer's holes, each once, in the order of its holes."""
    by_number = {hole.number: hole.drill for hole in layer.part.holes}
    return tuple(dict.fromkeys(by_number[number] for number in layer.numbers if number in by_number))
