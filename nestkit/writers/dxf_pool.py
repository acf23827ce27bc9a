"""Marks read from a file, found by their place and taken out one by one, so that none is counted twice."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Generic, TypeVar

from nestkit.errors import ToolFault
from nestkit.geometry.points import Point
from nestkit.writers.dxf_reader import Line, Loop, Ring, Stroke

TOLERANCE = 1e-5
"""Millimetres by which a place may differ."""

Item = TypeVar("Item", Loop, Ring, Line, Stroke)


class Pool(Generic[Item]):
    """Marks of a file, found by their place in mm and taken out one by one."""

    def __init__(self, items: Iterable[Item], place: Callable[[Item], Point], factor: float) -> None:
        self._cells: dict[tuple[int, int], list[tuple[Point, Item]]] = {}
        for item in items:
            raw = place(item)
            at = Point(raw.x * factor, raw.y * factor)
            self._cells.setdefault(self._cell(at), []).append((at, item))

    @staticmethod
    def _cell(p: Point) -> tuple[int, int]:
        return math.floor(p.x), math.floor(p.y)

    def take(self, at: Point, layer: str, what: str) -> Item:
        """Take out the mark of a layer that lies at a place, or fault."""
        column, row = self._cell(at)
        for i in (column - 1, column, column + 1):
            for j in (row - 1, row, row + 1):
                for index, (place, item) in enumerate(self._cells.get((i, j), ())):
                    if item.layer == layer and place.to(at) <= TOLERANCE:
                        del self._cells[i, j][index]
                        return item
        raise ToolFault(f"{what} is not at {at.x:.4f}, {at.y:.4f} mm on layer {layer}")

    def left(self) -> list[Item]:
        """Return the marks not taken yet."""
        return [item for cell in self._cells.values() for _, item in cell]
