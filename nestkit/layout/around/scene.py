"""A group with what is held and kept clear, as the solvers around it see it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import count
from math import inf

from nestkit.geometry.edge_to_edge import Box
from nestkit.job.model import Group, Hold
from nestkit.layout.build import Built, Copy, problem_of
from nestkit.layout.rects.room import Size
from nestkit.layout.result import PlacedPart
from nestkit.parts.lying import size_at
from nestkit.parts.panel import Panel
from nestkit.stock.kept_whole import AXES, cuts_free, sawn_regions
from nestkit.units import GRID_PER_MM

Number = tuple[str, int]
"""A sheet: the name of its stock, and its number there."""
HandKey = tuple[str, bool]
"""A panel's name and hand; with faces alike there is one hand."""


def hand_of(panel: Panel, opposite_hand: bool) -> HandKey:
    """Return the panel and hand that a copy counts as."""
    return panel.name, opposite_hand and panel.faces != "alike"


CopyKey = tuple[HandKey, int]
"""A copy: what it is one of, and its number."""


def copy_key(part: PlacedPart | Copy) -> CopyKey:
    """Return the copy that a part counts as, whichever hand is laid where there is one."""
    number = part.copy if isinstance(part, PlacedPart) else part.number
    return hand_of(part.panel, part.opposite_hand), number


def box_of(part: PlacedPart) -> Box:
    """Return a part's box in grid steps, rounded outwards."""
    low = [side * GRID_PER_MM for side in (part.x, part.y)]
    high = [side * GRID_PER_MM for side in (part.x + part.width, part.y + part.height)]
    left, bottom = (side.numerator // side.denominator for side in low)
    right, top = (-(-side.numerator // side.denominator) for side in high)
    return left, bottom, right, top


def held_part(hold: Hold, panel: Panel) -> PlacedPart:
    """Return a held copy in its place."""
    width, height = size_at(panel, hold.turn, opposite_hand=hold.opposite_hand)
    return PlacedPart(
        panel, hold.copy, hold.opposite_hand, hold.x, hold.y, hold.turn, width, height, held=True
    )


@dataclass(frozen=True)
class Scene:
    """A group, its problem without marks, and what is asked of each of its sheets by number.

    Of each stock those on hand have the first numbers. Boxes are in grid steps of the whole sheet.
    """

    group: Group

    @cached_property
    def built(self) -> Built:
        """The problem of boxes, and what its numbers mean."""
        return problem_of(self.group)

    @cached_property
    def held(self) -> dict[Number, tuple[PlacedPart, ...]]:
        """The held copies by the sheet that they lie on."""
        panels = {p.name: p for p in self.group.panels}
        found: dict[Number, list[PlacedPart]] = {}
        for hold in self.group.holds:
            found.setdefault((hold.sheet, hold.on), []).append(held_part(hold, panels[hold.panel]))
        return {number: tuple(parts) for number, parts in found.items()}

    @cached_property
    def special(self) -> dict[str, frozenset[int]]:
        """The numbers of each stock of which something of its own is asked."""
        found = {s.name: {r.on for r in s.keep_clear if r.on is not None} for s in self.group.sheets}
        for name, number in self.held:
            found[name].add(number)
        return {name: frozenset(numbers) for name, numbers in found.items()}

    def held_numbers(self, name: str) -> frozenset[int]:
        """Return the numbers of a stock on which copies are held."""
        return frozenset(number for stock, number in self.held if stock == name)

    def stock_of(self, name: str, number: int) -> int:
        """Return the stock of the problem that a sheet belongs to, on hand or to be bought."""
        for index, supply in enumerate(self.built.supplies):
            if supply.sheet.name == name and supply.on_hand is (number <= supply.sheet.on_hand):
                return index
        raise KeyError(name)

    def clear(self, name: str, number: int) -> list[Box]:
        """Return the boxes that are kept clear on a sheet: under a saw those that its cuts leave whole."""
        sheet = next(s for s in self.group.sheets if s.name == name)
        if self.built.problem.edge_to_edge:
            return sawn_regions(sheet, number, self.built.problem.kerf)
        return [box for region in sheet.clear_on(number) for box in region.covers()]

    @cached_property
    def sizes(self) -> tuple[tuple[tuple[Size, ...], ...], ...]:
        """For each stock and box the ways it may lie, grown by the gap; empty where it has no room."""
        problem = self.built.problem
        rows = []
        for index, stock in enumerate(problem.stocks):
            room = stock.usable
            ways = []
            for box in problem.boxes:
                found: dict[tuple[int, int], int] = {}
                for turn in box.turns[index]:
                    size = box.size(turn)
                    if size[0] <= room[0] and size[1] <= room[1]:
                        found.setdefault(size, turn)
                ways.append(tuple((w + problem.gap, h + problem.gap, t) for (w, h), t in found.items()))
            rows.append(tuple(ways))
        return tuple(rows)

    @cached_property
    def least(self) -> tuple[int, int]:
        """The least width and height of any part as it may lie, grown by the gap."""
        every = [size for rows in self.sizes for row in rows for size in row]
        return min((w for w, _, _ in every), default=1), min((h for _, h, _ in every), default=1)

    def sawable(self, parts: list[Box], clear: list[Box]) -> bool:
        """Say whether the cuts that are allowed free parts and leave whole what is kept clear."""
        problem = self.built.problem
        if not problem.edge_to_edge:
            return True
        depth = problem.stages or inf
        return cuts_free(parts, clear, problem.kerf, depth, AXES[problem.first])

    def copies_left(self, fixed: list[PlacedPart]) -> tuple[list[list[Copy]], list[list[Copy]]]:
        """Return the needed copies and the extras of each box that none of the fixed parts is."""
        taken = {copy_key(part) for part in fixed}
        needed, extras = [], []
        for box, copies in zip(self.built.problem.boxes, self.built.copies, strict=True):
            rows = copies[: box.quantity], copies[box.quantity :]
            kept = [[c for c in row if copy_key(c) not in taken] for row in rows]
            needed.append(kept[0])
            extras.append(kept[1])
        return needed, extras


class Rack:
    """The sheets that are not taken yet, each with its number: those that hold copies are taken."""

    def __init__(self, scene: Scene) -> None:
        """Begin with all sheets of a scene."""
        self._plain: dict[int, Iterator[int]] = {}
        self._next: dict[int, int | None] = {}
        self.clear_ones: dict[int, list[int]] = {}
        for index, supply in enumerate(scene.built.supplies):
            sheet = supply.sheet
            held, special = scene.held_numbers(sheet.name), scene.special[sheet.name]
            if supply.on_hand:
                # A sheet that is here may stay on the rack: it is only one of those there are.
                own = sorted(n for n in special - held if n <= sheet.on_hand)
                plain = iter([n for n in range(1, sheet.on_hand + 1) if n not in special])
            else:
                # Of those bought none is passed over: they are numbered as they are cut.
                own = []
                plain = (n for n in count(sheet.on_hand + 1) if n not in held)
            self.clear_ones[index] = own
            self._plain[index] = plain
            self._next[index] = next(plain, None)

    def offers(self) -> list[tuple[int, int]]:
        """Return the stocks with the number of each sheet that may come next."""
        found = []
        for index, number in self._next.items():
            if number is not None:
                found.append((index, number))
            found += [(index, own) for own in self.clear_ones[index]]
        return found

    def take_number(self, stock: int, number: int) -> None:
        """Take a sheet, and of those that come one after the other all before it."""
        while number not in self.clear_ones[stock]:
            at = self._next[stock]
            if at is None or at > number:
                return
            self.take(stock, at)
        self.take(stock, number)

    def take(self, stock: int, number: int) -> None:
        """Take one of those offered."""
        if number in self.clear_ones[stock]:
            self.clear_ones[stock].remove(number)
        else:
            self._next[stock] = next(self._plain[stock], None)
