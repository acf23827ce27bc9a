"""Round holes, openings and marks of a part."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point


@dataclass(frozen=True, slots=True)
class Drill:
    """What makes a hole, as the trade tables answer it.

    ``name`` is the drill's (``#2``, ``F``, ``1/4``, ``5.5 mm``), or empty where the job gives a bare
    diameter that no drill of the tables has. ``source`` names table and standard. ``screw`` and
    ``fit``, or ``tap``, say what the hole is for where the job says so; ``fastener_dia`` is the
    screw's or thread's major diameter in mm.
    """

    dia: float
    name: str
    source: str
    screw: str | None = None
    fit: str | None = None
    tap: str | None = None
    fastener_dia: float | None = None


@dataclass(frozen=True, slots=True)
class Hole:
    """A round hole: number on every print, centre in the part's frame, its drill and its group."""

    number: int
    at: Point
    drill: Drill
    group: str

    @property
    def dia(self) -> float:
        """Finished diameter in millimetres."""
        return self.drill.dia


@dataclass(frozen=True, slots=True)
class Opening:
    """A slot or cut-out: its outline, counter-clockwise, in the part's frame."""

    kind: Literal["slot", "cutout"]
    outline: Outline
    place: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A text engraved or written on the face that is up; ``at`` is its lower left."""

    at: Point
    text: str
    height: float
