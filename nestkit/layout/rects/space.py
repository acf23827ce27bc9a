"""A layout problem as the rectangle solvers see it: grown by the gap, turned, in whole common steps."""

from __future__ import annotations

from dataclasses import dataclass
from math import gcd

from nestkit.layout.problem import Layout, Placed, Problem, SheetLayout
from nestkit.layout.rects.room import Place, Rectangle, Size
from nestkit.layout.rects.sawable import Test, saw_test
from nestkit.layout.stop import Score

Laid = list[tuple[int, Place]]
"""What lies on a sheet: box and place."""
Sheets = list[tuple[int, Laid]]
"""Sheets, each its stock and what lies on it."""


@dataclass(frozen=True, slots=True)
class Space:
    """A problem in steps of ``step`` grid steps.

    ``extent[s]`` is the room of stock ``s``, ``sheet_area[s]`` its area, and ``sizes[s][b]`` the ways in
    which box ``b`` fits it, all grown by the gap. ``area`` is a box's grown area, ``narrow`` and ``flat``
    the least width and height of any part as it may lie. ``sawable`` tests a sheet's parts, None where
    any path can be cut.
    """

    problem: Problem
    step: int
    extent: tuple[tuple[int, int], ...]
    sizes: tuple[tuple[tuple[Size, ...], ...], ...]
    sheet_area: tuple[int, ...]
    area: tuple[int, ...]
    narrow: int
    flat: int
    sawable: Test | None

    def sheet(self, stock: int, laid: Laid) -> SheetLayout:
        """Return what lies on a sheet in the problem's own frame and steps."""
        left, bottom = self.problem.stocks[stock].left, self.problem.stocks[stock].bottom
        placed = [
            Placed(bottom + y * self.step, left + x * self.step, box, turn)
            for box, (x, y, _, _, turn) in laid
        ]
        return SheetLayout(stock, tuple(sorted(placed)))

    def layout(self, sheets: Sheets) -> Layout:
        """Return a layout from sheets (stock and what lies there); what is missing is left over."""
        left = [b.quantity for b in self.problem.boxes]
        for _, laid in sheets:
            for box, _ in laid:
                left[box] -= 1
        return Layout(tuple(self.sheet(s, laid) for s, laid in sheets if laid), tuple(left))

    def laid(self, sheet: SheetLayout) -> Laid:
        """Return what lies on a sheet of a layout, in this space."""
        stock = self.problem.stocks[sheet.stock]
        laid = []
        for p in sheet.placed:
            w, h = self.problem.boxes[p.box].size(p.turn)
            x, y = (p.x - stock.left) // self.step, (p.y - stock.bottom) // self.step
            gap = self.problem.gap
            laid.append((p.box, (x, y, (w + gap) // self.step, (h + gap) // self.step, p.turn)))
        return laid


def rectangles(laid: Laid) -> list[Rectangle]:
    """Return the grown rectangles of what lies on a sheet."""
    return [(x, y, x + w, y + h) for _, (x, y, w, h, _) in laid]


def score_of(problem: Problem, layout: Layout) -> Score:
    """Return what a layout is worth: parts left over, cost, sheets."""
    return sum(layout.left_over), layout.cost(problem), len(layout.sheets)


def space_of(problem: Problem) -> Space:
    """Return a problem as the rectangle solvers see it."""
    gap = problem.gap
    # Parts packed against each other lie at sums of part sizes: the room of a sheet may be cut down
    # to the largest length that divides them all.
    step = gcd(*(n + gap for b in problem.boxes for n in (b.width, b.height))) or 1
    extent = []
    for stock in problem.stocks:
        width, height = stock.usable
        extent.append((max(0, (width + gap) // step), max(0, (height + gap) // step)))
    sizes = []
    for s, (room_w, room_h) in enumerate(extent):
        rows = []
        for box in problem.boxes:
            ways: dict[tuple[int, int], int] = {}
            for turn in box.turns[s]:
                w, h = ((n + gap) // step for n in box.size(turn))
                if w <= room_w and h <= room_h:
                    ways.setdefault((w, h), turn)
            rows.append(tuple((w, h, turn) for (w, h), turn in ways.items()))
        sizes.append(tuple(rows))
    area = tuple((b.width + gap) * (b.height + gap) // step**2 for b in problem.boxes)
    rooms = tuple(w * h for w, h in extent)
    every = [size for rows in sizes for row in rows for size in row]
    narrow = min((w for w, _, _ in every), default=1)
    flat = min((h for _, h, _ in every), default=1)
    test = saw_test(problem.depth, problem.first) if problem.edge_to_edge else None
    return Space(problem, step, tuple(extent), tuple(sizes), rooms, area, narrow, flat, test)
