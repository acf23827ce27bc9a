"""What is bought ready made: brackets, hinges, motors; counted, priced, and part of joints."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nestkit.parts.holes import Hole
from nestkit.parts.methods import Method


@dataclass(frozen=True, slots=True)
class Bought:
    """A bought-in part: ``quantity`` pieces at ``price`` each, with the holes that screws of a joint meet.

    Holes are in the part's own frame in mm, seen from the side that a screw's head would be on; nothing is
    known of its outline. ``thickness`` is what a screw passes there, None where the job does not say;
    of a spacer without holes it is the length. ``method`` says how its holes were made, None: as bought.
    """

    name: str
    place: str
    quantity: int = 1
    price: Fraction | None = None
    used_for: str = ""
    material: str = ""
    thickness: Fraction | None = None
    holes: tuple[Hole, ...] = ()
    method: Method | None = None
    line: int | None = None
