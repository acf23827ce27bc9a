"""Lengths laid out: which copy of which tube comes from which stick, and what is proved."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.job.model import BarGroup
from nestkit.layout.proof import Bound
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar


@dataclass(frozen=True, slots=True)
class PlacedTube:
    """One copy of a tube on a stick: it begins at ``start`` and takes ``length``, exact mm from end 0."""

    tube: Tube
    copy: int
    opposite_hand: bool
    start: Fraction
    length: Fraction


@dataclass(frozen=True, slots=True)
class CutStick:
    """One stick as it will be cut, its parts from end 0 on. ``number`` counts from 1 per stock.

    ``cost`` is 0 on hand. ``left`` is from the last part and the cut after it to the far trim, at least 0;
    ``kept`` says whether that is worth keeping.
    """

    stock: Bar
    number: int
    on_hand: bool
    cost: Fraction
    parts: tuple[PlacedTube, ...]
    left: Fraction
    kept: bool


@dataclass(frozen=True, slots=True)
class UnplacedTube:
    """A copy that found no place, and why."""

    tube: Tube
    copy: int
    opposite_hand: bool
    why: str


@dataclass(frozen=True, slots=True)
class BarsLayout:
    """One group of tubes and bars laid out. Bounds are None while a part is unplaced."""

    group: BarGroup
    cost_in: Literal["price", "m"]
    sticks: tuple[CutStick, ...]
    unplaced: tuple[UnplacedTube, ...]
    cost: Fraction
    least_sticks: Bound | None
    least_cost: Bound | None

    @property
    def proved(self) -> bool:
        """Say whether all parts are placed and no cut list can cost less."""
        return not self.unplaced and self.least_cost is not None and self.cost == self.least_cost.value
