"""Sheets being filled: parts put one by one at the best place in the free room."""

from __future__ import annotations

from random import Random

from nestkit.layout.rects.cut_tree import CutTree
from nestkit.layout.rects.room import Place, Rectangle, best_place, places, without
from nestkit.layout.rects.space import Laid, Space

MANY = 12
"""From so many parts on a sheet on, a tree of its cuts is quicker than the test of all parts."""


class Filling:
    """One sheet while a solver fills it: its stock, what lies on it, the room that is left."""

    __slots__ = ("area", "laid", "room", "space", "stock", "taken", "tree")

    def __init__(self, space: Space, stock: int, laid: Laid | None = None) -> None:
        self.space = space
        self.stock = stock
        self.laid: Laid = []
        width, height = space.extent[stock]
        self.room: list[Rectangle] = [(0, 0, width, height)]
        self.taken: list[Rectangle] = []
        self.tree: CutTree | None = None
        self.area = 0
        for box, place in laid or ():
            self.put(box, place)

    @property
    def fill(self) -> float:
        """Share of the sheet's room that is taken."""
        return self.area / self.space.sheet_area[self.stock]

    def put(self, box: int, place: Place) -> None:
        """Lay a part at a place that is free."""
        x, y, w, h, _ = place
        self.laid.append((box, place))
        self.area += self.space.area[box]
        taken = (x, y, x + w, y + h)
        self.taken.append(taken)
        if self.tree is not None:
            self.tree.add(taken)
        self.room = without(self.room, taken, self.space.narrow, self.space.flat)

    def find(self, box: int, rule: int) -> tuple[int, Place] | None:
        """Return the best place for a part by a rule, with its score, or None."""
        sizes = self.space.sizes[self.stock][box]
        sawable = self.space.sawable
        if sawable is None or not self.laid:
            return best_place(self.room, sizes, rule)
        if self.tree is None and len(self.taken) >= MANY:
            self.tree = CutTree(self.taken, self.space.problem.depth, self.space.problem.first)
        for found in places(self.room, sizes, rule):
            x, y, w, h, _ = found[1]
            part = (x, y, x + w, y + h)
            if sawable([*self.taken, part]) if self.tree is None else self.tree.takes(part):
                return found
        return None


def fill(
    sheets: list[Filling],
    boxes: list[int],
    rule: int,
    spread: bool,
    weight: list[float] | None = None,
    limit: float = 0.0,
) -> list[int] | None:
    """Lay boxes in the order given and return those without a place.

    ``spread``: the best place over all sheets, else the first sheet with room. With ``weight`` the
    answer is None as soon as what is left out weighs more than ``limit``.
    """
    out: list[int] = []
    hopeless: set[int] = set()
    lost = 0.0
    for box in boxes:
        best: tuple[int, Place] | None = None
        if box not in hopeless:
            for sheet in sheets:
                found = sheet.find(box, rule)
                if found is not None and (best is None or found[0] < best[0]):
                    best, where = found, sheet
                    if not spread:
                        break
        if best is not None:
            where.put(box, best[1])
            continue
        # Room only shrinks: what did not fit once does not fit later.
        hopeless.add(box)
        out.append(box)
        if weight is not None:
            lost += weight[box]
            if lost > limit:
                return None
    return out


def sort_keys(space: Space) -> tuple[tuple[int, ...], ...]:
    """Return the measures by which parts may be put in order, one value a box each."""
    boxes = space.problem.boxes
    gap, step = space.problem.gap, space.step
    sides = [((b.width + gap) // step, (b.height + gap) // step) for b in boxes]
    return (
        tuple(w * h for w, h in sides),
        tuple(w for w, _ in sides),
        tuple(h for _, h in sides),
        tuple(max(w, h) for w, h in sides),
        tuple(w + h for w, h in sides),
        tuple(min(w, h) for w, h in sides),
    )


def in_order(boxes: list[int], key: tuple[int, ...], noise: float, rng: Random) -> list[int]:
    """Return boxes with the largest first, shaken by up to ``noise`` of their size."""
    if noise == 0:
        return sorted(boxes, key=lambda b: (-key[b], b))
    draw = rng.random
    shaken = [(-key[b] * (1 + noise * (2 * draw() - 1)), b) for b in boxes]
    shaken.sort()
    return [b for _, b in shaken]
