"""What a layout solver is given: plain frozen integers that pickle, and nothing else.

All lengths are grid steps (``units.GRID_PER_MM`` to the millimetre), x right, y up, the sheet's
lower left at 0, 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import inf


@dataclass(frozen=True, slots=True)
class Hull:
    """What of its box a part surely fills, for bounds that true outlines cannot beat either.

    ``area`` in square grid steps, rounded down. ``cores`` are boxes (width, height) inside the part
    as it lies at turn 0, or of one that may lie at any angle the square inside it at every angle. Of such a
    part ``least`` is the least width of the box around it and ``longest`` a distance of two of its points;
    both are 0 where only turns of the box count.
    """

    area: int
    cores: tuple[tuple[int, int], ...] = ()
    least: int = 0
    longest: int = 0


@dataclass(frozen=True, slots=True)
class Box:
    """A kind of part, seen as the box around it. Size is net: neither kerf nor gap is in it.

    ``turns[s]`` are the turns in degrees (of 0, 90, 180, 270) in which it may lie on stock ``s``,
    the preferred first; empty where that stock's grain forbids it.

    A part that does not fill its box has a ``hull``, since others might lie in the rest of the box.
    """

    width: int
    height: int
    quantity: int
    turns: tuple[tuple[int, ...], ...]
    hull: Hull | None = None

    def size(self, turn: int) -> tuple[int, int]:
        """Return width and height as it lies after a turn."""
        return (self.height, self.width) if turn % 180 else (self.width, self.height)


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of sheet: full size, the border not used, how many there are, what one costs.

    ``count`` None means as many as wanted. What is on hand costs 0 and is a stock of its own.
    Of a ``roll`` one piece is cut off, of any length along y up to ``height``; a grid step of it costs
    ``cost``. ``name`` is what reasons in words call it; no solver looks at it.
    """

    width: int
    height: int
    left: int
    right: int
    bottom: int
    top: int
    count: int | None
    cost: Fraction
    roll: bool = False
    name: str = ""

    @property
    def usable(self) -> tuple[int, int]:
        """Width and height inside the border."""
        return self.width - self.left - self.right, self.height - self.bottom - self.top


@dataclass(frozen=True, slots=True)
class Problem:
    """Lay all boxes on as cheap, then as few sheets as can be.

    Boxes keep ``gap`` between each other. ``edge_to_edge``: only saw cuts, each ``kerf`` wide, in
    at most ``stages`` changes of direction (0: no limit), the first separating cut of a sheet
    running along ``first`` ("x", "y" or "any"). ``prefer`` breaks ties: "offcut" or "few cuts".
    ``extra[b]`` copies of box ``b`` are laid only where they change neither cost nor sheets.
    """

    boxes: tuple[Box, ...]
    stocks: tuple[Stock, ...]
    kerf: int
    gap: int
    edge_to_edge: bool = False
    stages: int = 0
    first: str = "any"
    prefer: str = "offcut"
    extra: tuple[int, ...] = ()

    @property
    def depth(self) -> float:
        """Most cutting directions in a row, infinite where there is no limit."""
        return self.stages if self.edge_to_edge and self.stages else inf

    @property
    def off_a_roll(self) -> bool:
        """Say whether the stock is goods off a roll; then all of it is."""
        return any(s.roll for s in self.stocks)

    def length_used(self, sheet: SheetLayout) -> int:
        """Return the length along y of a sheet, of a roll that of the piece that is cut off."""
        stock = self.stocks[sheet.stock]
        if not stock.roll:
            return stock.height
        tops = [p.y + self.boxes[p.box].size(p.turn)[1] for p in sheet.placed]
        return max(tops, default=stock.bottom) + stock.top

    def cost_of(self, sheet: SheetLayout) -> Fraction:
        """Return what a sheet costs."""
        stock = self.stocks[sheet.stock]
        return stock.cost * self.length_used(sheet) if stock.roll else stock.cost


@dataclass(frozen=True, slots=True, order=True)
class Placed:
    """A box on a sheet: its index, the lower left of it as it lies, and its turn in degrees."""

    y: int
    x: int
    box: int
    turn: int


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """One sheet: the index of its stock, and what lies on it in rising y, then x."""

    stock: int
    placed: tuple[Placed, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """Sheets with what lies on them, and how many of each box found no place."""

    sheets: tuple[SheetLayout, ...]
    left_over: tuple[int, ...]

    def cost(self, problem: Problem) -> Fraction:
        """Return what its sheets cost."""
        return sum((problem.cost_of(s) for s in self.sheets), Fraction(0))
