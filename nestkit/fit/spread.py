"""What may be off about the holes of a joint, as numbers: nothing here knows of parts or methods.

A joint is a set of walls. Each has one hole for each screw; walls of one layer move together. A screw passes
a wall while its axis lies within the hole's play of the hole's centre.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from nestkit.geometry.points import Point

Freedom = Literal["none", "slide", "slide and turn"]
"""How the layers can move to suit the screws: not at all, without turning, or as they like."""


@dataclass(frozen=True, slots=True)
class Slot:
    """A hole drawn out to a slot: by so many mm to each side along a direction in degrees."""

    by: float
    along_deg: float


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall that the screws pass; all lengths in mm, a value for each screw.

    ``plays`` are the radial plays, 0 in a wall that holds the screw. ``bias`` is how far each centre is off
    for certain. ``sigma`` are the standard deviations of each hole's own error along the wall's axes, which
    are turned by ``turn_deg``. ``follows``: the wall through which this one was drilled: it has that one's
    errors and bias too, and its own bias is beyond those.
    """

    layer: int
    plays: tuple[float, ...]
    bias: tuple[Point, ...]
    sigma: tuple[float, float]
    turn_deg: float = 0.0
    follows: int | None = None
    slots: tuple[Slot | None, ...] = ()


@dataclass(frozen=True, slots=True)
class Shared:
    """An error that many holes have in common: one normal number moves each hole of each wall."""

    moves: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class Spread:
    """All walls of a joint, the errors they share, where the screws are, and how the layers can move.

    A wall follows only one that stands before it.
    """

    points: tuple[Point, ...]
    walls: tuple[Wall, ...]
    shared: tuple[Shared, ...] = ()
    freedom: Freedom = "slide and turn"

    @property
    def holder(self) -> int | None:
        """The first wall that holds the screws, if one does."""
        return next((i for i, wall in enumerate(self.walls) if not any(wall.plays)), None)

    def held(self) -> Spread:
        """Return the same joint with its parts held where they are drawn."""
        return replace(self, freedom="none")
