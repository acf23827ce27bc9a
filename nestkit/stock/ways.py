"""A way of cutting: the machine, what its cut takes away, and the room it needs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

How = Literal["saw", "jigsaw", "router", "laser", "waterjet"]
MACHINES: tuple[How, ...] = ("router", "laser", "waterjet")
"""Ways of cutting that leave a part with all its edges, and with the holes that they can make."""
First = Literal["x", "y", "any"]
Prefer = Literal["offcut", "few cuts"]
Relief = Literal["none", "corners"]


@dataclass(frozen=True, slots=True)
class Margin:
    """Border of a sheet that is not used, in exact millimetres."""

    left: Fraction = Fraction(0)
    right: Fraction = Fraction(0)
    bottom: Fraction = Fraction(0)
    top: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Tabs:
    """Holding tabs along a part's edge: how wide each is left, and how many.

    ``count`` is for each part; None: one for each ``every`` mm of its edge, two at least.
    """

    width: Fraction
    count: int | None = None
    every: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Way:
    """A way of cutting as the job gives it; ``gap`` and ``margin`` are None where the rules table decides.

    ``name`` is empty for the usual way. ``stages`` 0 means no limit. ``first`` is the direction
    along which the first cuts run; both matter to a saw only. ``tabs`` None: none are asked for.
    ``relief``: inner corners are drawn as they are, or relieved.
    """

    name: str
    how: How
    kerf: Fraction
    gap: Fraction | None = None
    margin: Margin | None = None
    stages: int = 3
    first: First = "any"
    prefer: Prefer = "offcut"
    place: str = "cutting"
    tabs: Tabs | None = None
    relief: Relief = "none"

    @property
    def edge_to_edge(self) -> bool:
        """Say whether every cut must run straight from edge to edge."""
        return self.how == "saw"

    @property
    def round_tool(self) -> bool:
        """Say whether a turning cutter leaves its radius in each inside corner."""
        return self.how == "router"

    def by_hand(self, dia: float) -> bool:
        """Say whether a hole of ``dia`` mm is drilled: always with a saw, else where the cut is wider."""
        return self.how not in MACHINES or dia < float(self.kerf)
