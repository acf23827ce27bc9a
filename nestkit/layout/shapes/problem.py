"""True shapes to be laid on sheets: plain frozen data, in millimetres, y up; it pickles and knows no job.

Shapes are straight-edged: arcs come flattened outwards, openings flattened inwards, so that what is laid out
by them is never nearer than it seems. ``gap`` is kept between shapes; a sheet's margin is taken off its size
before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

Ring = tuple[tuple[float, float], ...]
"""A closed line, the first point not repeated; counter-clockwise outside, clockwise around an opening."""


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline with its openings, each with room for the cutter if parts are to lie in them."""

    outer: Ring
    openings: tuple[Ring, ...] = ()


@dataclass(frozen=True, slots=True)
class Kind:
    """Pieces of one shape that may lie alike.

    ``turns`` are the angles in degrees that are allowed; ``any_turn`` allows all others too. ``either_hand``:
    a piece may be laid mirrored (x becomes -x before it is turned). ``extras`` are laid only where they cost
    nothing. ``apart`` is what others keep from a piece of it where that is not the problem's gap.
    """

    shape: Shape
    count: int
    turns: tuple[float, ...] = (0.0, 90.0, 180.0, 270.0)
    any_turn: bool = False
    either_hand: bool = False
    extras: int = 0
    apart: float | None = None


def pieces_of(kinds: Sequence[Kind]) -> list[int]:
    """Return the kind of every piece that is needed, kind by kind."""
    return [k for k, kind in enumerate(kinds) for _ in range(kind.count)]


def extras_of(kinds: Sequence[Kind]) -> list[int]:
    """Return the kind of every extra, kind by kind."""
    return [k for k, kind in enumerate(kinds) for _ in range(kind.extras)]


@dataclass(frozen=True, slots=True)
class Fixed:
    """What lies on a plate before any piece does, and never moves: placed as a piece is (see ``Laid``).

    It may reach over the plate's edges. ``apart`` is as that of a kind. ``region``: it is nothing but a
    place that is kept clear; a plate with any other is used in every layout.
    """

    shape: Shape
    x: float
    y: float
    turn_deg: float = 0.0
    apart: float | None = None
    region: bool = False


@dataclass(frozen=True, slots=True)
class Plate:
    """A sheet that pieces lie on: its room without margins, what one costs, and how many there are.

    ``after``: kinds of plates, each with a number. A plate of this kind comes once so many of those are used:
    not before, and no more of those are used without it.
    """

    width: float
    height: float
    cost: Fraction
    count: int | None = None
    fixed: tuple[Fixed, ...] = ()
    after: tuple[tuple[int, int], ...] = ()

    @property
    def must(self) -> bool:
        """Say whether it is used in every layout."""
        return any(not f.region for f in self.fixed)


@dataclass(frozen=True, slots=True)
class ShapesProblem:
    """Kinds of pieces, plates to lay them on, and the least distance between pieces."""

    kinds: tuple[Kind, ...]
    plates: tuple[Plate, ...]
    gap: float = 0.0


@dataclass(frozen=True, slots=True)
class Laid:
    """A piece in its place: its shape mirrored if so said, turned about its own origin, then moved by x, y.

    The lower left of the plate's room is 0, 0.
    """

    kind: int
    x: float
    y: float
    turn_deg: float = 0.0
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class LaidPlate:
    """One plate of a kind with the pieces on it."""

    plate: int
    pieces: tuple[Laid, ...]


@dataclass(frozen=True, slots=True)
class ShapesLayout:
    """All plates used, and how many pieces of each kind found no place (extras are not missed)."""

    plates: tuple[LaidPlate, ...]
    left: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Least:
    """What no layout can beat; a search ends where it is reached."""

    cost: Fraction = Fraction(0)
    plates: int = 0

    def met_by(self, cost: Fraction, plates: int) -> bool:
        """Say whether a layout with all pieces reaches it."""
        return cost <= self.cost and plates <= self.plates


Worth = tuple[int, Fraction, int]
"""Pieces without a place, cost, plates: less is better, the first first."""


def worth_of(problem: ShapesProblem, layout: ShapesLayout) -> Worth:
    """Return what a layout is worth; less is better."""
    cost = sum((problem.plates[p.plate].cost for p in layout.plates), Fraction(0))
    return sum(layout.left), cost, len(layout.plates)
