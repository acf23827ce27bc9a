"""A job laid out: which copy of which panel lies where on which sheet, and what is proved."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.job.model import Group
from nestkit.layout.bars.result import BarsLayout
from nestkit.layout.proof import Bound
from nestkit.parts.panel import Panel
from nestkit.stock.keep_clear import KeepClear
from nestkit.stock.sheet import Sheet

Degrees = int | Fraction
"""A turn, exact: a whole number for quarter turns, any other with nine decimals at most."""


@dataclass(frozen=True, slots=True)
class PlacedPart:
    """One copy of a panel on a sheet.

    The outline, mirrored first when ``opposite_hand``, is turned counter-clockwise by ``turn``
    degrees, then moved so that the lower left of its box lies at ``x, y`` (exact mm).
    ``width`` and ``height`` are its box as it lies, rounded up where it lies at an angle. A copy that is
    ``held`` lies where the job says.
    """

    panel: Panel
    copy: int
    opposite_hand: bool
    x: Fraction
    y: Fraction
    turn: Degrees
    width: Fraction
    height: Fraction
    held: bool = False

    @property
    def turned_over(self) -> bool:
        """Say whether it lies with the other face up: as its faces are alike it is no opposite hand."""
        return self.opposite_hand and self.panel.faces == "alike"


@dataclass(frozen=True, slots=True)
class Cut:
    """One saw cut, in the sheet's frame, exact mm.

    Axis ``x`` cuts at x = ``at`` from y = ``start`` to ``end``, edge to edge of its piece; the strip
    from ``at`` to ``at`` + kerf is lost. ``piece`` is ``sheet``, or ``3a`` (left or lower) or ``3b`` of
    step 3. ``trim``: no part lies on one of its sides.
    """

    step: int
    piece: str
    axis: Literal["x", "y"]
    at: Fraction
    start: Fraction
    end: Fraction
    trim: bool


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle of sheet that is left, exact mm."""

    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction


@dataclass(frozen=True, slots=True)
class CutSheet:
    """One sheet as it will be cut. ``number`` counts from 1 per stock; ``cost`` is 0 on hand.

    Off a roll ``stock`` is the piece, as long as it has to be.
    """

    stock: Sheet
    number: int
    on_hand: bool
    cost: Fraction
    parts: tuple[PlacedPart, ...]
    offcuts: tuple[Offcut, ...]
    cuts: tuple[Cut, ...]

    @property
    def keep_clear(self) -> tuple[KeepClear, ...]:
        """The regions on which nothing may lie on this sheet."""
        return self.stock.clear_on(self.number)


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A copy that found no place, and why."""

    panel: Panel
    copy: int
    opposite_hand: bool
    why: str


@dataclass(frozen=True, slots=True)
class GroupLayout:
    """One group laid out. Bounds are None while a part is unplaced."""

    group: Group
    cost_in: Literal["price", "m2"]
    sheets: tuple[CutSheet, ...]
    unplaced: tuple[Unplaced, ...]
    cost: Fraction
    least_sheets: Bound | None
    least_cost: Bound | None
    engine: Literal["plain", "compiled"] = "plain"

    @property
    def proved(self) -> bool:
        """Say whether all parts are placed and no layout can cost less."""
        return not self.unplaced and self.least_cost is not None and self.cost == self.least_cost.value

    @property
    def yield_share(self) -> float:
        """Outline areas, holes filled, over full areas of the sheets used; 0 without a sheet."""
        full = sum(float(s.stock.width * s.stock.height) for s in self.sheets)
        return sum(p.panel.outline.area for s in self.sheets for p in s.parts) / full if full else 0.0


@dataclass(frozen=True, slots=True)
class JobLayout:
    """A whole job laid out: sheets in ``groups``, sticks in ``bars``."""

    groups: tuple[GroupLayout, ...]
    seed: int
    effort: str
    stopped: bool = False
    bars: tuple[BarsLayout, ...] = ()

    @property
    def every(self) -> tuple[GroupLayout | BarsLayout, ...]:
        """All groups, those of sheets first."""
        return *self.groups, *self.bars

    @property
    def complete(self) -> bool:
        """Say whether every part has a place."""
        return not any(laid.unplaced for laid in self.every)
